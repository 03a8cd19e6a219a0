"""The tables of dating facts and of former names: whole, as their source has them, and found by words."""

from __future__ import annotations

import csv
from importlib.resources import files
from pathlib import Path

import pytest

from solander.authorities.dating import dating_facts, facts_like
from solander.authorities.former_names import former_names
from solander.core.dates import parse_edtf
from solander.core.evidence import evidence_of
from solander.core.prints import Print
from solander.core.statements import About, Says, Statement, Sure

STANDARDS = Path(__file__).parents[3] / "shared" / "standards"
OURS = {"bounds", "size_mm", "disputed"}


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
    assert own.reason.sentence.startswith(fact.words)
    assert own.reason.source == f"{fact.source}; seen: me"
    assert own.weight.peak_from >= own.weight.earliest
    assert own.reason.bounds_printing is (fact.bounds == "printing")


def test_what_is_said_from_memory_says_so() -> None:
    assert dating_facts()["E149"].source == "common knowledge, no source read"
    assert dating_facts()["E124"].source.endswith("partly common knowledge, no source read")
    assert dating_facts()["E012"].source.startswith("Weaver and Long")


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
        ("scalloped edges", []),
        ("purple spots", []),
        ("deckle edge purple", []),
        ("the", []),
        ("", []),
        ("E999", []),
    ],
)
def test_facts_are_found_by_what_people_write(words, idents) -> None:
    assert [fact.id for fact in facts_like(words)] == idents


def test_every_fact_is_found_by_its_own_words() -> None:
    for fact in dating_facts().values():
        mount = fact.group if fact.group in ("cdv", "cabinet", "tintype") else ""
        assert fact in facts_like(f"{fact.words} {mount}")


def test_former_names_are_those_of_the_place_cases() -> None:
    """All with years, but for one that is a slip of the pen: that is for finding a place, and no name."""
    dated = [row for row in shared("place-cases.csv") if row["valid_from"] or row["valid_to"]]
    cases = [row for row in dated if not row["kind"].startswith("typo")]
    assert [(name.name, name.now, name.valid_from, name.valid_to, name.source) for name in former_names()] == [
        (row["phrase"], row["expected_name"], row["valid_from"], row["valid_to"], row["source"]) for row in cases
    ]


def test_leningrad_is_among_them() -> None:
    leningrad = next(name for name in former_names() if name.name == "Leningrad")
    assert (leningrad.now, leningrad.valid_from, leningrad.valid_to) == ("Saint Petersburg", "1924", "1991")
    assert not leningrad.still_said
