"""The tables of dating facts and of former names: whole, as their source has them, and found by words."""

from __future__ import annotations

import csv
from importlib.resources import files
from pathlib import Path

import pytest

from solander.authorities.dating import dating_facts, facts_like, facts_near
from solander.authorities.former_names import former_names
from solander.core.dates import parse_edtf
from solander.core.evidence import evidence_of
from solander.core.prints import Print
from solander.core.statements import About, Says, Statement, Sure

STANDARDS = Path(__file__).parents[3] / "shared" / "standards"
OURS = {"bounds", "size_mm", "disputed"}
OURS_ALONE = "common knowledge, no source read"


def shared(name):
    path = STANDARDS / name
    if not path.exists():
        pytest.skip(f"the folder “shared” with {name} does not lie beside the project")
    return list(csv.DictReader(path.read_text(encoding="utf-8").splitlines()))


def table():
    text = files("solander.authorities").joinpath("dating_evidence.csv").read_text(encoding="utf-8")
    return list(csv.DictReader(text.splitlines()))


def test_the_table_is_that_of_its_source() -> None:
    rows = [{name: cell for name, cell in row.items() if name not in OURS} for row in table()]
    assert rows == shared("dating-evidence.csv")


def test_the_table_has_all_its_facts() -> None:
    assert list(dating_facts()) == [f"E{number:03d}" for number in range(1, 170)]


@pytest.mark.parametrize("ident", list(dating_facts()))
def test_every_fact_is_evidence_with_its_years_in_order(ident) -> None:
    seen = Statement("s", About.PRINT, "P-0001", Says.EVIDENCE, ident, ident, Sure.CERTAIN, "me", "")
    found = evidence_of([Print("P-0001", None, 1)], [seen], {}, facts=dating_facts())
    own = next(each for each in found if each.constraint.id == "s")
    fact = dating_facts()[ident]
    assert own.constraint.earliest == parse_edtf(fact.earliest).bounds().earliest
    assert own.soft is not (fact.confidence == "high" and fact.from_memory == "no" and not fact.disputed)
    assert own.reason.sentence.startswith(f"{fact.named}: in use")
    assert fact.named.endswith(fact.words)
    assert own.reason.source == f"{fact.cited}; seen: me"
    assert own.weight.peak_from >= own.weight.earliest
    assert own.reason.bounds_printing is (fact.bounds == "printing")


def test_what_is_said_from_memory_says_so() -> None:
    assert dating_facts()["E149"].source == "common knowledge, no source read"
    assert dating_facts()["E124"].source.endswith("partly common knowledge, no source read")
    assert dating_facts()["E012"].source.startswith("Weaver and Long")


def test_a_source_behind_a_sentence_is_short() -> None:
    assert dating_facts()["E124"].cited == "A. Krentz, thesis, 2014, partly common knowledge"
    assert dating_facts()["E149"].cited == "common knowledge"
    assert all(0 < len(fact.cited) <= 60 for fact in dating_facts().values())
    assert {name.cited for name in former_names()} == {"GeoNames; years from memory", "common knowledge"}


INCH = 25.4


@pytest.mark.parametrize(
    ("ident", "inches"),
    [("E123", (3.5, 3.5)), ("E128", (2.5, 4.25)), ("E129", (3.25, 5.5)), ("E135", (3.5, 4.5)), ("E163", (4, 6))],
)
def test_sizes_are_those_that_the_words_name(ident, inches) -> None:
    (size,) = dating_facts()[ident].sizes_mm
    assert size == pytest.approx([side * INCH for side in inches], abs=0.06)


