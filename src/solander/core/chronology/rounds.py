"""The least days of very many things at once: longest paths in rounds over whole arrays.

A collection is mostly chains (a roll, an album: each print not before the one before it) and a few other ties.
So each round does two things: it carries days along whole chains in one running maximum, then over all ties of
what was raised. Rounds then follow how often a path changes chains, not how long it is. Where dates are dense
that hardly matters (a made-up collection of 20,000 prints: 95 rounds, 9 ms, against 102 rounds, 7 ms, without
chains); where they are rare it does (20,000 prints in one row with a date at either end: 6 rounds, 2 ms, against
40,000 rounds, 419 ms; both sides together, one core, 2026-11-25, the collection of `benchmarks/time_order.py`).

Greatest days are the same on the turned graph with negated days. Everything is int64; `NOTHING` stands where no
day is known.
"""

from __future__ import annotations

from functools import cached_property

import numpy as np
from attrs import field, frozen
from numpy.typing import NDArray

__all__ = ["NOTHING", "Graph", "Ranges", "Whole", "settled"]

Whole = NDArray[np.int64]

NOTHING = -(2**62)
"""Below every day that is let in here."""

_WORK_A_TIE = 12
"""Settling gives up when it has looked at each tie and thing so often on average: the made-up collection takes
1.2 at 20,000 and at 1,000,000 prints, and ten times that is the time that plain propagation takes."""
_WORK_A_ROUND = 500
"""What the fixed cost of one round, 0.02 to 0.1 ms, counts for in ties looked at (same collection)."""


@frozen(eq=False)
class Graph:
    """Ties between `things` numbered from 0: `target` comes at least `days` after `source`.

    `source`, `target`, `days`: one entry a tie, of equal length.
    """

    things: int
    source: Whole
    target: Whole
    days: Whole
    _chains: Chains | None = field(default=None, alias="chains")

    @cached_property
    def turned(self) -> Graph:
        """The same ties seen from their targets."""
        return Graph(self.things, self.target, self.source, self.days, self.chains.turned)

    @cached_property
    def chains(self) -> Chains:
        """Ties strung together into chains, each thing in one at most."""
        return self._chains or _chains(self)

    @cached_property
    def _by_source(self) -> tuple[Whole, Whole]:
        starts = np.zeros(self.things + 1, dtype=np.int64)
        np.cumsum(np.bincount(self.source, minlength=self.things), out=starts[1:])
        return np.argsort(self.source, kind="stable"), starts

    def out_of(self, things: Whole) -> Whole:
        """The numbers of all ties that begin at these things."""
        order, starts = self._by_source
        return order[_runs(starts[things], starts[things + 1])]

    def out_of_one(self, thing: int) -> list[int]:
        """The numbers of all ties that begin at one thing."""
        order, starts = self._by_source
        return [int(tie) for tie in order[starts[thing] : starts[thing + 1]]]


@frozen(eq=False)
class Chains:
    """Things in chains, one chain after another, each thing with its days after the head of its chain."""

    things: Whole
    days: Whole
    chain: Whole
    starts: Whole
    of: Whole
    """The chain of every thing, −1 for none."""

    @property
    def turned(self) -> Chains:
        """The same chains from their tails."""
        last = len(self.starts) - 2
        of = np.where(self.of >= 0, last - self.of, -1)
        starts = self.starts[-1] - self.starts[::-1]
        return Chains(self.things[::-1], -self.days[::-1], last - self.chain[::-1], starts, of)

    def carry(self, values: Whole, raised: Whole, reach: int) -> Whole:
        """Raises `values` along the chains of raised things; gives all that are raised now.

        `reach` is more than any day in question, so that chains held apart by it share one running maximum.
        """
        of = self.of[raised]
        on = np.zeros(len(self.starts) - 1, dtype=bool)
        on[of[of >= 0]] = True
        moved = np.flatnonzero(on)
        places = _runs(self.starts[moved], self.starts[moved + 1])
        things, days = self.things[places], self.days[places]
        apart = self.chain[places] * (4 * reach)
        before = values[things]
        held = np.where(before > NOTHING, before - days, -2 * reach) + apart
        after = np.maximum.accumulate(held) - apart
        after = np.where(after > -2 * reach, after + days, NOTHING)
        grown = after > before
        values[things[grown]] = after[grown]
        return np.concatenate((raised, things[grown]))


@frozen(eq=False)
class Ranges:
    """The tightest `first` and `last` day of every thing; `NOTHING` and its negative where open.

    `graph` has the ties of one direction each, `difference` the difference that each tie is of; `alone` are the
    first days and the negated last days that things have by themselves.
    """

    first: Whole
    last: Whole
    graph: Graph
    difference: Whole
    alone: tuple[Whole, Whole]


