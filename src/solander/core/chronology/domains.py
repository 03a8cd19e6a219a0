"""Sets of days as sorted stretches that don't touch; ±inf for open ends."""

from __future__ import annotations

from collections.abc import Iterable
from math import inf

from solander.core.chronology.constraints import Months
from solander.core.days import day, from_day, month_length

__all__ = [
    "DAYS_IN_400_YEARS",
    "Domain",
    "clipped",
    "common",
    "joined",
    "month_stretches",
    "next_allowed",
    "shifted",
]

DAYS_IN_400_YEARS = 146_097
"""After so many days the calendar repeats."""

Domain = list[tuple[float, float]]
"""Ends are whole numbers (int) or ±inf; floats stand here only for the type of infinity."""


def joined(stretches: Iterable[tuple[float, float]]) -> Domain:
    """The same days, sorted, with overlapping and touching stretches made one."""
    found: Domain = []
    for first, last in sorted(stretches):
        if found and first <= found[-1][1] + 1:
            if last > found[-1][1]:
                found[-1] = found[-1][0], last
        else:
            found.append((first, last))
    return found


def common(a: Domain, b: Domain) -> Domain:
    """The days that are in both."""
    found: Domain = []
    i = j = 0
    while i < len(a) and j < len(b):
        first, last = max(a[i][0], b[j][0]), min(a[i][1], b[j][1])
        if first <= last:
            found.append((first, last))
        if a[i][1] < b[j][1]:
            i += 1
        else:
            j += 1
    return found


def clipped(domain: Domain, first: float, last: float) -> Domain:
    """The days from `first` to `last`."""
    return [(max(a, first), min(b, last)) for a, b in domain if a <= last and b >= first]


def shifted(domain: Domain, least: float, most: float) -> Domain:
    """The days that lie `least` … `most` after some day of the domain."""
    return joined((first + least, last + most) for first, last in domain)


def month_stretches(said: Months, first: int, last: int) -> Domain:
    """The days from `first` to `last` that fall into the months."""
    spread = said.spread_days
    years = range(from_day(first - spread)[0] - 1, from_day(last + spread)[0] + 2)
    found = (
        (day(year, month, 1) - spread, day(year, month, month_length(year, month)) + spread)
        for year in years
        for month in said.months
    )
    return clipped(joined(found), first, last)


def next_allowed(said: Months, start: int, step: int) -> int:
    """The first day from `start` on (step 1) or back (step −1) that falls into the months."""
    if not said.spread_days:
        return _next_in_months(said.months, start, step)
    span = 366 + said.spread_days
    if step > 0:
        return int(month_stretches(said, start, start + span)[0][0])
    return int(month_stretches(said, start - span, start)[-1][1])


def _next_in_months(months: frozenset[int], start: int, step: int) -> int:
    year, month, _ = from_day(start)
    if month in months:
        return start
    while month not in months:
        year, month = year + (month + step) // 13 - (month + step == 0), (month + step - 1) % 12 + 1
    return day(year, month, 1 if step > 0 else month_length(year, month))


UNBOUNDED: Domain = [(-inf, inf)]
