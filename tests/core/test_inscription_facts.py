"""Facts out of words: proposed, never more than the words say, and the paper's kept apart from the picture's."""

from __future__ import annotations

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from solander.core.inscriptions import (
    Block,
    Fact,
    FactKind,
    Line,
    Lookups,
    Word,
    blocks_of,
    border_date,
    facts_of,
    print_number,
)
from solander.core.phrases import read_date
from solander.core.statements import Sure

NAMES = frozenset(["nan", "bill", "ada", "fred", "elsie", "may", "walter", "florence", "ada-may"])
KNOWN = Lookups(
    lambda phrase: read_date(phrase, today=date(2026, 11, 26)),
    is_given_name=lambda word: word.casefold() in NAMES,
    is_kin=lambda word: word in {"Aunt", "Uncle"},
    is_place=lambda words: words in {"Skegness", "Bournemouth", "Florence", "Leeds", "LEEDS"},
    paper=lambda words: {"CYKO": "E087"}.get(words, ""),
)


def line(
    text: str,
    row: int = 0,
    *,
    sure: float = 0.95,
    also: str = "",
    ink: tuple[int, int, int] = (40, 40, 60),
    height: int = 20,
) -> Line:
    """A line across, 30 pixels below the one before."""
    right, top = 10.0 * len(text), 30.0 * row
    corners = ((0.0, top), (right, top), (right, top + height), (0.0, top + height))
    return Line(tuple(Word(word, sure) for word in text.split()), corners, sure, also, not also, ink)


def told(*texts: str) -> set[tuple[str, str]]:
    facts = facts_of([line(text, row) for row, text in enumerate(texts)], KNOWN)
    return {(fact.kind.value, fact.value) for fact in facts}


@pytest.mark.parametrize(
    ("texts", "facts"),
    [
        (
            ("Nan and Bill", "Skegness, August 1952"),
            {
                ("person", "Nan"),
                ("person", "Bill"),
                ("together", "Nan + Bill"),
                ("place", "Skegness"),
                ("date", "1952-08"),
            },
        ),
        (("Ada1965",), {("person", "Ada"), ("date", "1965")}),
        (("March1g65",), {("date", "1965-03")}),
        (("Aunt May at Bournemouth",), {("person", "Aunt May"), ("place", "Bournemouth")}),
        (("Florence 1931",), {("person", "Florence"), ("date", "1931")}),
        (("In Florence, June 1955",), {("place", "Florence"), ("date", "1955-06")}),
        (("On the beach",), set()),
        (("Bill with his Kodak, 1951",), {("person", "Bill"), ("date", "1951")}),
        (("Ada-May O'Brien, 1951",), {("person", "Ada-May O'Brien"), ("date", "1951")}),
        (("15 8 1953",), set()),  # not 1915
        (("Photographed at Skegness",), {("place", "Skegness")}),
        (("No. 1934",), {("number", "1934")}),
        (("14 High Street, Leeds",), {("address", "14 High Street")}),
        (
            ("Photo Atelier Müller", "Hauptstraße 12"),
            {("studio", "Photo Atelier Müller"), ("address", "Hauptstraße 12")},
        ),
        (("CYKO",), {("paper", "E087")}),
    ],
)
def test_facts(texts: tuple[str, ...], facts: set[tuple[str, str]]) -> None:
    assert told(*texts) == facts


@pytest.mark.parametrize(
    ("texts", "value"),
    [
        (("PROCESSED BY", "HARBOUR PHOTO WORKS", "JUN 1964"), "1964-06"),
        (("Week ending", "AUG 5 1961"), "[1961-07-30..1961-08-05]"),
        (("Entw. 12.8.1963",), "1963-08-12"),
        (("MADE IN LEEDS 1951",), "1951"),
        (("Agfa", "1951"), "1951"),
        (("THIS IS A KODACOLOR PRINT", "Week of July 5, 1958"), "[1958-07-05..1958-07-11]"),
    ],
)
def test_a_laboratorys_date_binds_the_printing_only(texts: tuple[str, ...], value: str) -> None:
    """The rule is that of docs/architecture.md and of the table of evidence, E121: the processing week is not the
    exposure."""
    facts = told(*texts)
    assert ("printing", value) in facts
    assert not {kind for kind, _ in facts} & {"date", "person", "place"}


