"""One order for all things, the undated ones too: a best guess within each range, then what must precede what."""

from __future__ import annotations

import heapq
from collections import defaultdict, deque
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from attrs import frozen

from solander.core.chronology.network import Range, Solution

__all__ = ["Placed", "put_in_order"]

_WIDE_DAYS = 20 * 365
"""A range wider than this, a lifetime say, tells little of its middle: it counts as undated (our choice)."""

_NEIGHBOURS = 8
"""So many dated neighbours draw a guess; farther ones hardly count (weight one by distance; no source)."""


@frozen
class Placed:
    """A thing in its place; `guess` is a day within its range, None only when nothing at all is dated."""

    thing: str
    guess: int | None


def put_in_order(
    things: Sequence[str],
    solution: Solution,
    *,
    precedes: Iterable[tuple[str, str]] = (),
    accession: Mapping[str, Any] | None = None,
    neighbours: Mapping[str, Sequence[str]] | None = None,
    leaning: Mapping[str, str] | None = None,
) -> list[Placed]:
    """All `things` in one order, each with its best guess.

    The guess is the middle of the days that a range allows. Where a side is open or the range is very wide, it
    is that of the thing that it is `leaning` to (a picture leans to its printing), if that one is dated; else it
    is drawn towards the guesses of the dated `neighbours` (the nearest first: weights 1, 1/2, 1/3 …); without
    any it is the middle, the one bound that is known, or the median of all dated things. It is kept within its
    range, and never comes before the guess of a thing which `precedes` it.

    The order is by guess, then by what precedes, then by `accession` (any sortable keys; the order of `things`
    without), so that equal guesses stay together as they came. A new date moves only the thing, what is tied
    to it and its undated neighbours.
    """
    rank = {thing: place for place, thing in enumerate(things)}
    keys = {thing: (accession[thing] if accession else rank[thing], rank[thing]) for thing in things}
    pairs = [(a, b) for a, b in precedes if a in solution.ranges and b in solution.ranges]
    guesses = _guesses(solution, neighbours or {}, leaning or {})
    _keep_precedence(guesses, pairs, solution)
    order = _walk({**guesses, **dict.fromkeys(set(things) - guesses.keys())}, pairs, keys)
    return [Placed(thing, guesses.get(thing)) for thing in order if thing in rank]


def _guesses(
    solution: Solution, neighbours: Mapping[str, Sequence[str]], leaning: Mapping[str, str]
) -> dict[str, int]:
    middles = {thing: middle for thing in solution.ranges if (middle := _middle(thing, solution)) is not None}
    dated = {thing: middle for thing, middle in middles.items() if not _is_wide(solution.ranges[thing])}
    fallback = _median(list(dated.values()) or list(middles.values()) or _single_bounds(solution))
    found = dict(dated)
    for thing in solution.ranges.keys() - dated.keys():
        first, last = solution.ranges[thing]
        drawn = _drawn([dated[near] for near in neighbours.get(thing, ()) if near in dated])
        ways = (dated.get(leaning.get(thing, "")), drawn, middles.get(thing), first, last, fallback)
        guess = next((day for day in ways if day is not None), None)
        if guess is not None:
            found[thing] = _within(guess, first, last)
    return found


def _is_wide(reach: Range) -> bool:
    first, last = reach
    return first is not None and last is not None and last - first > _WIDE_DAYS


def _middle(thing: str, solution: Solution) -> int | None:
    first, last = solution.ranges[thing]
    if first is None or last is None:
        return None
    stretches = solution.pieces.get(thing, ((first, last),))
    left = sum(last - first + 1 for first, last in stretches) // 2
    for start, end in stretches:
        if left <= end - start:
            return start + left
        left -= end - start + 1
    return last


def _drawn(near: Sequence[int]) -> int | None:
    if not near:
        return None
    weights = [1 / (place + 1) for place in range(len(near[:_NEIGHBOURS]))]
    return round(sum(w * day for w, day in zip(weights, near, strict=False)) / sum(weights))


def _single_bounds(solution: Solution) -> list[int]:
    return [end for ends in solution.ranges.values() for end in ends if end is not None]


def _median(days: list[int]) -> int | None:
    return sorted(days)[len(days) // 2] if days else None


def _within(guess: int, first: int | None, last: int | None) -> int:
    guess = guess if first is None else max(guess, first)
    return guess if last is None else min(guess, last)


def _keep_precedence(guesses: dict[str, int], pairs: Iterable[tuple[str, str]], solution: Solution) -> None:
    """Moves guesses on so that none comes before one that precedes it.

    The ranges allow it: what follows can be at least as late as what it follows.
    """
    after = defaultdict(list)
    for a, b in pairs:
        after[a].append(b)
    waiting = [thing for thing in guesses if after[thing]]
    while waiting:
        a = waiting.pop()
        for b in after[a]:
            if guesses[b] < guesses[a]:
                guesses[b] = _within(guesses[a], *solution.ranges[b])
                waiting.append(b)


def _walk(
    guesses: Mapping[str, int | None], pairs: Iterable[tuple[str, str]], keys: Mapping[str, Any]
) -> list[str]:
    """By guess and accession, but nothing before what precedes it.

    Things that must precede each other are of one day: whichever comes first by its key opens the circle.
    """
    after, waits_for = defaultdict(list), dict.fromkeys(guesses, 0)
    for a, b in dict.fromkeys(pairs):
        if a in waits_for and b in waits_for:
            after[a].append(b)
            waits_for[b] += 1
    by_key = deque(sorted(guesses, key=lambda thing: _place(thing, guesses, keys)))
    turn = {thing: number for number, thing in enumerate(by_key)}
    ready = [(number, thing) for thing, number in turn.items() if not waits_for[thing]]
    order: dict[str, None] = {}
    while by_key:
        thing = heapq.heappop(ready)[1] if ready else by_key.popleft()
        if thing in order:
            continue
        order[thing] = None
        for b in after.get(thing, ()):
            waits_for[b] -= 1
            if not waits_for[b]:
                heapq.heappush(ready, (turn[b], b))
    return list(order)


def _place(thing: str, guesses: Mapping[str, int | None], keys: Mapping[str, Any]) -> tuple[Any, ...]:
    guess = guesses[thing]
    key = keys.get(thing)
    return guess is None, guess or 0, key is not None, *(key or ()), thing
