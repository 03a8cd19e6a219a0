"""One order for all things, the undated ones too: by best guess, what must precede what, then as they came."""

from __future__ import annotations

import heapq
from collections import Counter, defaultdict, deque
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from attrs import frozen

from solander.core.chronology.guess import Guess
from solander.core.chronology.solution import Solution

__all__ = ["Placed", "put_in_order"]


@frozen
class Placed:
    """A thing in its place; `range_90` is the best day with the range that holds it nine times in ten, None for
    a thing that nothing is known of."""

    thing: str
    range_90: Guess | None

    @property
    def guess(self) -> int | None:
        """The best day, within what the solver allows."""
        return None if self.range_90 is None else self.range_90.day


def put_in_order(
    things: Sequence[str],
    solution: Solution,
    *,
    guesses: Mapping[str, Guess],
    precedes: Iterable[tuple[str, str]] = (),
    accession: Mapping[str, Any] | None = None,
) -> list[Placed]:
    """All `things` in one order, each with its guess.

    The order is total and by these keys, the first that differs deciding:

    1. things with a guess before those without: nothing at all is known of the latter;
    2. the best day, after it was moved on to that of the latest thing which `precedes` it, where it came before;
    3. on the same day, what precedes before what it precedes, each as early as that allows;
    4. the `accession` (any sortable keys; the place in `things` without), so that what can't be told apart stays
       together as it came.

    `precedes` pairs of (a, b) say that a is never after b; things that precede each other both ways are of one
    day, and whichever comes first by its key opens the circle. A range of 90 % that does not hold a day which
    was moved on is widened to it.

    Stable: an edit changes the place of a thing among others only when it changes the guess of one of them, or
    what precedes one of them; and `best_guesses` depend on a thing's own range and on its chain only. The order
    among all things that the edit is not tied to by statements or a chain remains.
    """
    rank = {thing: place for place, thing in enumerate(things)}
    keys = {thing: (0, accession[thing] if accession else place, place) for thing, place in rank.items()}
    pairs = [(a, b) for a, b in precedes if a in solution.ranges and b in solution.ranges]
    kept = dict(guesses)
    _keep_precedence(kept, pairs, solution)
    days = {thing: guess.day for thing, guess in kept.items()}
    # What precedes may do so by way of things that are not shown, a printing or an occasion.
    hidden = {thing: (1, thing) for thing in days if thing not in rank}
    order = _by_day({thing: days.get(thing) for thing in (*rank, *hidden)}, pairs, {**keys, **hidden})
    return [Placed(thing, kept.get(thing)) for thing in order if thing in rank]


def _keep_precedence(guesses: dict[str, Guess], pairs: Iterable[tuple[str, str]], solution: Solution) -> None:
    """Moves guesses on so that none comes before one that precedes it.

    The ranges allow it: what follows can be at least as late as what it follows.
    """
    after = defaultdict(list)
    for a, b in pairs:
        if a in guesses and b in guesses:
            after[a].append(b)
    waiting = list(after)
    while waiting:
        a = waiting.pop()
        for b in after.get(a, ()):
            if guesses[b].day < guesses[a].day:
                moved = _moved(guesses[b], _next_allowed(b, guesses[a].day, solution))
                if moved.day > guesses[b].day:
                    guesses[b] = moved
                    waiting.append(b)


def _next_allowed(thing: str, day: int, solution: Solution) -> int:
    first, last = solution.ranges[thing]
    for start, end in solution.pieces.get(thing, ()):
        if end >= day:
            return max(start, day)
    day = day if first is None else max(day, first)
    return day if last is None else min(day, last)


def _moved(guess: Guess, day: int) -> Guess:
    return Guess(day, min(guess.first, day), max(guess.last, day))


def _by_day(
    days: Mapping[str, int | None], pairs: Iterable[tuple[str, str]], keys: Mapping[str, Any]
) -> list[str]:
    """By day, those without one last; the things of one day by what precedes and by their keys."""
    of_day: dict[int | None, list[str]] = defaultdict(list)
    for thing, day in days.items():
        of_day[day].append(thing)
    followers: dict[str, list[str]] = defaultdict(list)
    for a, b in dict.fromkeys(pairs):
        if a in days and b in days and days[a] == days[b]:
            followers[a].append(b)
    order: list[str] = []
    for day in sorted(of_day, key=lambda day: (day is None, day or 0)):
        order += _same_day(sorted(of_day[day], key=keys.__getitem__), followers)
    return order


def _same_day(by_key: Sequence[str], followers: Mapping[str, Sequence[str]]) -> Iterable[str]:
    """By key, but nothing before what precedes it; where only circles are left, the first by its key opens one."""
    waits_for = Counter(b for a in by_key for b in followers.get(a, ()))
    turn = {thing: number for number, thing in enumerate(by_key)}
    ready = [number for thing, number in turn.items() if not waits_for[thing]]
    left, order = deque(by_key), dict[str, None]()
    while left:
        thing = by_key[heapq.heappop(ready)] if ready else left.popleft()
        if thing in order:
            continue
        order[thing] = None
        for b in followers.get(thing, ()):
            waits_for[b] -= 1
            if not waits_for[b]:
                heapq.heappush(ready, turn[b])
    return order
