"""Time cut into days, weeks or calendar months, and what each allows a thing: the way there and back."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import numpy as np
import numpy.typing as npt
from attrs import frozen

from solander.core.chronology.kernels import Array
from solander.core.days import from_day

__all__ = ["Cells", "Days", "Weighing", "allowed_shares", "cells_between", "days_at", "days_in"]

Whole = npt.NDArray[np.int64]

_DAY_CELLS = 512
_WEEK_CELLS = 520
"""A chain over at most so many days, or weeks, is worked out in those; a longer one in months."""

_MONTH_DAYS = 30.436875
_EPOCH = 719_163
"""1970-01-01, the first day that numpy counts from."""


@frozen(eq=False)
class Cells:
    """`edges` are the first days of all cells and the day after the last, as ordinals; `days` is the usual
    length of a cell: 1, 7 or that of a mean month."""

    edges: Whole
    days: float

    @property
    def lengths(self) -> Whole:
        """The days in each cell."""
        return np.diff(self.edges)

    def share_one(self, day: int, other: int) -> bool:
        """Whether two days lie in the same cell."""
        places = np.searchsorted(self.edges, (day, other), side="right")
        return bool(places[0] == places[1])


class Weighing:
    """What a piece of soft evidence makes of days: straight lines between `corners` (days) of these `heights`,
    level beyond them."""

    def __init__(self, corners: Sequence[float], heights: Sequence[float]) -> None:
        self._corners, self._heights = list(corners), list(heights)

    def __call__(self, days: Whole) -> Array:
        """The weight of each day, above 0 to 1."""
        weights: Array = np.interp(days, self._corners, self._heights)
        return weights


@frozen(eq=False)
class Days:
    """The days that a thing may lie on: sorted stretches within the cells, ends included, and how much each
    day counts (None: all alike)."""

    stretches: tuple[tuple[int, int], ...]
    weights: tuple[Weighing, ...] = ()


def cells_between(first: int, last: int) -> Cells:
    """Cells that hold all days from `first` to `last`, as fine as their number allows."""
    if last - first < _DAY_CELLS:
        return Cells(np.arange(first, last + 2), 1.0)
    if last - first < 7 * _WEEK_CELLS:
        return Cells(np.arange(first, last + 8, 7), 7.0)
    months = np.arange(_month(first), _month(last) + 2).astype("datetime64[M]")
    return Cells(months.astype("datetime64[D]").astype(np.int64) + _EPOCH, _MONTH_DAYS)


def _month(day: int) -> int:
    year, month, _ = from_day(day)
    return (year - 1970) * 12 + month - 1


def allowed_shares(things: Sequence[Days], cells: Cells) -> Array:
    """How much of each cell is allowed to each thing, 0 to 1, shape (things, cells)."""
    ends = np.array([(days.stretches[0][0], days.stretches[-1][1]) for days in things])
    found = _overlap(ends[:, :1], ends[:, 1:], cells)
    for place, days in enumerate(things):
        if days.weights or len(days.stretches) > 1:
            found[place] = sum(_weighed(stretch, days.weights, cells) for stretch in days.stretches)
    shares: Array = found / cells.lengths
    return shares


def _overlap(first: Whole, last: Whole, cells: Cells) -> Array:
    within = np.minimum(last + 1, cells.edges[1:]) - np.maximum(first, cells.edges[:-1])
    overlap: Array = np.maximum(within, 0).astype(np.float64)
    return overlap


def _weighed(stretch: tuple[int, int], weights: Sequence[Weighing], cells: Cells) -> Array:
    """The days of a stretch in each cell, times their mean weight: that of four days spread over them."""
    starts = np.maximum(stretch[0], cells.edges[:-1])
    count = np.maximum(np.minimum(stretch[1] + 1, cells.edges[1:]) - starts, 0)
    inside = np.flatnonzero(count)
    chosen = starts[inside] + np.arange(1, 8, 2)[:, None] * count[inside] // 8
    found = np.zeros(len(count))
    found[inside] = count[inside] * _weights_of(chosen, weights).mean(axis=0)
    return found


def _weights_of(days: Whole, weights: Sequence[Weighing]) -> Array:
    found = np.ones(days.shape)
    for weighing in weights:
        found *= weighing(days)
    return found


def days_in(days: Days, listed: Whole) -> Array:
    """The weight of each listed day, 0 where it is not allowed."""
    inside = np.zeros(len(listed), dtype=bool)
    for first, last in days.stretches:
        inside |= (listed >= first) & (listed <= last)
    return inside * _weights_of(listed, days.weights)


_TIE = 1e-9
"""Chances this near to a limit have reached it, so that rounding, which may change with the company in which a
chain is worked out, can't turn an even chance into another day."""


def days_at(chances: Array, days: Sequence[Days], cells: Cells, *, shares: Iterable[float]) -> list[list[int]]:
    """By share, for each thing the first allowed day by which so much of its chances lies.

    `chances` has the shape (things, cells). Inside a cell a chance is spread over its allowed days by their
    weights.
    """
    reached = np.cumsum(chances, axis=1)
    return [_days_at(share, chances, reached, days=days, cells=cells) for share in shares]


def _days_at(share: float, chances: Array, reached: Array, *, days: Sequence[Days], cells: Cells) -> list[int]:
    limit = share * reached[:, -1] - _TIE
    found = (reached < limit[:, None]).sum(axis=1)
    before = np.where(found > 0, reached[np.arange(len(found)), found - 1], 0.0)
    parts = (limit - before) / chances[np.arange(len(found)), found]
    return [
        _day_inside(thing, part, first, last - 1)
        for thing, part, first, last in zip(
            days, parts.tolist(), cells.edges[found].tolist(), cells.edges[found + 1].tolist(), strict=True
        )
    ]


def _day_inside(days: Days, part: float, first: int, last: int) -> int:
    """The day within a cell by which this part of the cell's chance is reached."""
    (start, end), *others = days.stretches
    if not others and not days.weights:
        start, end = max(start, first), min(end, last)
        return min(start + max(int(np.ceil(part * (end - start + 1) - _TIE)) - 1, 0), end)
    listed = np.arange(first, last + 1)
    summed = np.cumsum(days_in(days, listed))
    place = int(np.searchsorted(summed, (part - _TIE) * summed[-1]))
    return int(listed[min(place, len(listed) - 1)])
