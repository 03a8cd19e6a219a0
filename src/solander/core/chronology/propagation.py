"""Tightest ranges by propagation: what one thing allows, its neighbours must keep to.

Every thing has a first and a last possible day, and stretches between them where there are holes. A statement
tightens one thing; each tightened thing tightens those it is tied to, until nothing changes.

What is exact. The ranges are, and so are contradictions, in every network, with holes and circles of ties: once
nothing changes, all first days together keep every tie and lie in a stretch of their things, so each of them is
possible, and none earlier is; likewise all last days. The stretches between are exact where the ties form a tree
(several ties of one pair count as one). Where ties close a circle an inner stretch may be left that no full
solution uses, never the other way round: of 3,000 random circles of three things with two to four single days
each 16 had such a day (`tests/core/test_chronology_months.py` shows one). Months of a range that is open on both
sides wait for a bound: those of one thing are compared with each other at once, those of things tied together
only when a bound arrives.

Ties that contradict each other with no date at all ("a before b before a") would chase one another for ever, so
they are refused before: `_places` keeps for every thing a number such that all ties hold, repaired at each new
tie as in S. Cotton and O. Maler, "Fast and flexible difference constraint propagation for DPLL(T)" (2006;
from memory).
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable, MutableMapping, Sequence
from math import inf

from solander.core.chronology.causes import Cause, Joint, behind, head
from solander.core.chronology.constraints import Between, Difference, Months, Pieces, Statement
from solander.core.chronology.domains import (
    DAYS_IN_400_YEARS,
    UNBOUNDED,
    Domain,
    clipped,
    common,
    joined,
    month_stretches,
    next_allowed,
    shifted,
)
from solander.core.chronology.state import Own, State, Tie, Ties

__all__ = ["LONGEST_LISTED", "Propagation"]


LONGEST_LISTED = 1000 * 366
"""Months are written out as stretches in ranges of up to a thousand years; in longer ones only the ends fit."""
_MOST_VISITS, _FAR = 800, 2 * DAYS_IN_400_YEARS
"""A bound of an open range that months moved on so often and so far will move for ever: after 400 years the
calendar repeats itself, and in every year of them there was a chance to rest."""


def _tie(number: int, said: Difference, places: dict[str, int]) -> Tie:
    return Tie(number, places[said.a], places[said.b], *_ends(said.min_days, said.max_days))


class _Endless(Exception):
    """More steps were taken than were allowed."""


class Propagation(State):
    """The state of all things, tightened by each statement."""

    @classmethod
    def from_bulk(cls, first: list[float], last: list[float], ties: MutableMapping[int, Ties]) -> Propagation:
        """A state in which bounds and ties without holes have been settled elsewhere, for statements with holes.

        `ties` need give the ties of a thing only when it is asked. Causes are not known: nothing can be
        withdrawn, and nothing explained.
        """
        self = cls(0)
        self.first, self.last, self.ties = first, last, ties
        self.first_why, self.last_why = [None] * len(first), [None] * len(last)
        self._explains = False
        return self

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

    def bind(self, number: int, said: Own, x: int) -> list[Cause | None] | None:
        """Tightens one thing by what is said of it alone; gives causes when nothing is left."""
        self._remember(self.own, x)
        self.own[x] = (*self.own.get(x, ()), (number, said))
        return self._apply(number, said, x)

    def _apply(self, number: int, said: Own, x: int) -> list[Cause | None] | None:
        if isinstance(said, Between):
            first, last = _ends(said.earliest, said.latest)
            if first > self.first[x]:
                self._raise_first(x, first, (number, None))
            if last < self.last[x]:
                self._lower_last(x, last, (number, None))
        elif isinstance(said, Pieces):
            allowed = joined(_ends(first, last) for first, last in said.pieces)
            if not self._keep_to(x, allowed, Joint((number,))):
                return self._causes(x, number)
        else:
            self._remember(self.months, x)
            self.months[x] = (*self.months.get(x, ()), (number, said))
            if len(self.months[x]) > 1 and not _share_days(self.months[x]):
                return [Joint(each for each, _ in self.months[x])]
        return self.settle(x)

    # -- statements out --------------------------------------------------------------------------------------

    def withdraw(self, number: int, said: Statement, places: dict[str, int]) -> None:
        """Takes a statement out: what rests on it is opened, and closed again as the others say.

        Exact: a bound is opened when the causes written down for it name the statement, so whatever stays is
        made by others alone; from there tightening has one end, whichever way it goes.
        """
        seeds = [places[name] for name in ((said.a, said.b) if isinstance(said, Difference) else (said.x,))]
        resting = self._resting_on(number, seeds)
        self._let_go(number, seeds)
        for x in resting:
            self._open(x)
        around = {y for x in resting for y, *_ in self.ties[x]}
        for x in resting:
            for other, each in self.own.get(x, ()):
                self._apply(other, each, x)
        if self.spread([*resting, *(around - resting)]) is not None:
            raise AssertionError("statements that agreed contradict each other with one fewer")

    def _resting_on(self, number: int, seeds: Iterable[int]) -> set[int]:
        """All things whose bounds or stretches were made with the help of a statement, at some time."""
        found = {x for x, numbers in self._rests.items() if number in numbers}
        # Months of an open range wait there for a bound, also while they make none.
        found.update(x for x in seeds if x in self.months)
        found.update(x for x in seeds if number in (head(self.first_why[x]), head(self.last_why[x])))
        waiting = list(found)
        while waiting:
            for y, _, _, tie in self.ties[waiting.pop()]:
                if y not in found and tie in (head(self.first_why[y]), head(self.last_why[y])):
                    found.add(y)
                    waiting.append(y)
        return found

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

    def _place(self, tie: Tie) -> list[Cause | None] | None:
        """Repairs the numbers for a new tie; gives the circle of ties that contradicts it, if there is one."""
        other_way = Tie(tie.number, tie.b, tie.a, -tie.most, -tie.least)
        return self._raise(tie) or self._raise(other_way)

    def _raise(self, tie: Tie) -> list[Cause | None] | None:
        """Raises b, and whatever that raises, until it is `least` after a; gives the circle when a must rise."""
        places = self._places
        if places[tie.a] + tie.least <= places[tie.b]:
            return None
        came: dict[int, Cause] = {tie.b: (tie.number, None)}
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

    # -- propagation -----------------------------------------------------------------------------------------

    def spread(self, changed: Iterable[int]) -> list[Cause | None] | None:
        """Tightens whatever is tied to changed things until all agree; gives causes when they can't."""
        queue = deque(changed)
        queued = set(queue)
        visits: dict[int, tuple[int, float, float]] = {}
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
                if holed and (holes := self._pass_holes(x, y)) is not None:
                    if not holes:
                        return [*self._causes(y), self._holes_cause(x, y)]
                    moved = True
                if not moved:
                    continue
                unsettled = first[y] > last[y] or y in domains or y in months
                if unsettled and (clash := self.settle(y)):
                    return clash
                if y not in queued:
                    queued.add(y)
                    queue.append(y)
        return None

    def _chased(self, x: int, visits: dict[int, tuple[int, float, float]]) -> bool:
        count, first, last = visits.get(x, (0, self.first[x], self.last[x]))
        visits[x] = count + 1, first, last
        if count < _MOST_VISITS:
            return False
        return (self.last[x] == inf and self.first[x] > first + _FAR) or (
            self.first[x] == -inf and self.last[x] < last - _FAR
        )

    def settle(self, x: int) -> list[Cause | None] | None:
        """Brings first and last day, stretches and months of a thing to agree; gives causes when they can't."""
        ends = None
        # One kind of months may lead out of another, or out of a stretch; as they share days that ends.
        while ends != (ends := (self.first[x], self.last[x])):
            if self.first[x] > self.last[x]:
                return self._causes(x)
            for number, said in self.months.get(x, ()):
                if not self._keep_to_months(x, number, said):
                    return self._causes(x, number)
            if x in self.domains and not self._keep_to(x, UNBOUNDED, None):
                return self._causes(x)
        return None

    def _keep_to_months(self, x: int, number: int, said: Months) -> bool:
        first, last = self.first[x], self.last[x]
        if last - first <= LONGEST_LISTED:
            # Written out once; from here on they are stretches like any others.
            self._remember(self.months, x)
            self.months[x] = tuple(each for each in self.months[x] if each[0] != number)
            if not self.months[x]:
                del self.months[x]
            why = self._joint((number, None), self.first_why[x], self.last_why[x])
            return self._keep_to(x, month_stretches(said, int(first), int(last)), why)
        new_first = next_allowed(said, int(first), 1) if first > -inf else first
        new_last = next_allowed(said, int(last), -1) if last < inf else last
        if new_first > first:
            self._raise_first(x, new_first, self._joint((number, None), self.first_why[x]))
        if new_last < last:
            self._lower_last(x, new_last, self._joint((number, None), self.last_why[x]))
        self._rest(x)
        return True

    def _pass_holes(self, x: int, y: int) -> Domain | None:
        """What is left of y when it keeps to the stretches of x; None when that changes nothing."""
        (least, _), (most, _) = self._tied(x, y)
        if least > most:
            return None
        allowed = shifted(self.domains[x], least, most)
        if len(allowed) == 1 and y not in self.domains:
            return None
        before = self.domains.get(y) or [(self.first[y], self.last[y])]
        left = common(before, allowed)
        if left == before:
            return None
        if left:
            self._keep(y, left, self._holes_cause(x, y))
        return left

    def _tied(self, x: int, y: int) -> tuple[tuple[float, int], tuple[float, int]]:
        """The least and the most days from x to y by all their ties, each with the statement that says so."""
        ties = [(least, most, number) for z, least, most, number in self.ties[x] if z == y]
        return max((least, number) for least, _, number in ties), min((most, number) for _, most, number in ties)

    def _holes_cause(self, x: int, y: int) -> Joint:
        (_, one), (_, other) = self._tied(x, y)
        return self._joint(Joint((one, other)), self.holes_why.get(x), self.first_why[x], self.last_why[x])

    def _keep_to(self, x: int, allowed: Domain, why: Joint | None) -> bool:
        """Cuts a thing down to allowed stretches; False when nothing is left."""
        left = clipped(self.domains.get(x) or UNBOUNDED, self.first[x], self.last[x])
        left = common(left, allowed)
        if left:
            self._keep(x, left, why)
        return bool(left)

    def _keep(self, x: int, left: Domain, why: Joint | None) -> None:
        if why is not None:
            self._remember(self.holes_why, x)
            self.holes_why[x] = self._joint(why, self.holes_why.get(x))
        holes = self.holes_why.get(x)
        first, last = left[0][0], left[-1][1]
        if first > self.first[x]:
            self._raise_first(x, first, self._joint(holes, self.first_why[x]))
        if last < self.last[x]:
            self._lower_last(x, last, self._joint(holes, self.last_why[x]))
        self._remember(self.domains, x)
        if len(left) > 1:
            self.domains[x] = left
        else:
            self.domains.pop(x, None)
        self._rest(x)

    def _joint(self, *causes: Cause | None) -> Joint:
        return Joint(dict.fromkeys(behind(causes))) if self._explains else Joint()

    def _rest(self, x: int) -> None:
        """Writes down all statements that a thing with holes or months rests on, for `withdraw`."""
        if not self._explains:
            return
        causes = (self.first_why[x], self.last_why[x], self.holes_why.get(x))
        self._remember(self._rests, x)
        self._rests[x] = frozenset(behind(causes))

    # -- causes and taking back ------------------------------------------------------------------------------

    def _causes(self, x: int, *more: int) -> list[Cause | None]:
        return [self.first_why[x], self.last_why[x], self.holes_why.get(x), Joint(more)]


def _share_days(months: Iterable[tuple[int, Months]]) -> bool:
    shared: Domain = UNBOUNDED
    for _, said in months:
        shared = common(shared, month_stretches(said, 1, DAYS_IN_400_YEARS))
    return bool(shared)


def _ends(least: int | None, most: int | None) -> tuple[float, float]:
    return (-inf if least is None else least), (inf if most is None else most)
