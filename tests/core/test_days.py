"""Day arithmetic against the standard library, and beyond its years."""

from __future__ import annotations

import datetime

from hypothesis import given
from hypothesis import strategies as st

from solander.core.days import day, day_text, from_day, month_length, weekday


@given(st.dates())
def test_equals_the_standard_library(date: datetime.date):
    ordinal = date.toordinal()
    assert day(date.year, date.month, date.day) == ordinal
    assert from_day(ordinal) == (date.year, date.month, date.day)
    assert weekday(ordinal) == date.weekday()
    assert day_text(ordinal) == date.isoformat()


@given(st.integers(-(10**15), 10**15))
def test_every_day_comes_back(ordinal: int):
    year, month, number = from_day(ordinal)
    assert day(year, month, number) == ordinal
    assert 1 <= number <= month_length(year, month)


def test_days_outside_four_digits():
    assert day_text(day(0, 2, 29)) == "0000-02-29"
    assert day_text(day(-44, 3, 15)) == "-0044-03-15"
    assert day_text(day(170_000_002, 1, 1)) == "170000002-01-01"
