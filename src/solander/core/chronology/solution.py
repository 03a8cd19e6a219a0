"""The tightest range of every thing, and which statements make it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from math import inf
from typing import Any, Protocol

from attrs import field, frozen

from solander.core.chronology.causes import Cause, Joint, statements_behind
from solander.core.chronology.constraints import Difference, Months, Pieces, Statement
from solander.core.chronology.contradictions import irreducible, state_of, things_of
from solander.core.chronology.propagation import LONGEST_LISTED, Propagation
from solander.core.errors import InvalidValue

__all__ = ["Chain", "Range", "Reasons", "Solution", "Written", "holes_in", "reasons_of", "solution_from"]

Range = tuple[int | None, int | None]


@frozen
class Reasons:
    """The ids of the statements that make the first and the last day of a thing, nearest first.

    Each is irreducible: they alone make the day, and without any one of them it would not be made.
    """

    earliest: tuple[str, ...]
    latest: tuple[str, ...]


@frozen
class Chain:
    """Why a bound is where it is: plain ties from its thing to `at`, and there what makes the bound of that
    one, `joint` when several statements with holes do it together, of which not all may be needed."""

    ties: tuple[Statement, ...]
    at: str
    core: tuple[Statement, ...]
    joint: bool


class Grounds(Protocol):
    """What a solution's bounds rest on; asked for by `reasons_of` only."""

    @property
    def cores(self) -> dict[tuple[str, int], list[Statement]]:
        """What has been reduced, by thing and side: many things hang on the same few."""

    def chain(self, thing: str, side: int) -> Chain | None:
        """Why the first (side 0) or last day (1) of a thing is where it is; None when it is open.

        Raises
        ------
        KeyError
            When there is no such thing.
        """


@frozen(eq=False)
class Written:
    """Grounds that were written down while tightening: the causes of all first and all last days."""

    places: dict[str, int]
    statements: Mapping[int, Statement] | Sequence[Statement]
    why: tuple[Sequence[Cause | None], Sequence[Cause | None]]
    cores: dict[tuple[str, int], list[Statement]] = field(factory=dict)

    def chain(self, thing: str, side: int) -> Chain | None:
        cause: Any = self.why[side][self.places[thing]]
        if cause is None:
            return None
        ties: list[Statement] = []
        while type(cause) is tuple:
            said = self.statements[cause[0]]
            if not isinstance(said, Difference):
                break
            ties.append(said)
            thing = said.a if thing == said.b else said.b
            cause = cause[1]
        core = tuple(self.statements[number] for number in statements_behind([cause]))
        return Chain(tuple(ties), thing, core, isinstance(cause, Joint))


@frozen
class Solution:
    """Tightest ranges as day ordinals, None where open; `pieces` holds the things whose range has holes.

    Stretches can be listed only in a range that is bounded on both sides. Where it is not, and for months also
    where it is longer than a thousand years, a bounded end keeps to them, and `unlisted` has, for each such
    thing, the ids of its statements of months or pieces that hold but are not seen in `pieces`. They come into
    force as soon as bounds are known.
    """

    ranges: dict[str, Range]
    pieces: dict[str, tuple[tuple[int, int], ...]]
    unlisted: dict[str, tuple[str, ...]]
    _grounds: Grounds = field(repr=False, eq=False)


def solution_from(state: Propagation, grounds: Written) -> Solution:
    """What a state that has settled says of every thing."""
    things = tuple(grounds.places)
    ranges = dict(zip(things, map(_known, state.first, state.last), strict=True))
    return Solution(ranges, *holes_in(state, things), grounds)


def holes_in(
    state: Propagation, things: Sequence[str]
) -> tuple[dict[str, tuple[tuple[int, int], ...]], dict[str, tuple[str, ...]]]:
    """The `pieces` and what is `unlisted` of a solution."""
    return (
        {
            things[x]: tuple((int(first), int(last)) for first, last in domain)
            for x, domain in sorted(state.domains.items())
            if domain[0][0] > -inf and domain[-1][1] < inf
        },
        {things[x]: ids for x in sorted(state.own) if (ids := tuple(_unlisted(state, x)))},
    )


def _known(first: float, last: float) -> Range:
    return (int(first) if first > -inf else None), (int(last) if last < inf else None)


def _unlisted(state: Propagation, x: int) -> Iterator[str]:
    length = state.last[x] - state.first[x]
    for _, said in state.own[x]:
        if (isinstance(said, Months) and length > LONGEST_LISTED) or (
            isinstance(said, Pieces) and length == inf and x in state.domains
        ):
            yield said.id


# -- reasons -------------------------------------------------------------------------------------------------


def reasons_of(thing: str, solution: Solution) -> Reasons:
    """Which statements make the first and the last day of a thing: the chain from the thing itself outwards.

    Without holes that is a path of ties from the thing to one dated thing, which meets no thing twice, so each
    of its statements is needed. Where holes take part, what made them is reduced by trials (`irreducible`).

    Raises
    ------
    InvalidValue
        When the solution has no such thing.
    """
    try:
        first, last = (_reasons(thing, side, solution._grounds) for side in (0, 1))
    except KeyError:
        raise InvalidValue(f"There is no thing “{thing}” in this chronology") from None
    return Reasons(tuple(said.id for said in first), tuple(said.id for said in last))


def _reasons(thing: str, side: int, grounds: Grounds) -> list[Statement]:
    chain = grounds.chain(thing, side)
    if chain is None:
        return []
    if chain.joint and (chain.at, side) not in grounds.cores:
        grounds.cores[chain.at, side] = _reduced(chain.at, side, [*chain.core])
    core = grounds.cores[chain.at, side] if chain.joint else [*chain.core]
    whole = [*dict.fromkeys((*chain.ties, *core))]
    return whole if _is_plain(chain, core) else _reduced(thing, side, whole)


def _is_plain(chain: Chain, core: Sequence[Statement]) -> bool:
    """Whether the ties meet no thing twice and meet the core only where they end, so that all are needed."""
    met = {name for said in chain.ties for name in things_of(said)}
    if chain.ties and len(met) != len(chain.ties) + 1:
        return False
    return (
        not any(name in met and name != chain.at for said in core for name in things_of(said)) or not chain.joint
    )


def _reduced(thing: str, side: int, statements: list[Statement]) -> list[Statement]:
    """Those of the statements that are needed to make the first (side 0) or last day of a thing."""
    names = dict.fromkeys([thing, *(name for said in statements for name in things_of(said))])
    places = {name: place for place, name in enumerate(names)}

    def made(some: Sequence[Statement]) -> float:
        state = state_of(some, places)
        assert state is not None, "some of statements that agree contradict each other"
        return state.last[0] if side else state.first[0]

    goal = made(statements)
    return irreducible(statements, lambda some: made(some) == goal)
