"""Birthdays and whole years of age, by one rule everywhere.

Who was born on 29 February has the birthday on 28 February in common years (our choice: the last day of the month
stays the last day of the month; laws differ, and it is a day at most). An age lasts from its birthday to the day
before the next. All days are ordinals (see `solander.core.days`).
"""

from __future__ import annotations

from solander.core.days import day, from_day, month_length

__all__ = ["age_on", "days_of_age", "years_later"]


def years_later(ordinal: int, years: int) -> int:
    """The same day of the calendar so many years later, or earlier; 28 February for the 29th in a common year."""
    year, month, day_of_month = from_day(ordinal)
    return day(year + years, month, min(day_of_month, month_length(year + years, month)))


def days_of_age(born: int, age: int) -> tuple[int, int]:
    """The first and last day on which somebody is so many whole years old."""
    return years_later(born, age), years_later(born, age + 1) - 1


def age_on(born: int, ordinal: int) -> int:
    """Whole years lived on a day; negative before the birth."""
    years = from_day(ordinal)[0] - from_day(born)[0]
    return years if ordinal >= years_later(born, years) else years - 1
