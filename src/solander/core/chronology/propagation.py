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
from typing import Any, NamedTuple

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

Cause = tuple[Any, ...]
"""A statement's number, then the causes (or None) that it built on."""

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
        waiting.extend(parent for parent in cause[1:] if parent)
    return list(found)


class _Tie(NamedTuple):
    """b lies `least` … `most` days after a, as statement `number` says."""

    number: int
    a: int
    b: int
    least: float
    most: float


def _tie(number: int, said: Difference, places: dict[str, int]) -> _Tie:
    return _Tie(number, places[said.a], places[said.b], *_ends(said.min_days, said.max_days))


class _Endless(Exception):
    """More steps were taken than were allowed."""


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
        self._steps_left: float = inf

    # -- statements in ---------------------------------------------------------------------------------------

    def take(self, number: int, said: Statement, places: dict[str, int]) -> list[Cause | None] | None:
        """Takes in one statement; gives the causes of the contradiction when it can't be, after which the
        caller takes everything back with `undo`."""
        if not isinstance(said, Difference):
            x = places[said.x]
            return self.bind(number, said, x) or self.spread((x,))
        tie = _tie(number, said, places)
        if clash := self._place(tie):
            return clash
        self._fasten(tie)
        self._log.append(("tie", tie))
        return self.spread((tie.a, tie.b))

    def take_all(self, statements: Sequence[Statement], places: dict[str, int]) -> bool:
        """Takes in many statements into an empty state, to which no more may be added; False, leaving it
        spoilt, when they contradict."""
        for number, said in enumerate(statements):
            if isinstance(said, Difference):
                self._fasten(_tie(number, said, places))
            elif self.bind(number, said, places[said.x]) is not None:
                return False
        self._steps_left = 20 * (len(self.ties) + len(statements)) + 1000
        try:
            if self.spread(self._bounded()) is not None:
                return False
        except _Endless:
            # Far more steps than sound statements take: either ties that contradict, or an odd order of things.
            self._steps_left = inf
            return self._all_places_agree(range(len(self.ties))) and self.spread(self._bounded()) is None
        # Ties that contradict would have moved any bound for ever; only things without one are left to look at.
        return self._all_places_agree([x for x, first in enumerate(self.first) if first == -inf == -self.last[x]])

    def _bounded(self) -> list[int]:
        return [x for x, first in enumerate(self.first) if first > -inf or self.last[x] < inf]

    def _fasten(self, tie: _Tie) -> None:
        self.ties[tie.a].append((tie.b, tie.least, tie.most, tie.number))
        self.ties[tie.b].append((tie.a, -tie.most, -tie.least, tie.number))

    def bind(self, number: int, said: Between | Months | Pieces, x: int) -> list[Cause | None] | None:
        """Tightens one thing by what is said of it alone; gives causes when nothing is left."""
        if isinstance(said, Between):
            first, last = _ends(said.earliest, said.latest)
            self._tighten(x, first, last, first_why=(number,), last_why=(number,))
        elif isinstance(said, Pieces):
            allowed = joined(_ends(first, last) for first, last in said.pieces)
            if not self._keep_to(x, allowed, (number,)):
                return self._causes(x, (number,))
        else:
            self._remember(self.months, x)
            self.months[x] = (*self.months.get(x, ()), (number, said))
        return self._settle(x)

    # -- ties without dates ----------------------------------------------------------------------------------

    def _all_places_agree(self, things: Iterable[int]) -> bool:
        """Finds numbers for things such that all their ties hold; False when there are none."""
        places, ties = self._places, self.ties
        visits = [0] * len(places)
        queue = deque(x for x in things if any(tie[1] > 0 for tie in ties[x]))
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

    def _place(self, tie: _Tie) -> list[Cause | None] | None:
        """Repairs the numbers for a new tie; gives the circle of ties that contradicts it, if there is one."""
        other_way = _Tie(tie.number, tie.b, tie.a, -tie.most, -tie.least)
        return self._raise(tie) or self._raise(other_way)

    def _raise(self, tie: _Tie) -> list[Cause | None] | None:
        """Raises b, and whatever that raises, until it is `least` after a; gives the circle when a must rise."""
        places = self._places
        if places[tie.a] + tie.least <= places[tie.b]:
            return None
        came: dict[int, Cause] = {tie.b: (tie.number,)}
        self._move(tie.b, places[tie.a] + tie.least)
        queue = deque((tie.b,))
        while queue:
            x = queue.popleft()
            for y, least, _, number in self.ties[x]:
                if places[x] + least > places[y]:
                    came[y] = (number, came[x])
                    if y == tie.a:
                        return [came[y]]
                    self._move(y, places[x] + least)
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
            self._steps_left -= 1
            if self._steps_left < 0:
                raise _Endless
            if x in months and self._chased(x, visits):
                return self._causes(x)
            earliest, latest, holed = first[x], last[x], x in domains
            for y, least, most, number in self.ties[x]:
                moved = False
                if earliest + least > first[y]:
                    log.append(("first", y, first[y], first_why[y]))
                    first[y], first_why[y], moved = earliest + least, (number, first_why[x]), True
                if latest + most < last[y]:
                    log.append(("last", y, last[y], last_why[y]))
                    last[y], last_why[y], moved = latest + most, (number, last_why[x]), True
                if holed and (holes := self._pass_holes(_Tie(number, x, y, least, most))) is not None:
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

    def _tighten(self, x: int, first: float, last: float, *, first_why: Cause, last_why: Cause) -> None:
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
                return self._causes(x, (number,))
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
            why = (number, self.first_why[x], self.last_why[x])
            return self._keep_to(x, month_stretches(said, int(first), int(last)), why)
        new_first = next_allowed(said, int(first), 1) if first > -inf else first
        new_last = next_allowed(said, int(last), -1) if last < inf else last
        self._tighten(
            x, new_first, new_last, first_why=(number, self.first_why[x]), last_why=(number, self.last_why[x])
        )
        return True

    def _pass_holes(self, tie: _Tie) -> Domain | None:
        """What is left of b when it keeps to the stretches of a; None when that changes nothing."""
        allowed = shifted(self.domains[tie.a], tie.least, tie.most)
        if len(allowed) == 1 and tie.b not in self.domains:
            return None
        before = self.domains.get(tie.b) or [(self.first[tie.b], self.last[tie.b])]
        left = common(before, allowed)
        if left == before:
            return None
        if left:
            self._keep(tie.b, left, self._holes_cause(tie.a, tie.number)[0])
        return left

    def _holes_cause(self, x: int, number: int) -> tuple[Cause, ...]:
        return ((number, *self.holes_why.get(x, ()), self.first_why[x], self.last_why[x]),)

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
            first_why=_because(holes, self.first_why[x]),
            last_why=_because(holes, self.last_why[x]),
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

    def _undo_tie(self, tie: _Tie) -> None:
        self.ties[tie.a].pop()
        self.ties[tie.b].pop()

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
    return *holes[-1], *holes[:-1], why


def _ends(least: int | None, most: int | None) -> tuple[float, float]:
    return (-inf if least is None else least), (inf if most is None else most)
