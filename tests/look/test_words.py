from __future__ import annotations

import pytest
from attrs import evolve
from drawn_box import described_prints

from solander.core.descriptions import PersonShown, Reason, When
from solander.core.people import Person
from solander.core.places import Place
from solander.core.prints import Side
from solander.core.statements import Sure
from solander.look import words


def when(said: str, sure: Sure, *, stated: bool = True) -> When:
    return When("1958-22", said, "1958-06-01", "1958-08-31", "1958-07-16", sure, stated)


def test_slip_is_one_sentence_with_its_unsure_parts_in_words():
    box = described_prints()
    assert words.slip_words(evolve(box[8], people=(
        PersonShown(Person("Ingrid"), Sure.CERTAIN, "31"),
        PersonShown(Person("Nils"), Sure.CERTAIN, "28"),
    ), place=Place("Bergen"))) == "Summer 1958, likely · Bergen · Ingrid (31) and Nils (28)"  # fmt: skip


@pytest.mark.parametrize(
    ("given", "expected"),
    [
        (when("summer 1958", Sure.CERTAIN), "Summer 1958"),
        (when("summer 1958", Sure.GUESS), "Summer 1958, a guess"),
        (when("perhaps 1941", Sure.GUESS), "Perhaps 1941"),
        (when("between 1934 and 1939", Sure.LIKELY, stated=False), "Between 1934 and 1939"),
        (when("between 1934 and 1939", Sure.GUESS, stated=False), "Perhaps between 1934 and 1939"),
        (when("", Sure.GUESS, stated=False), "No date yet"),
    ],
)
def test_dates_say_how_sure_only_when_somebody_stated_them(given: When, expected: str):
    assert words.date_words(given) == expected


@pytest.mark.parametrize(
    ("edtf", "possible", "expected"),
    [
        ("[..1939-08]", ("1932-12-01", "1939-08-31"), "By other evidence between 1932 and 1939"),
        ("[1950..]", ("1950-01-01", "1973-12-31"), "By other evidence between 1950 and 1973"),
        ("195X", ("1950-01-01", "1953-05-02"), "By other evidence between 1950 and 1953"),
        ("195X", ("1950-01-01", "1959-06-30"), ""),  # hardly narrower
        ("1958-22", ("1958-06-01", "1958-07-01"), ""),  # a season is told as it is
        ("[..1939-08]", (None, "1939-08-31"), ""),
    ],
)
def test_a_stated_date_that_other_evidence_narrows_says_so(edtf: str, possible, expected: str):
    told = When(edtf, "said so", possible[0], possible[1], None, Sure.CERTAIN, True)
    assert words.likely_words(told) == expected


def test_what_makes_it_likely_is_named():
    told = When(
        "", "", None, None, "1933-01-01", Sure.GUESS, False, likely=("1930-01-01", "1936-12-31"),
        likely_why="as its neighbours are",
    )  # fmt: skip
    assert words.likely_words(told) == "Most likely between 1930 and 1936, as its neighbours are"


@pytest.mark.parametrize(
    ("given", "likely", "expected"),
    [
        (when("between 1908 and 1959", Sure.LIKELY, stated=False), ("1954-01-01", "1959-12-31"), True),
        (when("between 1908 and 1959", Sure.LIKELY, stated=False), ("1909-01-01", "1958-12-31"), False),
        (when("between 1908 and 1959", Sure.LIKELY, stated=True), ("1954-01-01", "1959-12-31"), True),
        (when("", Sure.GUESS, stated=False), ("1954-01-01", "1959-12-31"), True),
        (when("", Sure.GUESS, stated=False), None, False),
    ],
)
def test_what_is_likely_is_told_where_it_says_clearly_more(given: When, likely, expected: bool):
    bounds = (
        {"earliest": "1908-01-01", "latest": "1959-12-31"} if given.words else {"earliest": None, "latest": None}
    )
    told = evolve(given, likely=likely, **bounds)
    assert words.likely_words(told) == ("Most likely between 1954 and 1959" if expected else "")
    date = words.date_words(told)
    assert words.when_words(told) == (f"{date}. Most likely between 1954 and 1959" if expected else date)


def test_unsure_places_and_people_carry_the_word_before_them():
    assert words.place_words(Place("Bergen"), Sure.GUESS) == "perhaps Bergen"
    assert words.person_words(PersonShown(Person("Nils"), Sure.LIKELY)) == "likely Nils"


@pytest.mark.parametrize(
    ("parts", "expected"), [([], ""), (["A"], "A"), (["A", "B"], "A and B"), (["A", "B", "C"], "A, B and C")]
)
def test_lists_are_joined_as_they_are_spoken(parts: list[str], expected: str):
    assert words.joined(parts) == expected


def test_a_reason_about_the_paper_says_so_with_its_source():
    reason = Reason("paper of this kind was sold from 1968", "list of papers", Sure.LIKELY, bounds_printing=True)
    assert words.reason_words(reason) == "Paper of this kind was sold from 1968"
    assert words.source_words(reason) == "list of papers · printing, likely"
    assert words.source_words(evolve(reason, bounds_printing=False, sure=Sure.CERTAIN)) == "list of papers"


@pytest.mark.parametrize(
    ("born", "died", "expected"),
    [
        ("1899", "1971-11", "1899–1971"),
        ("[1903..1905]", "1988?", "1903–1988"),
        ("189X", "1950", "189X–1950"),
        ("", "1950", "?–1950"),
        ("1927", "", ""),
    ],
)
def test_years_of_life_are_told_only_of_the_dead(born: str, died: str, expected: str):
    assert words.life_words(born, died) == expected


def test_pictures_are_described_by_caption_or_slip_and_side():
    box = described_prints()
    told = {one.order: [words.picture_words(one, view) for view in one.print.views] for one in box}
    assert told[9] == ["Waiting for the ferry", "Back of the print: “Sommeren 58. Ferjen kom ikke.”"]
    assert told[10] == ["Summer 1958, likely · Vessholm · Nils Sollihøgda (28)"]


def test_an_edge_is_unsure_until_a_person_checked_it():
    view = described_prints()[5].print.view(Side.RECTO)
    assert view is not None
    assert words.edge_unsure(view)
    assert not words.edge_unsure(evolve(view, outline=evolve(view.outline, checked=True)))


def test_paper_size_is_in_whole_millimetres_or_not_told():
    view = described_prints()[8].print.views[0]
    assert words.paper_words(view) == "128 × 89 mm (3½ × 5 in)"
    assert words.paper_words(evolve(view, ppi=None)) == ""


def test_numbers_come_with_their_noun():
    assert [words.counted(n, "print") for n in (0, 1, 1204)] == ["0 prints", "1 print", "1,204 prints"]
    assert words.counted(2, "story", "stories") == "2 stories"
