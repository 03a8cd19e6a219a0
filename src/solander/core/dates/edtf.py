"""What an EDTF value is made of (ISO 8601-2, in the Library of Congress form of 2019-02-04).

An `Edtf` is one date, an interval `a/b`, one of a set `[a,b..c]` or all of a set `{a,b..c}`. Dates keep their
digits as written, so that a value comes back exactly as it went in.
"""

from __future__ import annotations

from enum import StrEnum
from typing import Literal

from attrs import frozen

from solander.core.dates import stretches

__all__ = ["Bounds", "Edtf", "End", "Form", "Moment", "Span"]

EndKind = Literal["day", "open", "unknown"]

Stretch = tuple[int | None, int | None]


class End(StrEnum):
    """An end of an interval or range that is no date, as it is written."""

    OPEN = ".."
    UNKNOWN = ""


class Form(StrEnum):
    """How the members of a value belong together."""

    DATE = "date"
    INTERVAL = "interval"
    ONE_OF = "one of"
    ALL_OF = "all of"


@frozen
class Moment:
    """One date of any precision.

    `year` as written: `1952`, `195X`, `-1985`, `Y17E7`; `significant` the digits after S, or empty; `month` a
    month or a code 21–41 for part of a year, or empty; `time` as written from the T on. `marks` are the
    qualifiers before and after year, month and day, six in that order, each `?`, `~`, `%` or empty.
    """

    year: str
    month: str = ""
    day: str = ""
    time: str = ""
    significant: str = ""
    marks: tuple[str, ...] = ("",) * 6

    def __str__(self) -> str:
        m = self.marks
        text = f"{m[0]}{self.year}{'S' if self.significant else ''}{self.significant}{m[1]}"
        if self.month:
            text += f"-{m[2]}{self.month}{m[3]}"
        if self.day:
            text += f"-{m[4]}{self.day}{m[5]}"
        return text + self.time

    @property
    def is_season(self) -> bool:
        """Whether `month` holds a season or another part of a year."""
        return self.month > "20" and "X" not in self.month

    def qualifier_of(self, part: Literal["year", "month", "day"]) -> str:
        """The qualifier that counts for a part: its own, or one that stands behind it or further right."""
        place = ("year", "month", "day").index(part)
        counts = {self.marks[2 * place], *self.marks[2 * place + 1 :: 2]}
        return joined(counts)

    def stretches(self, southern: bool = False) -> list[tuple[int, int]]:
        """The stretches of days that the date allows."""
        return stretches.of_moment(self.year, self.significant, self.month, self.day, southern=southern)

    def first_day(self, southern: bool = False) -> int:
        """The first day that the date allows."""
        return stretches.first_day(self.year, self.significant, self.month, self.day, southern=southern)

    def last_day(self, southern: bool = False) -> int:
        """The last day that the date allows."""
        return stretches.last_day(self.year, self.significant, self.month, self.day, southern=southern)


@frozen
class Span:
    """From a date to a date; either end may be open, in an interval also unknown."""

    start: Moment | End
    end: Moment | End

    def bounds(self, southern: bool = False) -> Bounds:
        """First and last day; south of the equator a season may end before it begins, then they change places."""
        first = self.start.first_day(southern) if isinstance(self.start, Moment) else None
        last = self.end.last_day(southern) if isinstance(self.end, Moment) else None
        if first is not None and last is not None and first > last:
            first, last = last, first
        return Bounds(first, last, _kind(self.start), _kind(self.end))


def _kind(end: Moment | End) -> EndKind:
    if isinstance(end, Moment):
        return "day"
    return "open" if end is End.OPEN else "unknown"


@frozen
class Bounds:
    """First and last day that a value allows, as day ordinals; None where there is none, with the reason."""

    earliest: int | None
    latest: int | None
    earliest_kind: EndKind = "day"
    latest_kind: EndKind = "day"


@frozen
class Edtf:
    """A valid EDTF value; `level` is the lowest of 0, 1, 2 that allows all that it uses."""

    form: Form
    members: tuple[Moment | Span, ...]
    level: int

    def __str__(self) -> str:
        if self.form is Form.DATE:
            return str(self.members[0])
        if self.form is Form.INTERVAL:
            span = self.members[0]
            assert isinstance(span, Span)
            return f"{span.start}/{span.end}"
        text = ",".join(_member_text(member) for member in self.members)
        return f"[{text}]" if self.form is Form.ONE_OF else f"{{{text}}}"

    @property
    def moments(self) -> tuple[Moment, ...]:
        """Every date in the value."""
        ends = (end for m in self.members for end in ((m,) if isinstance(m, Moment) else (m.start, m.end)))
        return tuple(end for end in ends if isinstance(end, Moment))

    @property
    def qualifiers(self) -> frozenset[str]:
        """`?` when any part is uncertain, `~` when any is approximate; `%` counts as both."""
        marks = joined({mark for moment in self.moments for mark in moment.marks})
        return frozenset("?~" if marks == "%" else marks)

    def bounds(self, southern: bool = False) -> Bounds:
        """First and last day that the value allows.

        Read strictly: `?`, `~` and `%` widen nothing. Seasons (where the standard gives no days) are whole
        months: 21 spring Mar–May, 22 summer Jun–Aug, 23 autumn Sep–Nov, 24 winter Dec–Feb of the next year; with
        `southern` 21 Sep–Nov, 22 Dec–Feb of the next year, 23 Mar–May, 24 Jun–Aug. Codes 25–28 are northern and
        29–32 southern whatever the setting.
        """
        if len(self.members) == 1:
            return _bounds_of(self.members[0], southern)
        every = [_bounds_of(member, southern) for member in self.members]
        firsts = [bounds.earliest for bounds in every]
        lasts = [bounds.latest for bounds in every]
        return Bounds(
            None if None in firsts else min(first for first in firsts if first is not None),
            None if None in lasts else max(last for last in lasts if last is not None),
            "open" if None in firsts else "day",
            "open" if None in lasts else "day",
        )

    def pieces(self, southern: bool = False) -> tuple[Stretch, ...]:
        """The stretches of days allowed, in order, apart by a day at least; (None, …) and (…, None) when open.

        A value that would fall into more than `stretches.MOST` stretches gives its envelope as one.
        """
        found: list[Stretch] = []
        for member in self.members:
            if isinstance(member, Moment):
                found += member.stretches(southern)
            else:
                bounds = member.bounds(southern)
                found.append((bounds.earliest, bounds.latest))
        return tuple(stretches.merged(found))


def joined(marks: set[str]) -> str:
    """One qualifier that says what several say together."""
    marks = marks - {""}
    if len(marks) > 1:
        return "%"
    return next(iter(marks), "")


def _bounds_of(member: Moment | Span, southern: bool) -> Bounds:
    if isinstance(member, Span):
        return member.bounds(southern)
    return Bounds(member.first_day(southern), member.last_day(southern))


def _member_text(member: Moment | Span) -> str:
    if isinstance(member, Moment):
        return str(member)
    start, end = ("" if isinstance(side, End) else str(side) for side in (member.start, member.end))
    return f"{start}..{end}"
