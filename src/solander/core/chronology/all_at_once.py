"""Solving very many statements at once: bounds and ties in whole arrays, holes where they are.

The answer is that of plain propagation, for both tighten to the same end; only the causes are not written down
on the way but traced when someone asks for the reasons of a bound (`tracing`).
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray

from solander.core.chronology.bulk import Bounds, Bulk, Days, Differences
from solander.core.chronology.constraints import Statement
from solander.core.chronology.holes import with_holes
from solander.core.chronology.rounds import NOTHING, Graph, Ranges, Whole, settled
from solander.core.chronology.solution import Range, Solution, holes_in
from solander.core.chronology.tracing import Traced

__all__ = ["solved_at_once", "tightest"]

_EXACT = 2.0**53
"""Beyond it not every whole number of days is a float."""


def tightest(things: int, bounds: Bounds, differences: Differences) -> Ranges | None:
    """The tightest range of every thing, numbered from 0, under bounds and differences in arrays.

    The way in for those who have arrays; `solve` lays out statements for it.

    None when these contradict each other, and in the rare cases that `rounds.settled` names.
    """
    if not _are_exact(bounds.earliest, bounds.latest, differences.least, differences.most):
        return None
    graph, difference = differences.graph(things)
    alone = _alone(things, bounds.thing, bounds.earliest), _alone(things, bounds.thing, -bounds.latest)
    first = settled(graph, alone[0])
    last = None if first is None else settled(graph.turned, alone[1])
    if first is None or last is None:
        return None
    if (first > -last).any() or not _undated_agree(graph, (first == NOTHING) & (last == NOTHING)):
        return None
    return Ranges(first, -last, graph, difference, alone)


def _are_exact(*days: Days) -> bool:
    return all(not (np.abs(each) >= _EXACT).any() for each in days)


def _alone(things: int, thing: Whole, days: Days) -> Whole:
    found = np.full(things, NOTHING, dtype=np.int64)
    known = ~np.isnan(days)
    np.maximum.at(found, thing[known], days[known].astype(np.int64))
    return found


def _undated_agree(graph: Graph, undated: NDArray[np.bool_]) -> bool:
    """Whether ties among things without any bound can hold: from any day on for all of them it must settle."""
    ties = undated[graph.source] & undated[graph.target]
    if not (graph.days[ties] > 0).any():
        return True
    among = Graph(graph.things, graph.source[ties], graph.target[ties], graph.days[ties])
    return settled(among, np.where(undated, 0, NOTHING)) is not None


# -- statements ----------------------------------------------------------------------------------------------


def solved_at_once(places: dict[str, int], statements: Sequence[Statement]) -> Solution | None:
    """The tightest ranges; None when the statements contradict each other or plain propagation is needed.

    Raises
    ------
    KeyError
        When a statement speaks of a thing that has no place.
    """
    bulk = Bulk.of(places, statements)
    ranges = tightest(len(places), bulk.bounds, bulk.differences)
    if ranges is None:
        return None
    if not bulk.holed:
        return Solution(_as_pairs(places, ranges), {}, {}, Traced(bulk, ranges))
    holed = with_holes(bulk, ranges)
    if holed is None:
        return None
    ranges, state = holed
    grounds = Traced(bulk, ranges, frozenset(state.holes_why) | state.own.keys())
    return Solution(_as_pairs(places, ranges), *holes_in(state, tuple(places)), grounds)


def _as_pairs(places: dict[str, int], ranges: Ranges) -> dict[str, Range]:
    first, last = _listed(ranges.first, NOTHING), _listed(ranges.last, -NOTHING)
    # Filling a copied table takes two thirds of the time of a new one, which must grow.
    found: dict[str, Any] = places.copy()
    for thing, day, last_day in zip(places, first, last, strict=True):
        found[thing] = day, last_day
    return found


def _listed(days: Whole, nothing: int) -> list[int | None]:
    found: list[int | None] = days.tolist()
    for x in np.flatnonzero(days == nothing).tolist():
        found[x] = None
    return found