@pytest.mark.parametrize(
    ("words", "idents"),
    [
        ("E124", ["E124"]),
        (" e124 ", ["E124"]),
        ("deckle edge", ["E124"]),
        ("deckled edges", ["E124"]),
        ("Polyester base, glossy", ["E019"]),
        ("cabinet card", ["E028"]),
        ("cabinet card, scalloped edges", ["E063"]),
        ("cdv, rounded corners", ["E045"]),
        ("tintype", ["E003"]),
        ("ferrotype", ["E003"]),
        ("gem size tintype", ["E043"]),
        ("AZO four triangles up", ["E077"]),
        ("divided back UK", ["E110"]),
        ("50-star flag", ["E141"]),
        ("color snapshot", ["E013"]),
        ("carte de visite", ["E026", "E027"]),
        ("AZO", [f"E{number:03d}" for number in range(77, 83)]),
        ("zigzag edge", ["E124"]),
        ("zig-zag edges", ["E124"]),
        ("wavy edge", ["E124"]),
        ("serrated edge", ["E124"]),
        ("Büttenrand", ["E124"]),
        ("square 126 print", ["E133"]),
        ("old deckle edge photograph", ["E124"]),
        ("real photo postcard, two stars", ["E084"]),
        ("scalloped edge cabinet card", ["E063"]),
        ("scalloped edges", []),
        ("purple spots", []),
        ("photograph", []),
        ("deckle edge purple", []),
        ("the", []),
        ("", []),
        ("E999", []),
    ],
)
def test_facts_are_found_by_what_people_write(words, idents) -> None:
    assert [fact.id for fact in facts_like(words)] == idents


@pytest.mark.parametrize(("words", "group"), [("color", "process"), ("real photo postcard", "postcard")])
def test_words_that_many_facts_have_lead_to_them(words, group) -> None:
    found = facts_like(words)
    assert len(found) > 5
    assert group in {fact.group for fact in found}


@pytest.mark.parametrize(
    ("words", "first"),
    [
        ("scalloped edge", "E063"),
        ("deckle edge purple", "E124"),
        ("dekle edge", "E124"),
        ("cyanotipe", "E144"),
        ("polyestre paper", "E019"),
        ("round corner cdv", "E045"),
    ],
)
def test_the_nearest_facts_are_offered_where_none_fits(words, first) -> None:
    assert facts_like(words) == ()
    assert facts_near(words)[0].id == first
    assert facts_near(words, most=1) == facts_near(words)[:1]


@pytest.mark.parametrize("words", ["unicorn", "the", "", "old photograph"])
def test_nothing_is_near_words_that_share_nothing(words) -> None:
    assert facts_near(words) == ()


def test_every_fact_is_found_by_its_own_words() -> None:
    for fact in dating_facts().values():
        mount = fact.group if fact.group in ("cdv", "cabinet", "tintype") else ""
        assert fact in facts_like(f"{fact.words} {mount}")


def test_former_names_are_those_of_the_place_cases() -> None:
    """All with years, but for one that is a slip of the pen: that is for finding a place, and no name."""
    dated = [row for row in shared("place-cases.csv") if row["valid_from"] or row["valid_to"]]
    cases = [row for row in dated if not row["kind"].startswith("typo")]
    from_cases = [name for name in former_names() if name.source.startswith("GeoNames")]
    assert [(name.name, name.now, name.valid_from, name.valid_to, name.source) for name in from_cases] == [
        (row["phrase"], row["expected_name"], row["valid_from"], row["valid_to"], row["source"]) for row in cases
    ]


def test_leningrad_is_among_them() -> None:
    leningrad = next(name for name in former_names() if name.name == "Leningrad")
    assert (leningrad.now, leningrad.valid_from, leningrad.valid_to) == ("Saint Petersburg", "1924", "1991")
    assert not leningrad.still_said


@pytest.mark.parametrize(
    ("called", "now", "ended"),
    [
        ("Breslau", "Wrocław", "1945"),
        ("Königsberg", "Kaliningrad", "1946"),
        ("Karl-Marx-Stadt", "Chemnitz", "1990"),
        ("Kristiania", "Oslo", "1924"),
        ("Ceylon", "Sri Lanka", "1972"),
    ],
)
def test_well_known_names_are_among_them_from_common_knowledge(called, now, ended) -> None:
    (name,) = (name for name in former_names() if name.name == called)
    assert (name.now, name.valid_to, name.source) == (now, ended, OURS_ALONE)


def test_no_name_is_there_twice_and_all_years_are_in_order() -> None:
    names = [name.name.lower() for name in former_names()]
    assert len(set(names)) == len(names)
    assert all(
        name.valid_to and (not name.valid_from or name.valid_from < name.valid_to) for name in former_names()
    )


def test_batavia_in_new_york_is_no_former_name() -> None:
    written = Statement(
        "w", About.PRINT, "P-0001", Says.CAPTION, "Batavia, NY", "Batavia, NY", Sure.CERTAIN, "me", ""
    )
    found = evidence_of([Print("P-0001", None, 1)], [written], {}, former_names=former_names())
    assert all(not each.constraint.id.startswith("w ") for each in found)