def settled(graph: Graph, least: Whole, raised: Whole | None = None) -> Whole | None:
    """The least day of every thing that keeps all ties, given the least day of each by itself.

    `raised` are the things whose days are not yet settled with the others', all that have a day if not told.
    None when the days could not be found here: they are too large for the arrays, the ties contradict each other
    without end, or so many rounds are needed that plain propagation is better.
    """
    reach = _reach(graph, least)
    if reach is None:
        return None
    values = least.copy()
    if raised is None:
        raised = np.flatnonzero(values > NOTHING)
    # Marks make numbers unique: sorting or hashing them took a third of the time.
    marks = np.zeros(graph.things, dtype=bool)
    work = _WORK_A_TIE * (len(graph.days) + graph.things) + 100 * _WORK_A_ROUND
    while len(raised):
        raised = graph.chains.carry(values, raised, reach)
        ties = graph.out_of(raised)
        work -= len(ties) + len(raised) + _WORK_A_ROUND
        if work < 0:
            return None
        targets, found = graph.target[ties], values[graph.source[ties]] + graph.days[ties]
        better = found > values[targets]
        np.maximum.at(values, targets[better], found[better])
        marks[targets[better]] = True
        raised = np.flatnonzero(marks)
        marks[raised] = False
    return values


def _reach(graph: Graph, least: Whole) -> int | None:
    """More than any day can come to on a path that meets no thing twice; None when int64 can't hold it."""
    known = least[least > NOTHING]
    farthest = float(np.abs(known).max()) if len(known) else 0.0
    reach = int(2 * (farthest + np.abs(graph.days).sum(dtype=np.float64))) + 1
    return reach if reach * 4 * (len(graph.chains.starts) + 1) < -NOTHING else None


def _runs(starts: Whole, ends: Whole) -> Whole:
    """start … end − 1 of every pair, one after another."""
    lengths = ends - starts
    places: Whole = np.arange(int(lengths.sum()), dtype=np.int64)
    places += np.repeat(starts - (np.cumsum(lengths) - lengths), lengths)
    return places


def _chains(graph: Graph) -> Chains:
    """Follows from every thing the first tie that it and its target have, ends of one tie only left out."""
    tie = _next_ties(graph)
    follows = np.full(graph.things, -1, dtype=np.int64)
    on = np.flatnonzero(tie >= 0)
    follows[on] = graph.target[tie[on]]
    has_before = np.zeros(graph.things, dtype=bool)
    has_before[follows[on]] = True
    heads = on[~has_before[on]]
    things, starts = _followed(follows.tolist(), heads.tolist())
    return _measured(graph, tie, things=things, starts=starts)


def _next_ties(graph: Graph) -> Whole:
    """For every thing the tie to the next of its chain, −1 for none."""
    # A thing of one tie only, as most printings are, would cut the chain of a roll into pairs.
    ends = np.bincount(graph.source, minlength=graph.things) + np.bincount(graph.target, minlength=graph.things)
    ties = np.flatnonzero((ends[graph.source] > 1) & (ends[graph.target] > 1))[::-1]
    out, into = (np.full(graph.things, -1, dtype=np.int64) for _ in range(2))
    # Where a thing is named often, the last assignment stays: that of its first tie.
    out[graph.source[ties]] = ties
    into[graph.target[ties]] = ties
    on = np.flatnonzero(out >= 0)
    on = on[into[graph.target[out[on]]] == out[on]]
    tie = np.full(graph.things, -1, dtype=np.int64)
    tie[on] = out[on]
    return tie


def _followed(follows: list[int], heads: list[int]) -> tuple[Whole, Whole]:
    # A plain walk, 0.1 s for a million things. Things in a ring have no head and stay without a chain.
    things: list[int] = []
    starts = [0]
    for head in heads:
        x = head
        while x >= 0:
            things.append(x)
            x = follows[x]
        starts.append(len(things))
    return np.array(things, dtype=np.int64), np.array(starts, dtype=np.int64)


def _measured(graph: Graph, tie: Whole, *, things: Whole, starts: Whole) -> Chains:
    lengths = np.diff(starts)
    chain = np.repeat(np.arange(len(lengths), dtype=np.int64), lengths)
    steps = np.zeros(len(things), dtype=np.int64)
    steps[1:] = np.where(chain[1:] == chain[:-1], graph.days[tie[things[:-1]]], 0)
    days = np.cumsum(steps)
    days -= np.repeat(days[starts[:-1]], lengths) if len(things) else 0
    of = np.full(graph.things, -1, dtype=np.int64)
    of[things] = chain
    return Chains(things, days, chain, starts, of)
