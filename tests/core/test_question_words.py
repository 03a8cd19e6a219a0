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
    gain_words,
    prints_words,
    question_words,
)

MOVE = Hook("the move to Lindenhof", 1934, 1934)
WAR = Hook("the war", 1939, 1945)


def worth(
    *, others: int = 17, years: tuple[int | None, int | None] = (1931, 1938), gain: float = 63.2, prints: int = 18
) -> Asked:
    narrowed = tuple(f"p{number}" for number in range(others))
    return Asked("thing", gain, gain, 4.0, narrowed, prints, years)


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
            Facts(accession="B2-0014", caption="Nan on the swing", people=(("Nan", 1929),)),
            "Who remembers in which year “Nan on the swing” (B2-0014) was taken? It was 1931 or 1932."
            " How old was Nan then? An answer helps to date 1 more.",
        ),
        (
            worth(others=0, years=(1926, 1938)),
            Facts(accession="B2-0014", people=(("Ingrid", 1924), ("Otto", 1890)), place="Kirchdorf"),
            "Who remembers in which year the picture of Ingrid and Otto (Kirchdorf, B2-0014) was taken?"
            " It may be any year from 1926 to 1938. Was Ingrid nearer 2 or 14 then?",
        ),
        (
            worth(others=0, years=(None, 1938)),
            Facts(accession="B2-0014", follows="Christmas at the mill"),
            "Who remembers in which year the picture after “Christmas at the mill” (B2-0014) was taken?"
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
            Facts(accession="P-0001", people=(("Otto", None),), occasion="Easter"),
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


@pytest.mark.parametrize("years", [(1934, 1938), (1925, 1934), (1940, 1960)])
def test_event_that_decides_nothing_is_no_hook(years: tuple[int, int]) -> None:
    assert "before or after" not in question_words(worth(years=years), Facts(accession="P-0001", hooks=(MOVE,)))


@pytest.mark.parametrize(
    ("born", "years", "asks"),
    [
        (1930, (1930, 1938), "Was Ida a baby then, or nearer 8?"),
        (1920, (1931, 1938), "Was Ida nearer 11 or 18 then?"),
        (1930, (None, 1938), "How old was Ida then?"),
        (1930, (1930, 1975), "How old was Ida then?"),
        (1930, (1936, 1938), "How old was Ida then?"),
        (1900, (1931, 1938), None),
        (1939, (1931, 1938), None),
        (None, (1931, 1938), None),
    ],
)
def test_age_of_a_child_is_the_hook(
    born: int | None, years: tuple[int | None, int | None], asks: str | None
) -> None:
    said = question_words(worth(years=years), Facts(accession="P-0001", people=(("Ida", born),)))
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
        people=st.lists(st.tuples(text, year), max_size=4).map(tuple),
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


@pytest.mark.parametrize(
    ("asked", "said"),
    [
        (worth(), "would narrow 18 prints by 63 years altogether"),
        (worth(prints=1, gain=1.2), "would narrow 1 print by 14 months"),
        (worth(prints=2, gain=0.09), "would narrow 2 prints by 1 month altogether"),
    ],
)
def test_gain(asked: Asked, said: str) -> None:
    assert gain_words(asked) == said


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
