"""Tightest ranges by propagation: what one thing allows, its neighbours must keep to.

Every thing has a first and a last possible day, and stretches between them where there are holes. A statement
tightens one thing; each tightened thing tightens those it is tied to, until nothing changes. Without holes that
is the shortest-path solution of difference constraints, hence the tightest range of every thing. With holes the
ranges and stretches are exact where the ties form a tree; where ties close a circle a stretch may remain that
no full solution uses.

Ties that contradict each other with no date at all ("a before b before a") would chase one another for ever, so
they are refused before: `_places` keeps for every thing a number such that all ties hold, repaired at each new
tie as in S. Cotton and O. Maler, "Fast and flexible difference constraint propagation for DPLL(T)" (2006;
from memory).
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable, Sequence
from math import inf
from typing import Any

from solander.core.chronology.constraints import Between, Difference, Months, Pieces, Statement
from solander.core.chronology.domains import (
    UNBOUNDED,
    Domain,
    clipped,
    common,
    joined,
    month_stretches,
    next_allowed,
    shifted,
)

__all__ = ["Cause", "Propagation", "statements_behind"]

Cause = tuple[int, tuple[Any, ...]]
"""A statement's number and the causes that it built on."""

_LONGEST_LISTED = 1000 * 366
"""Months are written out as stretches in ranges of up to a thousand years; in longer ones only the ends fit."""
_MOST_VISITS = 5000
"""A bound without limit that was moved on so often by months that exclude each other will move for ever: the
calendar repeats after 400 years, 4,800 months."""


def statements_behind(causes: Iterable[Cause | None]) -> list[int]:
    """The numbers of all statements behind the causes, nearest first."""
    found: dict[int, None] = {}
    seen: set[int] = set()
    waiting = deque(cause for cause in causes if cause)
    while waiting:
        cause = waiting.popleft()
        if id(cause) in seen:
            continue
        seen.add(id(cause))
        found.setdefault(cause[0])
        waiting.extend(parent for parent in cause[1] if parent)
    return list(found)


