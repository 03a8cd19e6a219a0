"""How far a bound on one thing pushes the bounds of others, for thousands of things at once.

A first day that rises pushes the first days of what must come later; a last day that falls does the same seen in
a mirror. Without holes in the ranges the push from x to u is the longest path between them, whatever the day:
u comes no earlier than x + path. A path is followed only as long as it moves something, for the ranges are the
tightest there are: what does not move moves nothing else.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import inf

import numpy as np
import numpy.typing as npt
from attrs import frozen

from solander.core.chronology.constraints import Difference, Statement

__all__ = ["Days", "Flags", "Numbers", "Pushed", "Side", "Sources", "Ties", "pushed", "side_of", "ties_of"]

Days = npt.NDArray[np.float64]
Numbers = npt.NDArray[np.int64]
Flags = npt.NDArray[np.bool_]

_LARGEST_TABLE = 4_000_000
"""Cells of one batch, 12 bytes each: 48 MB."""

_LARGEST_BATCH = 2_000


@frozen
class Ties:
    """Ties by the thing they start from, each tie once from either end: thing `x` has the ties `starts[x]` to
    `starts[x + 1]`; thing `to` lies `least` … `most` days after it, ±inf where open."""

    starts: Numbers
    to: Numbers
    least: Days
    most: Days


@frozen
class Side:
    """One direction of pushing: `push` days from each thing to those in `to`, grouped as in `Ties`.

    `first` holds the first day of every thing, row by row for each world. For last days all days are negated.
    """

    starts: Numbers
    to: Numbers
    push: Days
    first: Days


@frozen
class Sources:
    """The things that query number `query` moves itself, in order of query; no thing twice in one query."""

    query: Numbers
    thing: Numbers

    def of_queries(self, start: int, end: int) -> Sources:
        """Those of some queries, which are numbered from 0 then."""
        part = slice(*np.searchsorted(self.query, [start, end]))
        return Sources(self.query[part] - start, self.thing[part])


@frozen
class Pushed:
    """Thing `thing` comes `push` days at least after a source of query number `query`."""

    query: Numbers
    thing: Numbers
    push: Days


def ties_of(statements: Sequence[Statement], places: Mapping[str, int], wanted: Flags) -> Ties:
    """The ties among things, without the dead ends that lead to nothing `wanted`."""
    said = [each for each in statements if isinstance(each, Difference)]
    a = np.array([places[each.a] for each in said], dtype=np.int64)
    b = np.array([places[each.b] for each in said], dtype=np.int64)
    least = np.array([-inf if each.min_days is None else each.min_days for each in said], dtype=np.float64)
    most = np.array([inf if each.max_days is None else each.max_days for each in said], dtype=np.float64)
    kept = _leading_on(a, b, wanted)
    a, b, least, most = a[kept], b[kept], least[kept], most[kept]
    origin = np.concatenate([a, b])
    order = np.argsort(origin, kind="stable")
    return Ties(
        _starts(origin, len(wanted)),
        np.concatenate([b, a])[order],
        np.concatenate([least, -most])[order],
        np.concatenate([most, -least])[order],
    )


def _leading_on(a: Numbers, b: Numbers, wanted: Flags) -> Numbers:
    kept = np.arange(len(a))
    while len(kept):
        uses = np.bincount(np.concatenate([a[kept], b[kept]]), minlength=len(wanted))
        alive = wanted | (uses > 1)
        left = kept[alive[a[kept]] & alive[b[kept]]]
        if len(left) == len(kept):
            break
        kept = left
    return kept


def _starts(origin: Numbers, things: int) -> Numbers:
    return np.concatenate([[0], np.cumsum(np.bincount(origin, minlength=things))])


def side_of(ties: Ties, push: Days, first: Days) -> Side:
    """The ties that push at all (`push` above −inf), with the days that they push from."""
    used = push > -inf
    origin = np.repeat(np.arange(len(ties.starts) - 1), np.diff(ties.starts))
    return Side(_starts(origin[used], len(ties.starts) - 1), ties.to[used], push[used], first)


def pushed(side: Side, sources: Sources, *, world: Numbers, top: Days) -> list[Pushed]:
    """What is pushed when the first days of the sources of each query rise to its `top`, in its `world`; the
    sources themselves included, with a push of 0. In batches, so that memory stays small."""
    found: list[Pushed] = []
    waiting = [(start, min(start + _LARGEST_BATCH, len(top))) for start in range(0, len(top), _LARGEST_BATCH)]
    while waiting:
        start, end = waiting.pop()
        batch = sources.of_queries(start, end)
        near = _reached(side, batch, top[start:end])
        if len(near) * (end - start) > _LARGEST_TABLE and end - start > 1:
            middle = (start + end) // 2
            waiting += [(start, middle), (middle, end)]
            continue
        part = _pushed_within(near, side, batch, world=world[start:end], top=top[start:end])
        found.append(Pushed(part.query + start, part.thing, part.push))
    return found


def _out_of(side: Side, things: Numbers) -> tuple[Numbers, Numbers]:
    """The numbers of all ties out of `things`, and for each the place of its thing in `things`."""
    counts = side.starts[things + 1] - side.starts[things]
    origin = np.repeat(np.arange(len(things)), counts)
    offsets = side.starts[things] - (np.cumsum(counts) - counts)
    return np.arange(len(origin)) + offsets[origin], origin


def _reached(side: Side, sources: Sources, top: Days) -> Numbers:
    """All things that may move when all sources rise together: at least those that any of them moves."""
    things = len(side.starts) - 1
    floor = side.first.reshape(-1, things).min(axis=0)
    best = np.full(things, -inf)
    np.maximum.at(best, sources.thing, top[sources.query])
    edge = np.unique(sources.thing)
    while len(edge):
        tie, origin = _out_of(side, edge)
        to, day = side.to[tie], best[edge[origin]] + side.push[tie]
        moved = (day > floor[to]) & (day > best[to])
        np.maximum.at(best, to[moved], day[moved])
        edge = np.unique(to[moved])
    best[sources.thing] = inf
    return np.flatnonzero(best > -inf)


def _pushed_within(near: Numbers, side: Side, sources: Sources, *, world: Numbers, top: Days) -> Pushed:
    """Label-correcting search for all queries at once; one row of the table a query, one column a thing."""
    things, width = len(side.starts) - 1, len(near)
    column = np.zeros(things, dtype=np.int64)
    column[near] = np.arange(width)
    query, thing = sources.query, sources.thing
    cell = query * width + column[thing]
    best = np.full(len(top) * width, -inf)
    turn = np.empty(len(top) * width, dtype=np.int32)
    best[cell] = 0
    cells = [cell]
    while len(cell):
        tie, origin = _out_of(side, thing)
        to, push, query = side.to[tie], best[cell[origin]] + side.push[tie], query[origin]
        cell = query * width + column[to]
        moved = (top[query] + push > side.first[world[query] * things + to]) & (push > best[cell])
        query, thing, push, cell = query[moved], to[moved], push[moved], cell[moved]
        new = best[cell] == -inf
        np.maximum.at(best, cell, push)
        turn[cell] = np.arange(len(cell))
        # Several ways into one cell: it goes on once, with the longest.
        once = turn[cell] == np.arange(len(cell))
        cells.append(cell[once & new])
        query, thing, cell = query[once], thing[once], cell[once]
    every = np.concatenate(cells)
    return Pushed(every // width, near[every % width], best[every])
