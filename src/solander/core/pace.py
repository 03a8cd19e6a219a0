"""How many sittings are left, from how much was done in those before: a range, and only where history bears it.

The paces of past sittings are drawn again and again (the bootstrap of Efron, 1979): first a history like the one
that there is, for it might have gone otherwise, then sittings out of it until nothing is left. The range leaves
out a tenth of the draws at either end. Of few sittings even that is too sure of itself: there the range also holds
what the quickest and the slowest of them would need.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil
from random import Random

from attrs import frozen

__all__ = ["FEW", "LEAST", "SittingsLeft", "sittings_left"]

LEAST = 3
"""Sittings without which nothing is foretold (our choice)."""

FEW = 8
"""Up to so many sittings the range is widened (tests/core/test_pace.py measures how often it holds)."""

_DRAWS = 600
_MANY = 100
"""Where more sittings than this are left, single ones do not matter any more, only how many prints one brings."""


@frozen
class SittingsLeft:
    """How many more sittings it takes: eight times in ten no fewer than `least` and no more than `most`."""

    least: int
    likely: int
    most: int


def sittings_left(paces: Sequence[int], left: int) -> SittingsLeft | None:
    """What is to be expected when `left` prints are left; `paces` are the prints of each sitting, at least 1.

    None where fewer than `LEAST` sittings were held.
    """
    if len(paces) < LEAST:
        return None
    if left <= 0:
        return SittingsLeft(0, 0, 0)
    chance = Random(len(paces) * 1_000_003 + left)  # the same history foretells the same
    draws = sorted(_drawn(paces, left, chance) for _ in range(_DRAWS))
    least, likely, most = (draws[int(share * (_DRAWS - 1))] for share in (0.1, 0.5, 0.9))
    if len(paces) <= FEW:
        least, most = min(least, ceil(left / max(paces))), max(most, ceil(left / min(paces)))
    return SittingsLeft(least, likely, most)


def _drawn(paces: Sequence[int], left: int, chance: Random) -> int:
    """How many sittings it takes in one drawn future."""
    like_it = chance.choices(paces, k=len(paces))
    mean = sum(like_it) / len(like_it)
    if left > _MANY * mean:
        return ceil(left / mean)
    sittings = 0
    while left > 0:
        left -= chance.choice(like_it)
        sittings += 1
    return sittings
