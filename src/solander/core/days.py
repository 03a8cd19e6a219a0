"""Days as whole numbers: proleptic Gregorian ordinals without a first or last year.

Day 1 is 0001-01-01, as in `datetime.date.toordinal`; the year 0000 (1 BC) and negative years exist as in
ISO 8601, and years beyond 9999 too. Arithmetic from memory of the 400-year cycle of 146,097 days; the tests
compare it with `datetime` over all of its range.
"""

from __future__ import annotations

import re

__all__ = ["day", "day_of_text", "day_text", "from_day", "is_leap", "month_length", "weekday"]

_LENGTHS = (0, 31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)
_BEFORE = (0, 0, 31, 59, 90, 120, 151, 181, 212, 243, 273, 304, 334)
_DAYS_IN_400_YEARS = 146_097
_DAY = re.compile(r"(-?\d{1,9})-(\d\d)-(\d\d)")


def is_leap(year: int) -> bool:
    """Whether the year has a 29 February."""
    return year % 4 == 0 and (year % 100 != 0 or year % 400 == 0)


def month_length(year: int, month: int) -> int:
    """The number of days in a month, 28 to 31."""
    return 29 if month == 2 and is_leap(year) else _LENGTHS[month]


def day(year: int, month: int, day_of_month: int) -> int:
    """The ordinal of a date that exists; nothing is checked here."""
    past = year - 1
    leap_day = month > 2 and is_leap(year)
    return past * 365 + past // 4 - past // 100 + past // 400 + _BEFORE[month] + leap_day + day_of_month


def from_day(ordinal: int) -> tuple[int, int, int]:
    """Year, month and day of month of an ordinal."""
    cycles, left = divmod(ordinal - 1, _DAYS_IN_400_YEARS)
    centuries = min(left // 36_524, 3)
    left -= centuries * 36_524
    fours, left = divmod(left, 1_461)
    singles = min(left // 365, 3)
    left -= singles * 365
    year = cycles * 400 + centuries * 100 + fours * 4 + singles + 1
    return year, *_month_and_day(year, left)


def _month_and_day(year: int, days_before: int) -> tuple[int, int]:
    month = min(days_before // 28 + 1, 12)
    while (start := _BEFORE[month] + (month > 2 and is_leap(year))) > days_before:
        month -= 1
    return month, days_before - start + 1


def day_text(ordinal: int) -> str:
    """`YYYY-MM-DD`; years before 0000 carry a minus, years beyond 9999 simply have more digits."""
    year, month, day_of_month = from_day(ordinal)
    sign = "-" if year < 0 else ""
    return f"{sign}{abs(year):04d}-{month:02d}-{day_of_month:02d}"


def day_of_text(text: str) -> int:
    """The ordinal of a day written by `day_text`.

    >>> day_of_text("0001-01-01")
    1

    Raises
    ------
    ValueError
        When it is not written so.
    """
    found = _DAY.fullmatch(text)
    if not found:
        raise ValueError(f"{text!r} is no day in the form YYYY-MM-DD")
    return day(*(int(part) for part in found.groups()))


def weekday(ordinal: int) -> int:
    """0 for Monday to 6 for Sunday."""
    return (ordinal + 6) % 7
