"""Where a print stands: its place in time, in its container and in its occasion, and what is still to be done.

A standing is worked out from all that is said of all prints and can always be worked out again, so it is never
in history. Pages read it instead of solving the order of the collection anew.
"""

from __future__ import annotations

import re
from enum import StrEnum
from functools import lru_cache

from attrs import frozen

__all__ = ["LAST", "Arrangement", "Standing", "Whole", "shelf_of"]

LAST = 2**31 - 1
"""The place of what has none: prints without an occasion come after all occasions."""


class Arrangement(StrEnum):
    """In which order prints lie on the table."""

    TIME = "time"
    CONTAINER = "container"
    OCCASION = "occasion"


@frozen
class Standing:
    """Where one print stands, as of the change of that number.

    `rank` counts places in time from 1; until everything is worked out anew after a change two prints may share
    one. Days are ordinals (`solander.core.days`), None where open; `day` is the best guess and `year` its year.
    `occasion_rank` is the place in time of the first print of its occasion, `LAST` without one.
    """

    accession: str
    rank: int
    container: str | None
    number: int
    occasion: str = ""
    occasion_rank: int = LAST
    year: int | None = None
    day: int | None = None
    earliest: int | None = None
    latest: int | None = None
    likely_first: int | None = None
    likely_last: int | None = None
    undated: bool = False
    """Nobody has said when it was taken or printed: what is shown was worked out."""
    nobody: bool = False
    """Nobody is named on it."""
    unsure: bool = False
    """A date, place or person on it is a guess."""
    again: bool = False
    """It should be captured again."""
    contradicts: bool = False
    """Something said of it can't be true together with the rest."""
    has_back: bool = False
    waits: int = 0
    """How many questions wait about it."""
    change: int = 0


@frozen
class Whole:
    """What was worked out of the whole collection as of a change: `mends` and `contradictions` are sentences (a
    contradiction with its print's number), `asked` what is best asked next, as plain values.

    `change` is -1 where nothing was worked out yet.
    """

    change: int = -1
    prints: int = 0
    contradictions: tuple[tuple[str, str], ...] = ()
    mends: tuple[str, ...] = ()
    asked: tuple[tuple[str, str, str, float, int], ...] = ()


@lru_cache(maxsize=4096)  # asked of every print, and a box holds many
def shelf_of(container: str | None) -> str:
    """A container's code so written that containers sort as they stand on a shelf: B2 before B10.

    >>> shelf_of("B2/E10") < shelf_of("B10/E1")
    True
    """
    return re.sub(r"[0-9]+", lambda digits: digits[0].zfill(5), container or "")