class Propagation:
    """The state of all things, numbered from 0; changes since `mark` can be taken back."""

    def __init__(self, things: int) -> None:
        self.first: list[float] = [-inf] * things
        self.last: list[float] = [inf] * things
        self.first_why: list[Cause | None] = [None] * things
        self.last_why: list[Cause | None] = [None] * things
        self.domains: dict[int, Domain] = {}
        self.holes_why: dict[int, tuple[Cause, ...]] = {}
        self.ties: list[list[tuple[int, float, float, int]]] = [[] for _ in range(things)]
        self.months: dict[int, tuple[tuple[int, Months], ...]] = {}
        self._places: list[float] = [0] * things
        self._log: list[tuple[Any, ...]] = []

    # -- statements in ---------------------------------------------------------------------------------------

    def take(self, number: int, said: Statement, places: dict[str, int]) -> list[Cause | None] | None:
        """Takes in one statement; gives the causes of the contradiction when it can't be, after which the
        caller takes everything back with `undo`."""
        if isinstance(said, Difference):
            a, b = places[said.a], places[said.b]
            least, most = _ends(said.min_days, said.max_days)
            if clash := self._place(number, a, b, least, most):
                return clash
            self.tie(number, a, b, least, most)
            return self.spread((a, b))
        x = places[said.x]
        return self.bind(number, said, x) or self.spread((x,))

    def take_all(self, statements: Sequence[Statement], places: dict[str, int]) -> bool:
        """Takes in many statements into an empty state; False, leaving it spoilt, when they contradict."""
        for number, said in enumerate(statements):
            if isinstance(said, Difference):
                self.tie(number, places[said.a], places[said.b], *_ends(said.min_days, said.max_days))
            elif self.bind(number, said, places[said.x]) is not None:
                return False
        bounded = (x for x in range(len(self.first)) if self.first[x] > -inf or self.last[x] < inf)
        return self.place_all() and self.spread(bounded) is None

    def tie(self, number: int, a: int, b: int, least: float, most: float) -> None:
        """Ties b to `least` … `most` days after a."""
        self.ties[a].append((b, least, most, number))
        self.ties[b].append((a, -most, -least, number))
        self._log.append(("tie", a, b))

    def bind(self, number: int, said: Between | Months | Pieces, x: int) -> list[Cause | None] | None:
        """Tightens one thing by what is said of it alone; gives causes when nothing is left."""
        if isinstance(said, Between):
            first, last = _ends(said.earliest, said.latest)
            self._tighten(x, first, last, (number, ()), (number, ()))
        elif isinstance(said, Pieces):
            allowed = joined(_ends(first, last) for first, last in said.pieces)
            if not self._keep_to(x, allowed, (number, ())):
                return self._causes(x, (number, ()))
        else:
            self._remember(self.months, x)
            self.months[x] = (*self.months.get(x, ()), (number, said))
        return self._settle(x)

    # -- all ties at once ------------------------------------------------------------------------------------

    def place_all(self) -> bool:
        """Finds a number for every thing such that all ties hold; False when there is none."""
        places, ties = self._places, self.ties
        visits = [0] * len(places)
        queue = deque(x for x, tied in enumerate(ties) if any(tie[1] > 0 for tie in tied))
        queued = set(queue)
        while queue:
            x = queue.popleft()
            queued.discard(x)
            for y, least, _, _ in ties[x]:
                if places[x] + least > places[y]:
                    places[y] = places[x] + least
                    if y not in queued:
                        visits[y] += 1
                        if visits[y] > len(places):
                            return False
                        queued.add(y)
                        queue.append(y)
        return True

    def _place(self, number: int, a: int, b: int, least: float, most: float) -> list[Cause | None] | None:
        """Repairs the numbers for a new tie; gives the circle of ties that contradicts it, if there is one."""
        return self._raise(number, a, b, least) or self._raise(number, b, a, -most)

    def _raise(self, number: int, source: int, target: int, least: float) -> list[Cause | None] | None:
        places = self._places
        if places[source] + least <= places[target]:
            return None
        came: dict[int, Cause] = {target: (number, ())}
        self._move(target, places[source] + least)
        queue = deque((target,))
        while queue:
            x = queue.popleft()
            for y, gap, _, tie in self.ties[x]:
                if places[x] + gap > places[y]:
                    came[y] = (tie, (came[x],))
                    if y == source:
                        return [came[y]]
                    self._move(y, places[x] + gap)
                    queue.append(y)
        return None

    def _move(self, x: int, place: float) -> None:
        self._log.append(("place", x, self._places[x]))
        self._places[x] = place

    # -- propagation -----------------------------------------------------------------------------------------

    def spread(self, changed: Iterable[int]) -> list[Cause | None] | None:
        """Tightens whatever is tied to changed things until all agree; gives causes when they can't."""
        queue = deque(changed)
        queued = set(queue)
        visits: dict[int, int] = {}
        # This is the innermost loop of every solve; local names and tightening in place halve its time.
        first, last, first_why, last_why = self.first, self.last, self.first_why, self.last_why
        domains, months, log = self.domains, self.months, self._log
        while queue:
            x = queue.popleft()
            queued.discard(x)
            if x in months and self._chased(x, visits):
                return self._causes(x)
            earliest, latest, holed = first[x], last[x], x in domains
            for y, least, most, number in self.ties[x]:
                moved = False
                if earliest + least > first[y]:
                    log.append(("first", y, first[y], first_why[y]))
                    first[y], first_why[y], moved = earliest + least, (number, (first_why[x],)), True
                if latest + most < last[y]:
                    log.append(("last", y, last[y], last_why[y]))
                    last[y], last_why[y], moved = latest + most, (number, (last_why[x],)), True
                if holed and (holes := self._pass_holes(x, y, least, most, number)) is not None:
                    if not holes:
                        return self._causes(y, *self._holes_cause(x, number))
                    moved = True
                if not moved:
                    continue
                unsettled = first[y] > last[y] or y in domains or y in months
                if unsettled and (clash := self._settle(y)):
                    return clash
                if y not in queued:
                    queued.add(y)
                    queue.append(y)
        return None

    def _chased(self, x: int, visits: dict[int, int]) -> bool:
        visits[x] = visits.get(x, 0) + 1
        return visits[x] > _MOST_VISITS and (self.first[x] == -inf or self.last[x] == inf)

    def _tighten(self, x: int, first: float, last: float, first_why: Cause, last_why: Cause) -> None:
        if first > self.first[x]:
            self._log.append(("first", x, self.first[x], self.first_why[x]))
            self.first[x], self.first_why[x] = first, first_why
        if last < self.last[x]:
            self._log.append(("last", x, self.last[x], self.last_why[x]))
            self.last[x], self.last_why[x] = last, last_why

    def _settle(self, x: int) -> list[Cause | None] | None:
        """Brings first and last day, stretches and months of a thing to agree; gives causes when they can't."""
        if self.first[x] > self.last[x]:
            return self._causes(x)
        for number, said in self.months.get(x, ()):
            if not self._keep_to_months(x, number, said):
                return self._causes(x, (number, ()))
        if x in self.domains and not self._keep_to(x, UNBOUNDED, None):
            return self._causes(x)
        return None

    def _keep_to_months(self, x: int, number: int, said: Months) -> bool:
        first, last = self.first[x], self.last[x]
        if last - first <= _LONGEST_LISTED:
            # Written out once; from here on they are stretches like any others.
            self._remember(self.months, x)
            self.months[x] = tuple(each for each in self.months[x] if each[0] != number)
            if not self.months[x]:
                del self.months[x]
            why = (number, (self.first_why[x], self.last_why[x]))
            return self._keep_to(x, month_stretches(said, int(first), int(last)), why)
        new_first = next_allowed(said, int(first), 1) if first > -inf else first
        new_last = next_allowed(said, int(last), -1) if last < inf else last
        self._tighten(x, new_first, new_last, (number, (self.first_why[x],)), (number, (self.last_why[x],)))
        return True

    def _pass_holes(self, x: int, y: int, least: float, most: float, number: int) -> Domain | None:
        """What is left of y when it keeps to the stretches of x; None when that changes nothing."""
        allowed = shifted(self.domains[x], least, most)
        if len(allowed) == 1 and y not in self.domains:
            return None
        before = self.domains.get(y) or [(self.first[y], self.last[y])]
        left = common(before, allowed)
        if left == before:
            return None
        if left:
            self._keep(y, left, self._holes_cause(x, number)[0])
        return left

    def _holes_cause(self, x: int, number: int) -> tuple[Cause, ...]:
        return ((number, (*self.holes_why.get(x, ()), self.first_why[x], self.last_why[x])),)

    def _keep_to(self, x: int, allowed: Domain, why: Cause | None) -> bool:
        """Cuts a thing down to allowed stretches; False when nothing is left."""
        left = clipped(self.domains.get(x) or UNBOUNDED, self.first[x], self.last[x])
        left = common(left, allowed)
        if left:
            self._keep(x, left, why)
        return bool(left)

    def _keep(self, x: int, left: Domain, why: Cause | None) -> None:
        if why is not None:
            self._remember(self.holes_why, x)
            self.holes_why[x] = (*self.holes_why.get(x, ()), why)
        holes = self.holes_why.get(x, ())
        self._tighten(
            x,
            left[0][0],
            left[-1][1],
            _because(holes, self.first_why[x]),
            _because(holes, self.last_why[x]),
        )
        self._remember(self.domains, x)
        if len(left) > 1:
            self.domains[x] = left
        else:
            self.domains.pop(x, None)

    # -- causes and taking back ------------------------------------------------------------------------------

    def _causes(self, x: int, *more: Cause) -> list[Cause | None]:
        return [self.first_why[x], self.last_why[x], *self.holes_why.get(x, ()), *more]

    def mark(self) -> int:
        """Where the log stands now, for `undo`."""
        return len(self._log)

    def _remember(self, table: dict[int, Any], x: int) -> None:
        self._log.append(("table", table, x, table.get(x)))

    def forget_log(self) -> None:
        """Makes everything so far final."""
        self._log.clear()

    def undo(self, mark: int) -> None:
        """Takes back everything since `mark`."""
        while len(self._log) > mark:
            kind, *entry = self._log.pop()
            getattr(self, f"_undo_{kind}")(*entry)

    def _undo_tie(self, a: int, b: int) -> None:
        self.ties[a].pop()
        self.ties[b].pop()

    def _undo_place(self, x: int, place: float) -> None:
        self._places[x] = place

    def _undo_first(self, x: int, first: float, why: Cause | None) -> None:
        self.first[x], self.first_why[x] = first, why

    def _undo_last(self, x: int, last: float, why: Cause | None) -> None:
        self.last[x], self.last_why[x] = last, why

    def _undo_table(self, table: dict[int, Any], x: int, entry: Any) -> None:
        if entry is None:
            table.pop(x, None)
        else:
            table[x] = entry


def _because(holes: tuple[Cause, ...], why: Cause | None) -> Cause:
    return holes[-1][0], (*holes[-1][1], *holes[:-1], why)


def _ends(least: int | None, most: int | None) -> tuple[float, float]:
    return (-inf if least is None else least), (inf if most is None else most)
