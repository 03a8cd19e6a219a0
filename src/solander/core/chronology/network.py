"""Things in time and what is said of them, one statement at a time or all at once."""

from __future__ import annotations

from collections.abc import Container, Iterable, Sequence
from operator import attrgetter

from solander.core.chronology.all_at_once import solved_at_once
from solander.core.chronology.causes import Cause, statements_behind
from solander.core.chronology.constraints import Difference, Statement
from solander.core.chronology.contradictions import Contradiction, contradiction_among, state_of, things_of
from solander.core.chronology.propagation import Propagation
from solander.core.chronology.solution import (
    Range,
    Reasons,
    Solution,
    Written,
    reasons_of,
    solution_from,
)
from solander.core.errors import InvalidValue

__all__ = ["Contradiction", "Network", "Range", "Reasons", "Solution", "reasons_of", "solve"]

_MANY = 800
"""From so many statements on they are solved in arrays: both ways take 2 ms there, below plain propagation is
faster (made-up collection of `benchmarks/time_order.py`, 2026-11-25)."""


class Network:
    """Things in time and the statements about them that agree so far.

    Parameters
    ----------
    things
        The names of all things that statements may speak about.
    """

    def __init__(self, things: Iterable[str]) -> None:
        self.things = tuple(dict.fromkeys(things))
        self._places = {thing: place for place, thing in enumerate(self.things)}
        self._said: dict[int, Statement] = {}
        self._numbers: dict[str, int] = {}
        self._next = 0
        self._state = Propagation(len(self.things))

    @property
    def statements(self) -> tuple[Statement, ...]:
        """All that agree, in order of entry."""
        return tuple(self._said.values())

    def add(self, statement: Statement) -> Contradiction | None:
        """Adds a statement, or says what it contradicts and changes nothing.

        Raises
        ------
        InvalidValue
            When it speaks of an unknown thing, or its id is taken; nothing is changed then either.
        """
        clash = self._tried(statement)
        if clash is not None:
            self._state.undo(0)
            return self._contradiction(statement, clash)
        self._said[self._next] = statement
        self._numbers[statement.id] = self._next
        self._next += 1
        return None

    def contradiction_of(self, statement: Statement) -> Contradiction | None:
        """What a statement would contradict if it were added; nothing is changed.

        Raises
        ------
        InvalidValue
            As `add` does.
        """
        clash = self._tried(statement)
        self._state.undo(0)
        return None if clash is None else self._contradiction(statement, clash)

    def withdraw(self, ident: str) -> Statement:
        """Takes a statement back, as if it had never been said, and gives it.

        Only what rested on it is worked out anew. Statements that were refused because of it stay out until they
        are added again.

        Raises
        ------
        InvalidValue
            When no statement of this id is there; nothing is changed then.
        """
        number = self._number(ident)
        said = self._said.pop(number)
        del self._numbers[ident]
        self._state.forget_log()
        self._state.withdraw(number, said, self._places)
        return said

    def without(self, ident: str, statements: Iterable[Statement]) -> tuple[Statement, ...]:
        """Those of `statements` that would agree, added in their order, were the statement `ident` withdrawn.

        Nothing is changed.

        Raises
        ------
        InvalidValue
            When no statement of this id is there, or one of the others can't be added at all.
        """
        number = self._number(ident)
        state = self._state
        state.forget_log()
        state.withdraw(number, self._said[number], self._places)
        try:
            return tuple(said for place, said in enumerate(statements) if self._takes(self._next + place, said))
        finally:
            state.undo(0)

    def solution(self) -> Solution:
        """The tightest ranges as things stand."""
        state = self._state
        why = tuple(state.first_why), tuple(state.last_why)
        return solution_from(state, Written(self._places, dict(self._said), why))

    def precedes(self) -> list[tuple[str, str]]:
        """Pairs (a, b) of which a is never after b, as the differences say."""
        pairs = []
        for said in self._said.values():
            if isinstance(said, Difference):
                if said.min_days is not None and said.min_days >= 0:
                    pairs.append((said.a, said.b))
                elif said.max_days is not None and said.max_days <= 0:
                    pairs.append((said.b, said.a))
        return pairs

    def _tried(self, statement: Statement) -> list[Cause | None] | None:
        _check(statement, self._places, self._numbers)
        self._state.forget_log()
        return self._state.take(self._next, statement, self._places)

    def _takes(self, number: int, statement: Statement) -> bool:
        _check(statement, self._places, ())
        before = self._state.mark()
        if self._state.take(number, statement, self._places) is None:
            return True
        self._state.undo(before)
        return False

    def _number(self, ident: str) -> int:
        if ident not in self._numbers:
            raise InvalidValue(f"There is no statement “{ident}” in this chronology")
        return self._numbers[ident]

    def _contradiction(self, statement: Statement, clash: Iterable[Cause | None]) -> Contradiction:
        said = {**self._said, self._next: statement}
        return contradiction_among([said[number] for number in sorted(statements_behind(clash))])


def solve(things: Iterable[str], statements: Sequence[Statement]) -> Solution | Contradiction:
    """The tightest range of every thing under all statements, or a contradiction among them.

    Of several contradictions the one is told that shows first when statements are added in their order.

    Raises
    ------
    InvalidValue
        When a statement speaks of an unknown thing or two have the same id.
    """
    places = _places(things)
    statements = tuple(statements)
    if len(set(map(attrgetter("id"), statements))) != len(statements):
        _check_all(statements, places)
    at_once = _solved_plainly if len(statements) < _MANY else solved_at_once
    try:
        found = at_once(places, statements)
    except KeyError:
        # A thing that is not there; which statement speaks of it is looked for only now, for speed.
        _check_all(statements, places)
        raise
    return found or _one_by_one(places, statements)


def _places(things: Iterable[str]) -> dict[str, int]:
    names = things if isinstance(things, Sequence) else tuple(things)
    places = {name: place for place, name in enumerate(names)}
    if len(places) == len(names):
        return places
    return {name: place for place, name in enumerate(dict.fromkeys(names))}


def _solved_plainly(places: dict[str, int], statements: Sequence[Statement]) -> Solution | None:
    state = state_of(statements, places)
    if state is None:
        return None
    why = state.first_why, state.last_why
    return solution_from(state, Written(places, statements, why))


def _one_by_one(places: dict[str, int], statements: Sequence[Statement]) -> Solution | Contradiction:
    network = Network(places)
    for statement in statements:
        if (contradiction := network.add(statement)) is not None:
            return contradiction
    return network.solution()


# -- bad input -----------------------------------------------------------------------------------------------


def _check_all(statements: Iterable[Statement], places: dict[str, int]) -> None:
    taken: set[str] = set()
    for statement in statements:
        _check(statement, places, taken)
        taken.add(statement.id)


def _check(statement: Statement, places: dict[str, int], taken: Container[str]) -> None:
    if statement.id in taken:
        raise InvalidValue(f"Statement {statement.id} is there twice", todo="Give every statement its own id")
    for name in things_of(statement):
        if name not in places:
            raise InvalidValue(
                f"Statement {statement.id} speaks of “{name}”",
                "there is no such thing",
                "Name it among the things",
            )
