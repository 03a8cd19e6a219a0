"""Ages beside names: what is one, and what is part of the name."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from solander.core.ages import Age, NamedWithAge, age_value, read_age_value, read_name_and_age
from solander.core.statements import Sure


@pytest.mark.parametrize(
    ("cell", "name", "youngest", "oldest", "sure"),
    [
        ("Ingrid (6)", "Ingrid", 6, 6, Sure.LIKELY),
        ("Nan, about 6", "Nan", 5, 7, Sure.GUESS),
        ("Nils (aged 6 or 7)", "Nils", 6, 7, Sure.LIKELY),
        ("baby Tom", "Tom", 0, 1, Sure.GUESS),
        ("Ingrid as a child", "Ingrid", 2, 13, Sure.GUESS),
        ("Ingrid as a young woman", "Ingrid", 16, 35, Sure.GUESS),
        ("Karl (toddler)", "Karl", 1, 3, Sure.GUESS),
        ("Berg, Inga, 6", "Berg, Inga", 6, 6, Sure.LIKELY),
        ("Tom (8 months)", "Tom", 0, 0, Sure.LIKELY),
        ("Tom (18 months)", "Tom", 1, 1, Sure.LIKELY),
        ("Ingrid (6?)", "Ingrid", 5, 7, Sure.GUESS),
        ("Ingrid? (6)", "Ingrid?", 6, 6, Sure.LIKELY),
        ("Ingrid (6)?", "Ingrid ?", 6, 6, Sure.LIKELY),
        ("Nan (looks 40)", "Nan", 32, 48, Sure.GUESS),
        ("Nan (looks about 40)", "Nan", 32, 48, Sure.GUESS),
        ("Nan (in her twenties)", "Nan", 20, 29, Sure.GUESS),
        ("Nan, 50s", "Nan", 50, 59, Sure.GUESS),
        ("Nan, 5-7", "Nan", 5, 7, Sure.LIKELY),
        ("Nan (aged six)", "Nan", 6, 6, Sure.LIKELY),
        ("Anna, etwa 6 Jahre alt", "Anna", 5, 7, Sure.GUESS),
        ("Kari, 6 år", "Kari", 6, 6, Sure.LIKELY),
        ("Odile, 6 ans", "Odile", 6, 6, Sure.LIKELY),
    ],
)
def test_an_age_beside_a_name(cell, name, youngest, oldest, sure) -> None:
    assert read_name_and_age(cell) == NamedWithAge(name, Age(youngest, oldest), sure)


@pytest.mark.parametrize(
    "cell",
    [
        "Ingrid",
        "Berg, Inga",
        "Inga (née Berg)",
        "Nils (b. 1931)",
        "Inga (1931)",
        "George 6",
        "Ole (left)",
        "Mary as Juliet",
        "Baby",
        "(6)",
        "Nan (150)",
        "Nan (10 or 6)",
        "Mrs Child",
        "",
    ],
)
def test_all_else_is_a_name(cell) -> None:
    assert read_name_and_age(cell) == NamedWithAge(cell)


@pytest.mark.parametrize(
    ("age", "words"),
    [
        (Age(0, 0), "under 1 year old"),
        (Age(1, 1), "1 year old"),
        (Age(6, 7), "6 or 7 years old"),
        (Age(5, 7), "5 to 7 years old"),
    ],
)
def test_an_age_in_words(age, words) -> None:
    assert age.words == words


AGES = st.tuples(st.integers(0, 120), st.integers(0, 120)).map(lambda pair: Age(min(pair), max(pair)))


@given(st.text(max_size=12), AGES)
def test_a_value_comes_back(name, age) -> None:
    assert read_age_value(age_value(name, age)) == (name, age)


@pytest.mark.parametrize(("youngest", "oldest"), [(7, 6), (-1, 3), (3, 121)])
def test_an_age_that_cannot_be_is_not_made(youngest, oldest) -> None:
    with pytest.raises(ValueError, match="no age"):
        Age(youngest, oldest)


@given(st.text("abc 0123456789(),?-or", max_size=20))
def test_any_cell_is_read(cell) -> None:
    told = read_name_and_age(cell)
    assert told.age is not None or told.name == cell
