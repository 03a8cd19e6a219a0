"""The next question in words: short, plain, and nothing in it that was not passed in."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from solander.core.chronology.next_question import Asked
from solander.core.chronology.question_words import (
    LONGEST,
    Facts,
    Hook,
    Sitter,
    gain_words,
    hook_of,
    prints_words,
    question_words,
)
from solander.core.days import day

MOVE = Hook("the move to Lindenhof", 1934, 1934)
WAR = Hook("the war", 1939, 1945)


def worth(
    *, others: int = 17, years: tuple[int | None, int | None] = (1931, 1938), gain: float = 63.2, prints: int = 18
) -> Asked:
    narrowed = tuple(f"p{number}" for number in range(others))
    first, last = years
    days = (None if first is None else day(first, 1, 1), None if last is None else day(last, 12, 31))
    return Asked("thing", gain, gain, 4.0, narrowed, prints, days)


def sitter(name: str, born: int | None = None) -> Sitter:
    return Sitter(name, None if born is None else (day(born, 1, 1), day(born, 12, 31)))


HARVEST = Facts(occasion="Harvest at the Lindens", where="box B2, prints 14 to 31")


@pytest.mark.parametrize(
    ("asked", "facts", "said"),
    [
        (
            worth(),
            HARVEST,
            "Who remembers in which year “Harvest at the Lindens” (box B2, prints 14 to 31) was?"
            " It may be any year from 1931 to 1938. An answer helps to date 17 more.",
        ),
        (
            worth(others=1, years=(1931, 1932)),
            Facts(accession="B2-0014", caption="Nan on the swing", people=(sitter("Nan", 1929),)),
            "Who remembers in which year “Nan on the swing” (B2-0014) was taken? It was 1931 or 1932."
            " How old was Nan then? An answer helps to date 1 more.",
        ),
        (
            worth(others=0, years=(1926, 1938)),
            Facts(accession="B2-0014", people=(sitter("Ingrid", 1924), sitter("Otto", 1890)), place="Kirchdorf"),
            "Who remembers in which year the picture of Ingrid and Otto (Kirchdorf, B2-0014) was taken?"
            " It may be any year from 1926 to 1938. Was Ingrid nearer 1 or 14 then?",
        ),
        (
            worth(others=0, years=(None, 1938)),
            Facts(accession="B2-0014", follows="Christmas at the mill"),
            "Who remembers in which year the picture that lies after “Christmas at the mill” (B2-0014) was taken?"
            " It was 1938 at the latest.",
        ),
        (
            worth(others=0, years=(1930, None)),
            Facts(accession="B2-0014", place="Kirchdorf", hooks=(MOVE,)),
            "Who remembers in which year the picture from Kirchdorf (B2-0014) was taken?"
            " It was 1930 at the earliest. Was it before or after the move to Lindenhof?",
        ),
        (
            worth(others=0, years=(None, None)),
            Facts(accession="P-0001", people=(sitter("Otto", None),), occasion="Easter"),
            "Who remembers in which year the picture of Otto at “Easter” (P-0001) was taken?"
            " So far nothing tells when.",
        ),
    ],
)
def test_question(asked: Asked, facts: Facts, said: str) -> None:
    assert question_words(asked, facts) == said


def test_event_nearest_the_middle_of_the_years_is_the_hook() -> None:
    facts = Facts(accession="P-0001", hooks=(MOVE, WAR))
    assert "after the war?" in question_words(worth(years=(1930, 1950)), facts)
    assert "after the move to Lindenhof?" in question_words(worth(years=(1930, 1938)), facts)


def test_event_of_the_same_people_is_the_hook_before_one_nearer_the_middle() -> None:
    wedding = Hook("the wedding", 1946, 1946, near=True)
    asked = worth(years=(1930, 1950))
    assert hook_of(asked, Facts(accession="P-0001", hooks=(MOVE, WAR, wedding))) == wedding
    assert "after the wedding?" in question_words(asked, Facts(accession="P-0001", hooks=(MOVE, WAR, wedding)))


def test_there_is_no_hook_where_a_childs_age_is_asked() -> None:
    asked, ida = worth(years=(1930, 1938)), sitter("Ida", 1930)
    assert hook_of(asked, Facts(accession="P-0001", hooks=(MOVE,), people=(ida,))) is None


@pytest.mark.parametrize(
    ("facts", "years", "picture"),
    [
        (Facts(where="B1/E2, number 28"), (None, None), "the undated picture in B1/E2, number 28 was taken?"),
        (Facts(where="B1/E2, number 28"), (1931, 1938), "the picture in B1/E2, number 28 was taken?"),
        (Facts(where="B1", place="Kirchdorf", follows="Easter"), (None, None), "the picture from Kirchdorf was"),
        (Facts(where="B1", follows="Easter"), (None, None), "the undated picture that lies after “Easter” was"),
    ],
)
def test_a_picture_without_a_caption_is_found_again(
    facts: Facts, years: tuple[int | None, int | None], picture: str
) -> None:
    assert f"in which year {picture}" in question_words(worth(years=years), facts)


@pytest.mark.parametrize(
    ("years", "said"),
    [
        ((None, 1973), "It was probably 1973 at the latest."),
        ((1973, None), "It was probably 1973 at the earliest."),
        ((1973, 1974), "It was probably 1973 or 1974."),
        ((1950, 1973), "It was probably between 1950 and 1973."),
        ((None, None), "So far nothing tells when."),
    ],
)
def test_years_by_a_rule_of_thumb_are_told_as_probable(years: tuple[int | None, int | None], said: str) -> None:
    assert said in question_words(worth(years=years), Facts(accession="P-0001", probably=True))


def test_ages_lie_within_the_days_that_are_possible() -> None:
    """Born in December, photographed until the spring before her eighth birthday: 7 at most, 4 at least."""
    ida = Sitter("Ida", (day(1930, 12, 3), day(1930, 12, 3)))
    asked = Asked("p", 3, 3, 3, (), 1, (day(1935, 6, 1), day(1938, 4, 30)))
    assert "Was Ida nearer 4 or 7 then?" in question_words(asked, Facts(accession="P-0001", people=(ida,)))


@pytest.mark.parametrize("years", [(1934, 1938), (1925, 1934), (1940, 1960)])
def test_event_that_decides_nothing_is_no_hook(years: tuple[int, int]) -> None:
    assert "before or after" not in question_words(worth(years=years), Facts(accession="P-0001", hooks=(MOVE,)))


@pytest.mark.parametrize(
    ("born", "years", "asks"),
    [
        (1930, (1930, 1938), "Was Ida a baby then, or nearer 8?"),
        (1920, (1931, 1938), "Was Ida nearer 10 or 18 then?"),
        (1930, (None, 1938), "How old was Ida then?"),
        (1930, (1930, 1975), "How old was Ida then?"),
        (1930, (1936, 1938), "Was Ida nearer 5 or 8 then?"),
        (1930, (1937, 1938), "How old was Ida then?"),
        (1900, (1931, 1938), None),
        (1939, (1931, 1938), None),
        (None, (1931, 1938), None),
    ],
)
def test_age_of_a_child_is_the_hook(
    born: int | None, years: tuple[int | None, int | None], asks: str | None
) -> None:
    said = question_words(worth(years=years), Facts(accession="P-0001", people=(sitter("Ida", born),)))
    assert (asks in said) if asks else ("Ida " not in said.partition("?")[2])


text = st.one_of(st.sampled_from(["", " ", "Nan", "a word " * 20, "x" * 99]), st.text(max_size=9))
year = st.none() | st.integers(1800, 2100)


@given(
    facts=st.builds(
        Facts,
        accession=text,
        occasion=text,
        caption=text,
        place=text,
        where=text,
        follows=text,
        probably=st.booleans(),
        people=st.lists(st.builds(sitter, text, year), max_size=4).map(tuple),
        hooks=st.lists(st.builds(Hook, text, st.just(1930), st.just(1931)), max_size=2).map(tuple),
    ),
    others=st.integers(0, 3000),
    years=st.tuples(year, year).filter(lambda both: None in both or both[0] <= both[1]),
)
def test_question_is_short_whatever_the_facts(
    facts: Facts, others: int, years: tuple[int | None, int | None]
) -> None:
    said = question_words(worth(others=others, years=years), facts)
    assert len(said) <= LONGEST
    assert said.startswith("Who remembers in which year ")
    assert "  " not in said
    assert "\n" not in said


def test_long_names_are_cut_at_a_word() -> None:
    said = question_words(worth(), Facts(occasion="The summer in which we all went to the lake with Uncle Konrad"))
    assert "“The summer in which we all went to the lake…”" in said


PICTURE = Facts(accession="P-0001")


@pytest.mark.parametrize(
    ("asked", "facts", "said"),
    [
        (
            worth(),
            PICTURE,
            "would date this picture and help with 17 more: 63 years less doubt in all",
        ),
        (worth(prints=1, others=0, gain=1.2), PICTURE, "would date this picture: 14 months less doubt"),
        (worth(prints=1, others=0, gain=0.09), PICTURE, "would date this picture: 1 month less doubt"),
        (worth(prints=18, others=0), HARVEST, "would date its 18 prints: 63 years less doubt in all"),
        (
            worth(prints=18, others=4),
            HARVEST,
            "would date its 14 prints and help with 4 more: 63 years less doubt in all",
        ),
        (worth(prints=1, others=0, gain=2), HARVEST, "would date its print: 2 years less doubt"),
    ],
)
def test_gain(asked: Asked, facts: Facts, said: str) -> None:
    assert gain_words(asked, facts) == said


@given(others=st.integers(0, 9_999), gain=st.floats(0.09, 9_999))
def test_gain_of_a_picture_fits_a_line(others: int, gain: float) -> None:
    assert len(gain_words(worth(others=others, gain=gain, prints=others + 1), PICTURE)) <= 80


@pytest.mark.parametrize(
    ("numbers", "said"),
    [
        ([], ""),
        ([4], "print 4"),
        ([2, 1], "prints 1 and 2"),
        ([9, 3, 7], "prints 3, 7 and 9"),
        (range(14, 32), "prints 14 to 31"),
        ([3, 5, 9, 20], "4 prints between 3 and 20"),
    ],
)
def test_prints(numbers: list[int], said: str) -> None:
    assert prints_words(numbers) == said


def test_no_word_of_software() -> None:
    said = question_words(worth(), Facts(accession="B2-0014", hooks=(MOVE,)))
    assert not re.search(r"statement|constraint|network|solver|range|narrow|exposure|catalogue", said)
