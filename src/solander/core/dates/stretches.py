"""Stretches of days: from the digits of a date to the days that it allows."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import product

from solander.core.days import day, month_length

__all__ = ["MOST", "PARTS_OF_YEAR", "exists", "first_day", "last_day", "merged", "of_moment", "years"]

MOST = 1200
"""A date that falls into more stretches than this is taken as its envelope: "a 25th in the twentieth century"
(12 × 100 days) is still exact, "a December, year unknown" (10,000 months) is not worth its memory."""

DIGITS = "0123456789"

PARTS_OF_YEAR: dict[str, tuple[int, int]] = {
    **{str(33 + n): (1 + 3 * n, 3) for n in range(4)},
    **{str(37 + n): (1 + 4 * n, 4) for n in range(3)},
    **{str(40 + n): (1 + 6 * n, 6) for n in range(2)},
}
"""First month and number of months of each code 21–41; months over 12 are those of the next year."""

_NORTH = ((3, 3), (6, 3), (9, 3), (12, 3))
_SOUTH = ((9, 3), (12, 3), (3, 3), (6, 3))
PARTS_OF_YEAR |= {str(25 + n): part for n, part in enumerate(_NORTH)}
PARTS_OF_YEAR |= {str(29 + n): part for n, part in enumerate(_SOUTH)}
_SOUTHERN_SEASONS = {str(21 + n): part for n, part in enumerate(_SOUTH)}
PARTS_OF_YEAR |= {str(21 + n): part for n, part in enumerate(_NORTH)}


def _matching(last: int) -> dict[str, tuple[int, ...]]:
    """The numbers from 1 to `last` that each two digits stand for, X for any digit."""
    numbers = [f"{n:02d}" for n in range(1, last + 1)]
    found: dict[str, list[int]] = {}
    for number in numbers:
        for pattern in (number, f"X{number[1]}", f"{number[0]}X", "XX"):
            found.setdefault(pattern, []).append(int(number))
    return {pattern: tuple(values) for pattern, values in found.items()}


MONTHS = _matching(12)
DAYS = _matching(31)


def years(year: str, significant: str = "") -> Sequence[int]:
    """The years that the digits stand for, ascending; a `range` where there are no holes."""
    if "X" not in year:
        value = year_number(year)
        if not significant:
            return range(value, value + 1)
        return _significant(value, int(significant))
    sign, digits = (-1, year[1:]) if year[0] == "-" else (1, year)
    fixed = digits.rstrip("X")
    if "X" not in fixed:
        found: Sequence[int] = _magnitudes(fixed, len(digits) - len(fixed))
    else:
        found = [int("".join(each)) for each in product(*(DIGITS if d == "X" else d for d in digits))]
    if sign > 0:
        return found
    return [-value for value in reversed(found) if value]


def _magnitudes(fixed: str, unknown: int) -> range:
    width = 10**unknown
    first = int(fixed or "0") * width
    return range(first, first + width)


def year_number(year: str) -> int:
    """The number of a year without X: `1952`, `-1985`, `Y170000002`, `Y-17E7`."""
    mantissa, _, exponent = year.removeprefix("Y").partition("E")
    power: int = 10 ** int(exponent or 0)
    return int(mantissa) * power


def _significant(value: int, digits: int) -> range:
    width = 10 ** (max(len(str(abs(value))), 4) - digits)
    first = abs(value) // width * width
    return range(first, first + width) if value >= 0 else range(1 - first - width, 1 - first)


def exists(year: str, month: str, day_of_month: str) -> bool:
    """Whether any day of the calendar answers to the digits."""
    return next(_days(years(year), MONTHS[month], DAYS[day_of_month]), None) is not None


def first_day(year: str, significant: str, month: str, day_of_month: str, *, southern: bool = False) -> int:
    """The first day that the digits allow."""
    return next(_stretches(years(year, significant), month, day_of_month, southern))[0]


def last_day(year: str, significant: str, month: str, day_of_month: str, *, southern: bool = False) -> int:
    """The last day that the digits allow."""
    found = years(year, significant)
    return next(_stretches(found[::-1], month, day_of_month, southern, backwards=True))[1]


def of_moment(
    year: str, significant: str, month: str, day_of_month: str, *, southern: bool = False
) -> list[tuple[int, int]]:
    """The stretches of days that the digits allow, in order; their envelope when there are more than `MOST`."""
    found = years(year, significant)
    whole_years = not month or (month == "XX" and day_of_month in ("", "XX"))
    if whole_years and isinstance(found, range):
        return [(day(found[0], 1, 1), day(found[-1], 12, 31))]
    if len(found) * _a_year(month, day_of_month) > MOST:
        first = next(_stretches(found, month, day_of_month, southern))[0]
        return [(first, next(_stretches(found[::-1], month, day_of_month, southern, backwards=True))[1])]
    return _touching_joined(_stretches(found, month, day_of_month, southern))


def _a_year(month: str, day_of_month: str) -> int:
    """At most how many stretches fall into one year."""
    if month in PARTS_OF_YEAR:
        return 1
    return len(MONTHS.get(month, (0,))) * (len(DAYS[day_of_month]) if day_of_month not in ("", "XX") else 1)


def _stretches(
    found: Sequence[int], month: str, day_of_month: str, southern: bool, *, backwards: bool = False
) -> Iterator[tuple[int, int]]:
    step = -1 if backwards else 1
    if not month:
        return ((day(year, 1, 1), day(year, 12, 31)) for year in found)
    if month in PARTS_OF_YEAR:
        first, count = (southern and _SOUTHERN_SEASONS.get(month)) or PARTS_OF_YEAR[month]
        return (_months(year, first, count) for year in found)
    months = MONTHS[month][::step]
    if day_of_month in ("", "XX"):
        return (_months(year, number, 1) for year in found for number in months)
    return ((single, single) for single in _days(found, months, DAYS[day_of_month][::step]))


def _months(year: int, first: int, count: int) -> tuple[int, int]:
    over, last = divmod(first + count - 2, 12)
    last_year = year + over
    return day(year, first, 1), day(last_year, last + 1, month_length(last_year, last + 1))


def _days(found: Iterable[int], months: Sequence[int], days: Sequence[int]) -> Iterator[int]:
    return (
        day(year, month, number)
        for year in found
        for month in months
        for number in days
        if number <= month_length(year, month)
    )


def _touching_joined(found: Iterable[tuple[int, int]]) -> list[tuple[int, int]]:
    joined: list[tuple[int, int]] = []
    for first, last in found:
        if joined and first <= joined[-1][1] + 1:
            joined[-1] = joined[-1][0], max(joined[-1][1], last)
        else:
            joined.append((first, last))
    return joined


def merged(found: list[tuple[int | None, int | None]]) -> list[tuple[int | None, int | None]]:
    """The same days in order, overlapping and touching stretches joined; None is an open end."""
    if len(found) == 1:
        return found
    joined: list[tuple[int | None, int | None]] = []
    for first, last in sorted(found, key=lambda each: (each[0] is not None, each[0] or 0)):
        if joined and _reaches(joined[-1][1], first):
            end = joined[-1][1]
            joined[-1] = joined[-1][0], None if end is None or last is None else max(end, last)
        else:
            joined.append((first, last))
    return joined


def _reaches(last: int | None, first: int | None) -> bool:
    return last is None or first is None or first <= last + 1
