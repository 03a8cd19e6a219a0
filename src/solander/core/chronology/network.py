"""The tightest range of every thing, or the statements that can't be true together."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Sequence
from math import inf

from attrs import field, frozen

from solander.core.chronology.constraints import Difference, Statement
from solander.core.chronology.propagation import Cause, Propagation, statements_behind
from solander.core.errors import InvalidValue

__all__ = ["Contradiction", "Network", "Reasons", "Solution", "reasons_of", "solve"]

Range = tuple[int | None, int | None]


@frozen
class Reasons:
    """The ids of the statements that make the first and the last day of a thing, nearest first."""

    earliest: tuple[str, ...]
    latest: tuple[str, ...]


@frozen
class Solution:
    """Tightest ranges as day ordinals, None where open; `pieces` holds the things whose range has holes.

    Months that a range open to one side allows are not listed as pieces; its bounded end keeps to them.
    """

    ranges: dict[str, Range]
    pieces: dict[str, tuple[tuple[int, int], ...]]
    _why: tuple[tuple[Cause | None, ...], tuple[Cause | None, ...]] = field(repr=False, eq=False)
    _places: dict[str, int] = field(repr=False, eq=False)
    _ids: tuple[str, ...] = field(repr=False, eq=False)


@frozen
class Contradiction:
    """Statements that can't all be true: an irreducible set (without any one of them the others agree), in
    order of entry, and the least number of days by which one of them would have to give way."""

    conflict: tuple[str, ...]
    gap_days: int


class Network:
    """Things in time and the statements about them that agree so far.

    Parameters
    ----------
    things
        The names of all things that statements may speak about.
    """

    def __init__(self, things: Iterable[str]) -> None:
        self.things = tuple(dict.fromkeys(things))
        self.statements: list[Statement] = []
        self._places = {thing: place for place, thing in enumerate(self.things)}
        self._ids: set[str] = set()
        self._state = Propagation(len(self.things))

    def add(self, statement: Statement) -> Contradiction | None:
        """Adds a statement, or says what it contradicts and changes nothing.

        Raises
        ------
        InvalidValue
            When it speaks of an unknown thing, or its id is taken; nothing is changed then either.
        """
        self._check(statement)
        self._state.forget_log()
        clash = self._state.take(len(self.statements), statement, self._places)
        if clash is not None:
            self._state.undo(0)
            return _contradiction([*self.statements, statement], clash)
        self.statements.append(statement)
        self._ids.add(statement.id)
        return None

    def solution(self) -> Solution:
        """The tightest ranges as things stand."""
        state = self._state
        return Solution(
            dict(zip(self.things, map(_known, state.first, state.last), strict=True)),
            {
                self.things[x]: tuple((int(first), int(last)) for first, last in domain)
                for x, domain in sorted(state.domains.items())
                if domain[0][0] > -inf and domain[-1][1] < inf
            },
            (tuple(state.first_why), tuple(state.last_why)),
            self._places,
            tuple(said.id for said in self.statements),
        )

    def precedes(self) -> list[tuple[str, str]]:
        """Pairs (a, b) of which a is never after b, as the differences say."""
        pairs = []
        for said in self.statements:
            if isinstance(said, Difference):
                if said.min_days is not None and said.min_days >= 0:
                    pairs.append((said.a, said.b))
                elif said.max_days is not None and said.max_days <= 0:
                    pairs.append((said.b, said.a))
        return pairs

    def _check(self, statement: Statement) -> None:
        if statement.id in self._ids:
            raise InvalidValue(f"Statement {statement.id} is there twice", todo="Give every statement its own id")
        names = (statement.a, statement.b) if isinstance(statement, Difference) else (statement.x,)
        for name in names:
            if name not in self._places:
                raise InvalidValue(
                    f"Statement {statement.id} speaks of “{name}”",
                    "there is no such thing",
                    "Name it among the things",
                )

    def _take_all(self, statements: Sequence[Statement]) -> bool:
        """Takes many statements at once into an empty network; False, and the network is spoilt, when they
        contradict each other."""
        for statement in statements:
            self._check(statement)
            self._ids.add(statement.id)
        self.statements = list(statements)
        taken = self._state.take_all(self.statements, self._places)
        self._state.forget_log()
        return taken


def solve(things: Iterable[str], statements: Sequence[Statement]) -> Solution | Contradiction:
    """The tightest range of every thing under all statements, or a contradiction among them.

    Of several contradictions the one is told that shows first when statements are added in their order.

    Raises
    ------
    InvalidValue
        When a statement speaks of an unknown thing or two have the same id.
    """
    things = tuple(things)
    network = Network(things)
    if network._take_all(statements):
        return network.solution()
    network = Network(things)
    for statement in statements:
        if (contradiction := network.add(statement)) is not None:
            return contradiction
    return network.solution()


def reasons_of(thing: str, solution: Solution) -> Reasons:
    """Which statements make the first and the last day of a thing: the chain from the thing itself outwards.

    Raises
    ------
    InvalidValue
        When the solution has no such thing.
    """
    if thing not in solution._places:
        raise InvalidValue(f"There is no thing “{thing}” in this chronology")
    place = solution._places[thing]
    first, last = (
        tuple(solution._ids[number] for number in statements_behind([why[place]])) for why in solution._why
    )
    return Reasons(first, last)


def _known(first: float, last: float) -> Range:
    return (int(first) if first > -inf else None), (int(last) if last < inf else None)


# -- contradictions ------------------------------------------------------------------------------------------


def _contradiction(statements: Sequence[Statement], clash: Iterable[Cause | None]) -> Contradiction:
    involved = [statements[number] for number in sorted(statements_behind(clash))]
    conflict = involved if _is_circle(involved) else _irreducible(involved)
    return Contradiction(tuple(said.id for said in conflict), _gap(conflict))


def _agree(statements: Sequence[Statement]) -> bool:
    return Network(_things_of(statements))._take_all(statements)


def _things_of(statements: Iterable[Statement]) -> Iterable[str]:
    for said in statements:
        yield from (said.a, said.b) if isinstance(said, Difference) else (said.x,)


def _is_circle(statements: Sequence[Statement]) -> bool:
    """Whether the statements tie things (and the calendar) in one simple circle: every end meets one other.

    Such a set is irreducible, for without any one of them the others are a chain, and a chain agrees. It is the
    common case, and long in albums.
    """
    ends = Counter(end for said in statements for end in _ends_of(said))
    if set(ends.values()) != {2} or len(ends) != len(statements):
        return False
    reached, waiting = set(), {next(iter(ends))}
    meets = defaultdict(set)
    for a, b in map(_ends_of, statements):
        meets[a].add(b)
        meets[b].add(a)
    while waiting:
        reached.add(end := waiting.pop())
        waiting |= meets[end] - reached
    return len(reached) == len(ends)


def _ends_of(said: Statement) -> tuple[str | None, str | None]:
    """The two things that a statement ties; None is the calendar."""
    return (said.a, said.b) if isinstance(said, Difference) else (None, said.x)


def _irreducible(statements: list[Statement]) -> list[Statement]:
    """What is left of contradicting statements when each that is not needed for the contradiction is gone.

    Halves are tried before single statements, so a long chain of which all is needed costs two trials each and
    a few needed among many cost few (after U. Junker, QuickXplain, 2004; from memory).
    """
    needed = _needed([], False, statements)
    return [said for said in statements if said in needed]


def _needed(kept: list[Statement], grown: bool, candidates: list[Statement]) -> list[Statement]:
    if grown and not _agree(kept):
        return []
    if len(candidates) == 1:
        return candidates
    half = len(candidates) // 2
    front, back = candidates[:half], candidates[half:]
    needed_back = _needed([*kept, *front], bool(front), back)
    needed_front = _needed([*kept, *needed_back], bool(needed_back), front)
    return [*needed_front, *needed_back]


def _gap(conflict: list[Statement]) -> int:
    """The least days by which one of the statements must give way.

    Without holes it is the same for all: each contradicting circle runs through every statement of an
    irreducible set once, and falls short by the same days whichever gives way. With holes each is tried.
    """
    from_holes = any(not isinstance(said, Difference) and not hasattr(said, "earliest") for said in conflict)
    places = range(len(conflict)) if from_holes else range(1)

    def mends(days: int) -> bool:
        return any(_agree(_with_widened(conflict, place, days)) for place in places)

    most = 1
    while not mends(most):
        most *= 2
    least = most // 2
    while most - least > 1:
        middle = (least + most) // 2
        least, most = (least, middle) if mends(middle) else (middle, most)
    return most


def _with_widened(conflict: list[Statement], place: int, days: int) -> list[Statement]:
    return [*conflict[:place], conflict[place].widened(days), *conflict[place + 1 :]]
