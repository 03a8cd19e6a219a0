"""Days that whole years give: the first and last of a value, and the same day in a later year."""

from __future__ import annotations

from functools import lru_cache

from solander.core.dates import parse_edtf
from solander.core.days import day, from_day, month_length

__all__ = ["first_day", "last_day", "years_later"]


def years_later(ordinal: int, years: int) -> int:
    """The same day of the calendar so many years later, or earlier; 28 February for the 29th in a common year."""
    year, month, day_of_month = from_day(ordinal)
    return day(year + years, month, min(day_of_month, month_length(year + years, month)))


@lru_cache(maxsize=4096)
def first_day(edtf: str) -> int | None:
    """The first day of an EDTF value; None where it is empty or open."""
    return parse_edtf(edtf).bounds().earliest if edtf else None


@lru_cache(maxsize=4096)
def last_day(edtf: str) -> int | None:
    """The last day of an EDTF value; None where it is empty or open."""
    return parse_edtf(edtf).bounds().latest if edtf else None
