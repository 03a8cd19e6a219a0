"""The first and the last day of a value, and how long it lasts."""

from __future__ import annotations

from functools import lru_cache

from solander.core.dates import parse_edtf

__all__ = ["first_day", "last_day"]


@lru_cache(maxsize=4096)
def first_day(edtf: str) -> int | None:
    """The first day of an EDTF value; None where it is empty or open."""
    return parse_edtf(edtf).bounds().earliest if edtf else None


@lru_cache(maxsize=4096)
def last_day(edtf: str) -> int | None:
    """The last day of an EDTF value; None where it is empty or open."""
    return parse_edtf(edtf).bounds().latest if edtf else None
