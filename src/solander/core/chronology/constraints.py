"""What may be said of things in time: days as ordinals (see `solander.core.days`), every statement with an id.

A statement that cannot be true of anything (an interval backwards, a thing compared with itself) is not built.
"""

from __future__ import annotations

from collections.abc import Iterable

from attrs import evolve, field, frozen

from solander.core.errors import InvalidValue

__all__ = ["Between", "Difference", "Months", "Pieces", "Statement"]

Stretch = tuple[int | None, int | None]


def _refused(ident: str, why: str, todo: str) -> InvalidValue:
    return InvalidValue(f"Statement {ident} cannot be true", why, todo)


_MOST_DAYS = 10**300
"""Sums with ±inf can't hold more; nothing that happened is so far away."""


def _check(ident: str, days: Iterable[int | None]) -> None:
    if any(each is not None and abs(each) > _MOST_DAYS for each in days):
        raise _refused(ident, "its days are beyond belief", "Check its dates")


def _less(bound: int | None, days: int) -> int | None:
    return None if bound is None else bound - days


def _more(bound: int | None, days: int) -> int | None:
    return None if bound is None else bound + days


@frozen
class Between:
    """`x` lies within `earliest` … `latest`, both included; None leaves that side open."""

    id: str
    x: str
    earliest: int | None
    latest: int | None
    why: str = ""

    def __attrs_post_init__(self) -> None:
        _check(self.id, (self.earliest, self.latest))
        if self.earliest is not None and self.latest is not None and self.earliest > self.latest:
            raise _refused(self.id, "its interval ends before it begins", "Put the earlier day first")

    def widened(self, days: int) -> Between:
        """The same with as many more days allowed on each bounded side."""
        return evolve(self, earliest=_less(self.earliest, days), latest=_more(self.latest, days))


@frozen
class Difference:
    """`b` comes `min_days` … `max_days` after `a`; negative: before; None leaves that side open."""

    id: str
    a: str
    b: str
    min_days: int | None
    max_days: int | None
    why: str = ""

    def __attrs_post_init__(self) -> None:
        _check(self.id, (self.min_days, self.max_days))
        if self.a == self.b:
            raise _refused(self.id, "it compares a thing with itself", "Name two things")
        if self.min_days is not None and self.max_days is not None and self.min_days > self.max_days:
            raise _refused(self.id, "its least days are more than its most", "Put the smaller number first")

    def widened(self, days: int) -> Difference:
        """The same with as many more days allowed on each bounded side."""
        return evolve(self, min_days=_less(self.min_days, days), max_days=_more(self.max_days, days))


@frozen
class Months:
    """`x` lies in one of these months (1–12) of any year; `spread_days` allows as many days before and after."""

    id: str
    x: str
    months: frozenset[int] = field(converter=frozenset)
    why: str = ""
    spread_days: int = 0

    def __attrs_post_init__(self) -> None:
        if not self.months or not self.months <= frozenset(range(1, 13)):
            raise _refused(self.id, "its months are not among 1 to 12", "Give month numbers from 1 to 12")

    def widened(self, days: int) -> Months:
        """The same with as many more days allowed on both sides of each month."""
        return evolve(self, spread_days=self.spread_days + days)


def _in_order(pieces: Iterable[Iterable[int | None]]) -> tuple[Stretch, ...]:
    found = [(first, last) for first, last in pieces]
    return tuple(sorted(found, key=lambda piece: (piece[0] is not None, piece[0] or 0)))


@frozen
class Pieces:
    """`x` lies in one of these stretches of days, ends included; None leaves an end open."""

    id: str
    x: str
    pieces: tuple[Stretch, ...] = field(converter=_in_order)
    why: str = ""

    def __attrs_post_init__(self) -> None:
        if not self.pieces:
            raise _refused(self.id, "it allows no day", "Give one stretch of days at least")
        for first, last in self.pieces:
            _check(self.id, (first, last))
            if first is not None and last is not None and first > last:
                raise _refused(self.id, "a stretch ends before it begins", "Put the earlier day first")

    def widened(self, days: int) -> Pieces:
        """The same with as many more days allowed on each side of each stretch."""
        return evolve(self, pieces=[(_less(first, days), _more(last, days)) for first, last in self.pieces])


Statement = Between | Difference | Months | Pieces
