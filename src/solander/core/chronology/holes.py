"""Holes among very many things: their bounds are carried on in arrays, their stretches by plain propagation."""

from __future__ import annotations

from collections.abc import Iterable
from math import inf

import numpy as np
from attrs import evolve

from solander.core.chronology.bulk import Bulk, TiesWhenAsked
from solander.core.chronology.propagation import Propagation
from solander.core.chronology.rounds import NOTHING, Ranges, Whole, settled

__all__ = ["with_holes"]

_MOST_TURNS = 30
"""Holes move bounds and bounds meet holes again: 2 to 5 turns in made-up collections of 20,000 and 1,000,000
prints (`benchmarks/time_order.py`); after so many the rest is left to plain propagation, with the same end."""


_EXACT = 2**53
"""Days are floats here, as ±inf is; beyond it not every whole number is one."""


def with_holes(bulk: Bulk, ranges: Ranges) -> tuple[Ranges, Propagation] | None:
    """The ranges when all statements with holes have been taken in too, and the state with their stretches.

    None when they contradict the others, or days are too large. `ranges` must be settled without them.
    """
    known = ranges.first[ranges.first > NOTHING], ranges.last[ranges.last < -NOTHING]
    if any((np.abs(each) >= _EXACT).any() for each in known):
        return None
    state = Propagation.from_bulk(
        np.where(ranges.first == NOTHING, -inf, ranges.first).tolist(),
        np.where(ranges.last == -NOTHING, inf, ranges.last).tolist(),
        TiesWhenAsked(bulk.differences, ranges.graph, ranges.difference),
    )
    for number, (x, said) in enumerate(bulk.holed):
        if state.bind(number, said, x) is not None:
            return None
    holed = list(dict.fromkeys(x for x, _ in bulk.holed))
    turned = _turns(ranges, state, holed)
    if turned is None or state.spread(holed) is not None:
        return None
    return _moved_by(state, turned), state


def _turns(ranges: Ranges, state: Propagation, holed: list[int]) -> Ranges | None:
    """Carries the bounds of things with holes on to the others, and those back to the holes, to the end."""
    of_interest, moved = set(holed), holed
    for _ in range(_MOST_TURNS):
        first, last = ranges.first.copy(), ranges.last.copy()
        raised = _written(first, state.first, moved)
        lowered = _written(last, state.last, moved)
        if not len(raised) and not len(lowered):
            return ranges
        carried = _carried(ranges, first, last, raised=raised, lowered=lowered)
        if carried is None:
            return None
        ranges = carried
        moved = sorted(of_interest & _read(ranges, state, first=first, last=last))
        if not all(state.settle(x) is None for x in moved):
            return None
    return ranges


def _written(days: Whole, bounds: list[float], things: Iterable[int]) -> Whole:
    """Copies the bounds of some things into an array where they differ; gives those things."""
    moved = [x for x in things if abs(bounds[x]) < inf and days[x] != bounds[x]]
    days[moved] = [int(bounds[x]) for x in moved]
    return np.array(moved, dtype=np.int64)


def _carried(ranges: Ranges, first: Whole, last: Whole, *, raised: Whole, lowered: Whole) -> Ranges | None:
    new_first = settled(ranges.graph, first, raised)
    new_last = settled(ranges.graph.turned, -last, lowered)
    if new_first is None or new_last is None or (new_first > -new_last).any():
        return None
    return evolve(ranges, first=new_first, last=-new_last)


def _read(ranges: Ranges, state: Propagation, *, first: Whole, last: Whole) -> set[int]:
    """Copies into the state what the arrays have moved since `first` and `last`; gives what was moved."""
    raised = np.flatnonzero(ranges.first != first).tolist()
    lowered = np.flatnonzero(ranges.last != last).tolist()
    for x in raised:
        state.first[x] = int(ranges.first[x])
    for x in lowered:
        state.last[x] = int(ranges.last[x])
    return {*raised, *lowered}


def _moved_by(state: Propagation, ranges: Ranges) -> Ranges:
    moved = list(state.moved())
    first, last = ranges.first.copy(), ranges.last.copy()
    _written(first, state.first, moved)
    _written(last, state.last, moved)
    return evolve(ranges, first=first, last=last)
