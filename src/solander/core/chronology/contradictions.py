"""Statements that can't all be true: the few that are needed for it, and by how many days they miss."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Callable, Sequence

from attrs import frozen

from solander.core.chronology.constraints import Difference, Statement
from solander.core.chronology.propagation import Propagation

__all__ = ["Contradiction", "contradiction_among", "irreducible", "state_of", "things_of"]

Holds = Callable[[Sequence[Statement]], bool]


@frozen
class Contradiction:
    """Statements that can't all be true: an irreducible set (without any one of them the others agree), in
    order of entry, and the least number of days by which one of them would have to give way."""

    conflict: tuple[str, ...]
    gap_days: int


def contradiction_among(involved: list[Statement]) -> Contradiction:
    """What is told of statements that contradict each other, given in order of entry."""
    conflict = involved if _is_circle(involved) else irreducible(involved, lambda some: not _agree(some))
    return Contradiction(tuple(said.id for said in conflict), _gap(conflict))


def state_of(statements: Sequence[Statement], places: dict[str, int]) -> Propagation | None:
    """The state of numbered things under a few statements, or None when these contradict each other."""
    state = Propagation(len(places))
    return state if state.take_all(statements, places) else None


def things_of(said: Statement) -> tuple[str, ...]:
    """The one or two things that a statement speaks of."""
    return (said.a, said.b) if isinstance(said, Difference) else (said.x,)


def _agree(statements: Sequence[Statement]) -> bool:
    names = dict.fromkeys(name for said in statements for name in things_of(said))
    return state_of(statements, {name: place for place, name in enumerate(names)}) is not None


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


def irreducible(statements: Sequence[Statement], holds: Holds) -> list[Statement]:
    """What is left of statements of which something holds when each that is not needed for it is gone.

    `holds` must be true of them all, and stay true when statements are added. Halves are tried before single
    statements, so a long chain of which all is needed costs two trials each and a few needed among many cost
    few (after U. Junker, QuickXplain, 2004; from memory).
    """
    needed = {said.id for said in _needed([], True, list(statements), holds)}
    return [said for said in statements if said.id in needed]


def _needed(kept: list[Statement], grown: bool, candidates: list[Statement], holds: Holds) -> list[Statement]:
    if grown and holds(kept):
        return []
    if len(candidates) == 1:
        return candidates
    half = len(candidates) // 2
    front, back = candidates[:half], candidates[half:]
    needed_back = _needed([*kept, *front], bool(front), back, holds)
    needed_front = _needed([*kept, *needed_back], bool(needed_back), front, holds)
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
