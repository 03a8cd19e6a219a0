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
        ("Odile 6 ans", "Odile", 6, 6, Sure.LIKELY),
        ("Ingrid 6 Jahre", "Ingrid", 6, 6, Sure.LIKELY),
        ("Ingrid aged 6", "Ingrid", 6, 6, Sure.LIKELY),
        ("Ingrid (w wieku 6 lat)", "Ingrid", 6, 6, Sure.LIKELY),
        ("Ингрид (6 лет)", "Ингрид", 6, 6, Sure.LIKELY),
        ("Ingrid (6½)", "Ingrid", 6, 6, Sure.LIKELY),
        ("Ingrid (6 1/2)", "Ingrid", 6, 6, Sure.LIKELY),
        ("Ingrid (6.5)", "Ingrid", 6, 6, Sure.LIKELY),
        ("Ingrid (nearly 6)", "Ingrid", 5, 5, Sure.LIKELY),
        ("Ingrid (fast 6)", "Ingrid", 5, 5, Sure.LIKELY),
        ("Ingrid (over 80)", "Ingrid", 80, 110, Sure.LIKELY),
        ("Ingrid (80+)", "Ingrid", 80, 110, Sure.LIKELY),
        ("Ingrid (under 10)", "Ingrid", 0, 9, Sure.LIKELY),
        ("Nan (about 105)", "Nan", 84, 110, Sure.GUESS),
        ("Ingrid (6) (left)", "Ingrid", 6, 6, Sure.LIKELY),
        ("Ingrid (6, left)", "Ingrid", 6, 6, Sure.LIKELY),
        ("Ingrid (6), back row left", "Ingrid", 6, 6, Sure.LIKELY),
        ("Ingrid (left), 6", "Ingrid", 6, 6, Sure.LIKELY),
        ("grandma (60)", "grandma", 60, 60, Sure.LIKELY),
        ("uncle Tom (40)", "uncle Tom", 40, 40, Sure.LIKELY),
        ("Inga née Berg (30)", "Inga née Berg", 30, 30, Sure.LIKELY),
        ("Mrs. O'Hara, 40", "Mrs. O'Hara", 40, 40, Sure.LIKELY),
        ("Jimmy Page (30)", "Jimmy Page", 30, 30, Sure.LIKELY),
        ("花子 (6)", "花子", 6, 6, Sure.LIKELY),
        ("baby Tom Berg", "Tom Berg", 0, 1, Sure.GUESS),
        ("Baby Tom", "Tom", 0, 1, Sure.GUESS),
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
        "Mary as Juliet",
        "Baby",
        "(6)",
        "Mrs Child",
        "Baby Face Nelson",
        "Class of (58)",
        "Row 2, 6",
        "Frame 6, 7",
        "Children (3)",
        "cousins, 4",
        "Berg family (5)",
        "the Bergs (4)",
        "Nan and Inga (6)",
        "dressed as a child",
        "Left",
        "Boys (left)",
        "(-2)",
        "",
    ],
)
def test_all_else_is_a_name(cell) -> None:
    assert read_name_and_age(cell) == NamedWithAge(cell)


@pytest.mark.parametrize(
    ("cell", "name"), [("Ole (left)", "Ole"), ("Nan (seated)?", "Nan ?"), ("Ole, links", "Ole")]
)
def test_where_somebody_stands_is_no_part_of_the_name(cell, name) -> None:
    assert read_name_and_age(cell) == NamedWithAge(name)


@pytest.mark.parametrize("written", ["200", "150", "111", "-2", "−2", "10 or 6", "nearly 0", "under 0"])
def test_an_age_that_nobody_has_is_told_apart_from_the_name(written) -> None:
    assert read_name_and_age(f"Nan ({written})") == NamedWithAge("Nan", not_understood=written)


def test_nobody_is_read_older_than_110() -> None:
    assert read_name_and_age("Nan (110)").age == Age(110, 110)


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


@given(st.text("AbcK 0123456789(),?-or½", max_size=20))
def test_any_cell_is_read(cell) -> None:
    told = read_name_and_age(cell)
    assert told.name in (cell, cell + " ?") or cell.startswith(told.name.removesuffix(" ?"))
    assert told.age is not None or told.not_understood or told.name == cell
