"""Very many statements laid out in arrays, and the ties of one thing found again in them."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from functools import cached_property
from math import inf
from operator import attrgetter
from typing import Any

import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from solander.core.chronology.constraints import Between, Difference, Months, Pieces, Statement
from solander.core.chronology.propagation import Ties
from solander.core.chronology.rounds import Graph, Whole

__all__ = ["Bounds", "Bulk", "Days", "Differences", "TiesWhenAsked", "listed"]

Days = NDArray[np.float64]


@frozen(eq=False)
class Bounds:
    """Things of their own lie within `earliest` … `latest`; nan is open. One entry a bound, of equal length."""

    thing: Whole
    earliest: Days
    latest: Days


@frozen(eq=False)
class Differences:
    """`b` lies `least` … `most` days after `a`; nan is open. One entry a difference, of equal length."""

    a: Whole
    b: Whole
    least: Days
    most: Days

    def graph(self, things: int) -> tuple[Graph, Whole]:
        """The differences as ties of one direction each, and the difference that each tie is of."""
        from_a, from_b = np.flatnonzero(~np.isnan(self.least)), np.flatnonzero(~np.isnan(self.most))
        source = np.concatenate((self.a[from_a], self.b[from_b]))
        target = np.concatenate((self.b[from_a], self.a[from_b]))
        days = np.concatenate((self.least[from_a], -self.most[from_b])).astype(np.int64)
        return Graph(things, source, target, days), np.concatenate((from_a, from_b))


@frozen(eq=False)
class Bulk:
    """Statements laid out in arrays; `bound_numbers` and `difference_numbers` are theirs in order of entry."""

    places: dict[str, int]
    statements: Sequence[Statement]
    bounds: Bounds
    bound_numbers: Whole
    differences: Differences
    difference_numbers: Whole
    holed: tuple[tuple[int, Months | Pieces], ...]

    @classmethod
    def of(cls, places: dict[str, int], statements: Sequence[Statement]) -> Bulk:
        """Lays out statements about things that have places.

        Raises
        ------
        KeyError
            When a statement speaks of a thing that has no place.
        """
        kinds = np.fromiter(map(_KINDS.__getitem__, map(type, statements)), dtype=np.int8, count=len(statements))
        bounds = [said for said in statements if type(said) is Between]
        differences = [said for said in statements if type(said) is Difference]
        holed = [(number, statements[number]) for number in np.flatnonzero(kinds >= _KINDS[Months]).tolist()]
        _placed([said for _, said in holed], "x", places)
        return cls(
            places,
            statements,
            Bounds(_placed(bounds, "x", places), _days(bounds, "earliest"), _days(bounds, "latest")),
            np.flatnonzero(kinds == _KINDS[Between]),
            Differences(
                _placed(differences, "a", places),
                _placed(differences, "b", places),
                _days(differences, "min_days"),
                _days(differences, "max_days"),
            ),
            np.flatnonzero(kinds == _KINDS[Difference]),
            tuple((number, said) for number, said in holed if isinstance(said, Months | Pieces)),
        )

    @cached_property
    def own(self) -> dict[int, list[Statement]]:
        """All that is said of each thing alone."""
        found: dict[int, list[Statement]] = defaultdict(list)
        for number, x in zip(self.bound_numbers.tolist(), self.bounds.thing.tolist(), strict=True):
            found[x].append(self.statements[number])
        for _, said in self.holed:
            found[self.places[said.x]].append(said)
        return found


_KINDS: dict[type, int] = {Between: 0, Difference: 1, Months: 2, Pieces: 3}


def _placed(statements: Sequence[Statement], name: str, places: dict[str, int]) -> Whole:
    named = map(places.__getitem__, map(attrgetter(name), statements))
    return np.fromiter(named, dtype=np.int64, count=len(statements))


def _days(statements: Sequence[Statement], name: str) -> Days:
    return np.array([*map(attrgetter(name), statements)], dtype=np.float64)


class TiesWhenAsked(dict[int, Ties]):
    """The ties of each thing, put together when it is first asked for: holes reach few of them.

    Their numbers are rows of `differences`; `difference` is the row of each tie of the graph.
    """

    def __init__(self, differences: Differences, graph: Graph, difference: Whole) -> None:
        super().__init__()
        self._differences, self._graph, self._difference = differences, graph, difference

    def __missing__(self, x: int) -> Ties:
        ties = [*self._graph.out_of_one(x), *self._graph.turned.out_of_one(x)]
        rows = sorted({int(self._difference[tie]) for tie in ties})
        self[x] = found = [self._tie(x, row) for row in rows]
        return found

    def _tie(self, x: int, row: int) -> tuple[int, float, float, int]:
        said = self._differences
        least, most = _or_open(said.least[row], -inf), _or_open(said.most[row], inf)
        if said.a[row] == x:
            return int(said.b[row]), least, most, row
        return int(said.a[row]), -most, -least, row


def _or_open(days: float, instead: float) -> float:
    return instead if np.isnan(days) else int(days)


def listed(days: Whole, nothing: int, instead: float | None) -> list[Any]:
    """Days as a list, with something instead where they are open."""
    found: list[Any] = days.tolist()
    for x in np.flatnonzero(days == nothing).tolist():
        found[x] = instead
    return found
