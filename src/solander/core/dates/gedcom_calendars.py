"""The days of a year, month or day in the calendars of GEDCOM.

Sources: the calendars and months of the FamilySearch GEDCOM 7 specification, appendix A; Julian, Hebrew and French
Republican arithmetic from `convertdate`. Hebrew days begin at sunset; as in every table of that calendar the day
meant is the one whose daylight it holds.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from enum import StrEnum

from convertdate import french_republican, hebrew, julian

from solander.core.days import day, month_length

__all__ = ["LAST_FRENCH_YEAR", "MONTHS", "Calendar", "days_of"]

Days = tuple[int, int]

_JULIAN_DAY_BEFORE_DAY_1 = 1_721_424.5
"""Of 0001-01-01 less one, so that a Julian day number less this is an ordinal of `solander.core.days`."""

LAST_FRENCH_YEAR = 14
"""The calendar was given up on 1 January 1806, in its year 14."""


class Calendar(StrEnum):
    """The calendars that can be turned into days, under their names in GEDCOM 7."""

    GREGORIAN = "GREGORIAN"
    JULIAN = "JULIAN"
    FRENCH = "FRENCH_R"
    HEBREW = "HEBREW"


_WESTERN = ("JAN", "FEB", "MAR", "APR", "MAY", "JUN", "JUL", "AUG", "SEP", "OCT", "NOV", "DEC")
MONTHS: dict[Calendar, tuple[str, ...]] = {
    Calendar.GREGORIAN: _WESTERN,
    Calendar.JULIAN: _WESTERN,
    Calendar.FRENCH: (
        *("VEND", "BRUM", "FRIM", "NIVO", "PLUV", "VENT"),
        *("GERM", "FLOR", "PRAI", "MESS", "THER", "FRUC", "COMP"),
    ),
    Calendar.HEBREW: (
        *("TSH", "CSH", "KSL", "TVT", "SHV", "ADR", "ADS"),
        *("NSN", "IYR", "SVN", "TMZ", "AAV", "ELL"),
    ),
}
"""The month words of each calendar in the order of its year."""


def days_of(calendar: Calendar, year: int, month: int = 0, *, day_of_month: int = 0) -> Days | None:
    """The first and last day of a year, of a month (1 for the first word in `MONTHS`) or of a day.

    None when the calendar has no such day, month or year: 31 February, the year 15 of the Republic (which ended
    with the year 14; for later years the rules of the leap year contradict one another), a sixth complementary
    day in a common year. Gregorian and Julian years are counted with a year 0 (1 BC). In a Hebrew common year,
    which has one Adar, ADR and ADS are both that month, as GEDCOM 7 advises.
    """
    starts = _STARTS[calendar](year)
    if not starts:
        return None
    if not month:
        return starts[0], starts[-1] - 1
    first, after = starts[month - 1], starts[month]
    if calendar is Calendar.HEBREW and first == after:
        first, after = after, starts[month + 1]
    if not day_of_month:
        return first, after - 1
    single = first + day_of_month - 1
    return (single, single) if first <= single < after else None


def _gregorian(year: int) -> list[int]:
    return _month_starts(day(year, 1, 1), [month_length(year, month) for month in range(1, 13)])


def _julian(year: int) -> list[int]:
    lengths = [julian.month_length(year, month) for month in range(1, 13)]
    return _month_starts(_ordinal(julian.to_jd(year, 1, 1)), lengths)


def _french(year: int) -> list[int]:
    if not 1 <= year <= LAST_FRENCH_YEAR:
        return []
    # Method 4 has the leap years that were kept: 3, 7, 11.
    new_year = _ordinal(french_republican.to_jd(year, 1, 1, method=4))
    return _month_starts(new_year, [30] * 12 + [6 if french_republican.leap(year, method=4) else 5])


def _hebrew(year: int) -> list[int]:
    if year < 1:
        return []
    new_year, next_year = (_ordinal(hebrew.to_jd(each, hebrew.TISHRI, 1)) for each in (year, year + 1))
    # A year is short, regular or long (353, 354, 355 days, 30 more with two Adars) by Cheshvan and Kislev.
    kind = (next_year - new_year) % 10
    cheshvan, kislev = 29 + (kind == 5), 30 - (kind == 3)
    first_adar = 30 if hebrew.leap(year) else 0
    return _month_starts(new_year, [30, cheshvan, kislev, 29, 30, first_adar, 29, 30, 29, 30, 29, 30, 29])


def _month_starts(first: int, lengths: Sequence[int]) -> list[int]:
    """The first day of each month and of the next year."""
    starts = [first]
    for length in lengths:
        starts.append(starts[-1] + length)
    return starts


def _ordinal(julian_day: float) -> int:
    return int(julian_day - _JULIAN_DAY_BEFORE_DAY_1)


_STARTS: dict[Calendar, Callable[[int], list[int]]] = {
    Calendar.GREGORIAN: _gregorian,
    Calendar.JULIAN: _julian,
    Calendar.FRENCH: _french,
    Calendar.HEBREW: _hebrew,
}
