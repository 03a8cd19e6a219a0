"""Very many statements laid out in arrays, and the ties of one thing found again in them."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from functools import cached_property
from math import inf

import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from solander.core.chronology.constraints import Between, Difference, Months, Pieces, Statement
from solander.core.chronology.rounds import Graph, Whole
from solander.core.chronology.state import Ties

__all__ = ["Bounds", "Bulk", "Days", "Differences", "TiesWhenAsked"]

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
    """Statements laid out in arrays; `bound_numbers` and `difference_numbers` are theirs in order of entry,
    `holed` the statements with holes, each with the place of its thing."""

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
        # Attributes are read in place: through a function for all of them it takes 1.8 times as long.
        kinds = np.fromiter(map(_KINDS.__getitem__, map(type, statements)), dtype=np.int8, count=len(statements))
        dated = [said for said in statements if type(said) is Between]
        tied = [said for said in statements if type(said) is Difference]
        holed = [statements[number] for number in np.flatnonzero(kinds >= _KINDS[Months]).tolist()]
        bounds = Bounds(
            _whole([places[said.x] for said in dated]),
            _days([said.earliest for said in dated]),
            _days([said.latest for said in dated]),
        )
        differences = Differences(
            _whole([places[said.a] for said in tied]),
            _whole([places[said.b] for said in tied]),
            _days([said.min_days for said in tied]),
            _days([said.max_days for said in tied]),
        )
        return cls(
            places,
            statements,
            bounds,
            np.flatnonzero(kinds == _KINDS[Between]),
            differences,
            np.flatnonzero(kinds == _KINDS[Difference]),
            tuple((places[said.x], said) for said in holed if isinstance(said, Months | Pieces)),
        )

    @cached_property
    def own(self) -> dict[int, list[Statement]]:
        """All that is said of each thing alone."""
        found: dict[int, list[Statement]] = defaultdict(list)
        for number, x in zip(self.bound_numbers.tolist(), self.bounds.thing.tolist(), strict=True):
            found[x].append(self.statements[number])
        for x, said in self.holed:
            found[x].append(said)
        return found


_KINDS: dict[type, int] = {Between: 0, Difference: 1, Months: 2, Pieces: 3}


def _whole(values: list[int]) -> Whole:
    return np.array(values, dtype=np.int64)


def _days(values: list[int | None]) -> Days:
    """None becomes nan."""
    return np.array(values, dtype=np.float64)


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