def test_a_note_beside_a_stamp_is_no_part_of_it() -> None:
    lines = [
        line("Nan at Skegness 1951", 0, height=24),
        line("PROCESSED BY HARBOUR LABS", 1, ink=(190, 60, 90)),
        line("MAY 1952", 2, ink=(190, 60, 90)),
    ]
    facts = {(fact.kind.value, fact.value) for fact in facts_of(lines, KNOWN)}
    assert {("date", "1951"), ("printing", "1952-05"), ("person", "Nan"), ("place", "Skegness")} <= facts


def test_figures_that_two_looks_read_differently_date_nothing() -> None:
    doubtful = line("Skegness 1952", also="Skegness 1962")
    assert [fact.kind.value for fact in facts_of([doubtful], KNOWN)] == ["place"]


def test_badly_read_words_propose_nothing_and_doubtful_ones_a_guess() -> None:
    assert facts_of([line("Nan 1952", sure=0.6)], KNOWN) == ()
    guesses = facts_of([line("Nan 1952", sure=0.8, also="Nam 1952")], KNOWN)
    assert {fact.sure for fact in guesses} == {Sure.GUESS}


def test_a_fact_tells_its_line_and_what_was_ignored() -> None:
    (place, fact) = sorted(
        facts_of([line("x", sure=0.1), line("our tent, Skegness 1952", 1)], KNOWN), key=str, reverse=True
    )
    assert isinstance(fact, Fact)
    assert (place.value, place.line, place.words) == ("Skegness", 1, "our tent, Skegness 1952")
    assert place.ignored == ("our", "tent,", "1952")
    assert fact.ignored == ("our", "tent", "Skegness")


@pytest.mark.parametrize(
    ("text", "used"),
    [
        ("Nan Kershaw, Skegness, August 1952", "August 1952"),
        ("Ada1965", "1965"),
        ("Hut 8, 18 May 1958", "18 May 1958"),
        ("Aug. 1952", "Aug. 1952"),
    ],
)
def test_the_reason_of_a_date_is_its_own_words(text: str, used: str) -> None:
    (date,) = (fact for fact in facts_of([line(text)], KNOWN) if fact.kind is FactKind.DATE)
    assert date.used == used


def test_what_repeats_is_the_papers() -> None:
    known = Lookups(KNOWN.date, paper=lambda words: "E159" if "diagonal" in words else "")
    facts = facts_of([], known, repeated=[line("NORDA PAPER"), line("NORDA PAPEH", 1), line("NORDA PAPER", 2)])
    assert [(fact.kind.value, fact.value, fact.words) for fact in facts] == [("paper", "E159", "NORDA PAPER")]


@given(st.text(max_size=60))
def test_any_words_give_facts_of_their_own_words(text: str) -> None:
    for fact in facts_of([line(text or "x")], KNOWN):
        assert fact.line == 0
        assert fact.value


def test_lines_part_by_ink_angle_and_height() -> None:
    pen, below = line("Nan and Bill", 0), line("at the sea", 1)
    stamp = line("JUN 1964", 2, ink=(200, 40, 60))
    assert blocks_of([pen, below, stamp]) == (Block((0, 1)), Block((2,)))
    assert blocks_of([pen, line("at the sea", 1, height=50)]) == (Block((0,)), Block((1,)))


@pytest.mark.parametrize(
    ("text", "edtf", "exact"),
    [
        ("JUL . 63", "1963-07", True),
        ("AUG • 71", "1971-08", True),
        ("• FEB · 59 •", "1959-02", True),
        ("J A N 6 4", "1964-01", True),
        ("0CT • 5B", "1958-10", False),
        ("N0V.66", "1966-11", False),
        ("SEP 7I", "1971-09", False),
        ("MAI 58", "1958-05", True),
    ],
)
def test_border_dates_are_snapped(text: str, edtf: str, exact: bool) -> None:
    """The forms of the first three are common practice of laboratories, no source; misreadings are made up."""
    date_read = border_date(text)
    assert date_read is not None
    assert (date_read.edtf, date_read.exact) == (edtf, exact)


@pytest.mark.parametrize(
    "text", ["JUI 63", "JUW 63", "23", "23A", "JUL", "63", "", "THE 63RD", "JUL 63 AUG 64", "JUL 12"]
)
def test_what_may_be_two_dates_or_none_is_none(text: str) -> None:
    assert border_date(text) is None


@pytest.mark.parametrize(
    ("text", "number"), [("23", "23"), ("23A", "23A"), ("No. 14", "14"), ("JUL 63", ""), ("", "")]
)
def test_numbers_that_stand_alone(text: str, number: str) -> None:
    assert print_number(text) == number
