"""What is known of a thing by itself: its range, the stretches within it, soft evidence as weights of days."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Hashable, Iterable, Mapping, Sequence

from attrs import frozen

from solander.core.chronology.cells import Weighing
from solander.core.chronology.solution import Solution
from solander.core.errors import InvalidValue

__all__ = ["YEAR", "Known", "Link", "Weight"]

YEAR = 365.2425
_CENTURY = round(100 * YEAR)
_LEAST_FLOOR = 1e-6


@frozen
class Weight:
    """Soft evidence for a thing: full weight on the days `peak_from` … `peak_to`, falling in straight lines to
    a floor outside `earliest` … `latest`; days are ordinals, None leaves that side open at full weight.

    `trust` is the share of such evidence that is right: were all days of a century alike beforehand, the floor
    leaves 1 − `trust` of the chances outside. It is never quite 0, so that other evidence can overrule it.

    Raises
    ------
    InvalidValue
        When its days are out of order, both sides are open, or the trust is not above 0 and at most 1.
    """

    thing: str
    earliest: int | None
    peak_from: int | None
    peak_to: int | None
    latest: int | None
    trust: float

    def __attrs_post_init__(self) -> None:
        days = [day for day in self._corners() if day is not None]
        if not 0 < self.trust <= 1:
            raise InvalidValue(f"The trust in evidence for {self.thing} is {self.trust}", todo="Give 0 to 1")
        if self.earliest is None and self.latest is None:
            raise InvalidValue(f"Soft evidence for {self.thing} says nothing", "both its sides are open")
        if days != sorted(days):
            raise InvalidValue(f"Soft evidence for {self.thing} cannot be true", "its days are out of order")

    def _corners(self) -> tuple[int | None, int | None, int | None, int | None]:
        rises = None if self.earliest is None else self.earliest if self.peak_from is None else self.peak_from
        falls = None if self.latest is None else self.latest if self.peak_to is None else self.peak_to
        return self.earliest, rises, falls, self.latest

    @property
    def bounds(self) -> list[int]:
        """Its known outer bounds, one or two."""
        return [day for day in (self.earliest, self.latest) if day is not None]

    def weighing(self) -> Weighing:
        """The weight of any day."""
        earliest, rises, falls, latest = self._corners()
        corners: list[tuple[float, float]] = []
        if earliest is not None and rises is not None:
            corners += [(earliest - 1, self._floor), (rises, 1.0)]
        if latest is not None and falls is not None:
            corners += [(falls + 0.5, 1.0), (latest + 1, self._floor)]
        return Weighing(*zip(*corners, strict=True))

    @property
    def _floor(self) -> float:
        earliest, rises, falls, latest = self._corners()
        area = _CENTURY / 2
        if earliest is not None and rises is not None and falls is not None and latest is not None:
            area = (latest - earliest + 2 + falls - rises) / 2
        floor = (1 - self.trust) / self.trust * area / _CENTURY
        return min(max(floor, _LEAST_FLOOR), 1.0)


@frozen
class Link:
    """What is known of a thing by itself."""

    first: int | None
    last: int | None
    pieces: tuple[tuple[int, int], ...] | None
    weights: tuple[Weight, ...]

    @property
    def bounds(self) -> list[int]:
        hard = [day for day in (self.first, self.last) if day is not None]
        return [*hard, *(day for weight in self.weights for day in weight.bounds)]

    @property
    def is_one_day(self) -> bool:
        return self.first is not None and self.first == self.last

    @property
    def is_dated(self) -> bool:
        """Whether something is known on both sides."""
        after = self.first is not None or any(weight.earliest is not None for weight in self.weights)
        before = self.last is not None or any(weight.latest is not None for weight in self.weights)
        return after and before


@frozen(eq=False)
class Known:
    """What the solver and soft evidence tell of all things."""

    solution: Solution
    weights: Mapping[str, tuple[Weight, ...]]

    @classmethod
    def of(cls, solution: Solution, weights: Iterable[Weight]) -> Known:
        """The weights laid to their things.

        Raises
        ------
        InvalidValue
            When a weight names an unknown thing.
        """
        said = defaultdict(list)
        for weight in weights:
            if weight.thing not in solution.ranges:
                raise InvalidValue(f"Soft evidence speaks of “{weight.thing}”", "there is no such thing")
            said[weight.thing].append(weight)
        return cls(solution, {thing: tuple(found) for thing, found in said.items()})

    def link(self, thing: str) -> Link:
        """All of one thing."""
        first, last = self.solution.ranges[thing]
        return Link(first, last, self.solution.pieces.get(thing), self.weights.get(thing, ()))

    def all_of(self, things: Sequence[str]) -> Hashable:
        """What is known of things, to be compared with what was known of them before."""
        tables = self.solution.ranges.__getitem__, self.solution.pieces.get, self.weights.get
        return tuple(tuple(map(table, things)) for table in tables)
