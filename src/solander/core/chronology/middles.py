"""Guesses from the middles of ranges and from neighbours: the rule before `best_guesses`."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from solander.core.chronology.guess import Guess
from solander.core.chronology.solution import Range, Solution

__all__ = ["middle_guesses"]

_WIDE_DAYS = 20 * 365
"""A range wider than this, a lifetime say, tells little of its middle: it counts as undated (our choice)."""

_NEIGHBOURS = 8
"""So many dated neighbours draw a guess; farther ones hardly count (weight one by distance; no source)."""


def middle_guesses(
    solution: Solution, neighbours: Mapping[str, Sequence[str]], leaning: Mapping[str, str]
) -> dict[str, Guess]:
    """A guess without a range (its first and last day are the guess itself) for every thing, if any is dated.

    It is the middle of the days that a range allows. Where a side is open or the range is very wide, it is that
    of the thing that it is `leaning` to, if that one is dated; else it is drawn towards the dated `neighbours`
    (the nearest first: weights 1, 1/2, 1/3 …); without any it is the middle, the one bound that is known, or
    the median of all dated things. It is kept within its range.
    """
    found = _guesses(solution, neighbours, leaning)
    return {thing: Guess(day, day, day) for thing, day in found.items()}


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
