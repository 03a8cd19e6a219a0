"""The state of a network of dated things, and the log by which every change of it can be taken back."""

from __future__ import annotations

from collections.abc import Iterable, MutableMapping, MutableSequence
from math import inf
from typing import Any, NamedTuple

from solander.core.chronology.causes import Cause, Joint
from solander.core.chronology.constraints import Between, Months, Pieces
from solander.core.chronology.domains import Domain

__all__ = ["Own", "State", "Tie", "Ties"]


Ties = list[tuple[int, float, float, int]]
"""The ties of one thing: to which other it is tied, least and most days from the one to the other, by which
statement."""

Own = Between | Months | Pieces
"""What is said of one thing alone."""


class Tie(NamedTuple):
    """b lies `least` … `most` days after a, as statement `number` says."""

    number: int
    a: int
    b: int
    least: float
    most: float


class State:
    """What is known of all things, numbered from 0; changes since `mark` can be taken back."""

    def __init__(self, things: int) -> None:
        self.first: list[float] = [-inf] * things
        self.last: list[float] = [inf] * things
        self.first_why: list[Cause | None] = [None] * things
        self.last_why: list[Cause | None] = [None] * things
        self.domains: dict[int, Domain] = {}
        self.holes_why: dict[int, Joint] = {}
        self.ties: MutableSequence[Ties] | MutableMapping[int, Ties] = [[] for _ in range(things)]
        self.own: dict[int, tuple[tuple[int, Own], ...]] = {}
        self.months: dict[int, tuple[tuple[int, Months], ...]] = {}
        self._rests: dict[int, frozenset[int]] = {}
        self._places: list[float] = [0] * things
        self._log: list[tuple[Any, ...]] = []
        self._steps_left: float = inf
        self._explains = True

    # -- changes, each written down

    def _fasten(self, tie: Tie) -> None:
        self.ties[tie.a].append((tie.b, tie.least, tie.most, tie.number))
        self.ties[tie.b].append((tie.a, -tie.most, -tie.least, tie.number))

    def _let_go(self, number: int, seeds: Iterable[int]) -> None:
        for x in seeds:
            own = self.own.get(x, ())
            if any(each == number for each, _ in own):
                self._remember(self.own, x)
                self.own[x] = tuple(each for each in own if each[0] != number)
            for place, tie in reversed([*enumerate(self.ties[x])]):
                if tie[3] == number:
                    self._log.append(("untie", x, place, self.ties[x].pop(place)))

    def _open(self, x: int) -> None:
        self._log.append(("first", x, self.first[x], self.first_why[x]))
        self._log.append(("last", x, self.last[x], self.last_why[x]))
        self.first[x], self.last[x], self.first_why[x], self.last_why[x] = -inf, inf, None, None
        for table in (self.domains, self.holes_why, self.months, self._rests):
            self._remember(table, x)
            table.pop(x, None)

    def _raise_first(self, x: int, first: float, why: Cause) -> None:
        self._log.append(("first", x, self.first[x], self.first_why[x]))
        self.first[x], self.first_why[x] = first, why

    def _lower_last(self, x: int, last: float, why: Cause) -> None:
        self._log.append(("last", x, self.last[x], self.last_why[x]))
        self.last[x], self.last_why[x] = last, why

    def _move(self, x: int, place: float) -> None:
        self._log.append(("place", x, self._places[x]))
        self._places[x] = place

    # -- taking back

    def mark(self) -> int:
        """Where the log stands now, for `undo`."""
        return len(self._log)

    def _remember(self, table: dict[int, Any], x: int) -> None:
        self._log.append(("table", table, x, table.get(x)))

    def moved(self) -> set[int]:
        """The things whose bounds were moved since the log was last forgotten."""
        return {entry[1] for entry in self._log if entry[0] in ("first", "last")}

    def forget_log(self) -> None:
        """Makes everything so far final."""
        self._log.clear()

    def undo(self, mark: int) -> None:
        """Takes back everything since `mark`."""
        while len(self._log) > mark:
            kind, *entry = self._log.pop()
            getattr(self, f"_undo_{kind}")(*entry)

    def _undo_tie(self, tie: Tie) -> None:
        self.ties[tie.a].pop()
        self.ties[tie.b].pop()

    def _undo_untie(self, x: int, place: int, tie: tuple[int, float, float, int]) -> None:
        self.ties[x].insert(place, tie)

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
