"""Birthdays and ages: one rule for the 29th of February."""

from __future__ import annotations

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from solander.core.birthdays import age_on, days_of_age, years_later
from solander.core.days import day, day_text

LEAP_DAY = day(1952, 2, 29)


@pytest.mark.parametrize(("years", "birthday"), [(1, "1953-02-28"), (4, "1956-02-29"), (48, "2000-02-29")])
def test_a_birthday_on_the_29th_is_on_the_28th_in_common_years(years, birthday) -> None:
    assert day_text(years_later(LEAP_DAY, years)) == birthday


@pytest.mark.parametrize(
    ("age", "first", "last"),
    [(0, "1952-02-29", "1953-02-27"), (3, "1955-02-28", "1956-02-28"), (4, "1956-02-29", "1957-02-27")],
)
def test_an_age_lasts_until_the_day_before_the_next_birthday(age, first, last) -> None:
    assert tuple(map(day_text, days_of_age(LEAP_DAY, age))) == (first, last)


DAYS = st.integers(day(1800, 1, 1), day(2100, 12, 31))


@given(DAYS, st.integers(0, 110))
def test_every_day_has_one_age(born, age) -> None:
    first, last = days_of_age(born, age)
    assert (age_on(born, first - 1), age_on(born, first), age_on(born, last), age_on(born, last + 1)) == (
        age - 1,
        age,
        age,
        age + 1,
    )


@given(DAYS, DAYS)
def test_ages_are_those_of_the_calendar(born, on) -> None:
    """But for who was born on a leap day, month and day tell whether the birthday was."""
    birth, then = date.fromordinal(born), date.fromordinal(on)
    if (birth.month, birth.day) != (2, 29):
        assert age_on(born, on) == then.year - birth.year - ((then.month, then.day) < (birth.month, birth.day))
