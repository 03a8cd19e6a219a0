"""What was said of dates, before it becomes EDTF, and how dates told together complete each other."""

from __future__ import annotations

from typing import Literal

from attrs import evolve, frozen

from solander.core.phrases.terms import Kind

__all__ = ["LAST", "Expression", "Link", "Parts", "Relative", "Stretch", "completed", "filled"]

LAST = -1
"""Counts from the end."""

Link = Literal["", "either", "range"]


@frozen
class Stretch:
    """Days from a first to a last (ordinals) that may lie in doubt at both ends.

    What it stands for has begun by the day `begun` and does not end before the day `ended`. A war of known days
    begins on its first; a birthday in an unknown month has begun on the last day of that year at the latest.
    """

    first: int
    last: int
    begun: int
    ended: int


@frozen
class Relative:
    """A date told by its place beside something else: "the second summer after the war".

    `what` is a season, feast or month without a year; or `unit` is a year, month, week or day, or `just`; `least`
    to `most` of them are counted, 0 where no number was told, −1 for the last. `toward` is BEFORE, AFTER or
    DURING.
    """

    anchor: Parts
    toward: Kind
    what: Parts | None = None
    unit: str = ""
    least: int = 0
    most: int = 0


@frozen
class Parts:
    """What was said of one date; None where nothing was.

    `short` marks a year told by two digits; `decade` and `century` hold their first year; `spans` are the
    meanings of an event; `options` are the ways to read an ambiguous date, which then holds nothing else;
    `part` (early 0 to late 2, halves 3 and 4) may reach to a later one.
    `number` is a bare number that another date may complete; `week` counts the weeks of a month. `stretch` is
    what is known of a life or an occasion, `pieces` are days (first and last ordinals) of which it is one; either
    may be `approximate`.
    """

    year: int | None = None
    short: bool = False
    month: int | None = None
    day: int | None = None
    season: int | None = None
    feast: str | None = None
    decade: int | None = None
    century: int | None = None
    part: int | None = None
    to_part: int | None = None
    spans: tuple[tuple[str, str], ...] = ()
    options: tuple[Parts, ...] = ()
    number: int | None = None
    week: int | None = None
    stretch: Stretch | None = None
    relative: Relative | None = None
    pieces: tuple[tuple[int, int], ...] = ()
    approximate: bool = False

    @property
    def is_bare(self) -> bool:
        """Whether it is only a number, no date by itself."""
        return self.number is not None

    @property
    def has_year(self) -> bool:
        """Whether it is bound to years."""
        told = (self.year, self.decade, self.century, self.stretch, self.relative)
        if any(value is not None for value in told) or self.spans or self.pieces:
            return True
        return any(option.has_year for option in self.options)


@frozen
class Expression:
    """One or more dates and how they are meant; it covers the terms `first` … `last` − 1 without `gaps`.

    `week` is how far a week reaches from the day told: 6, or −6 for one that ends with it; 0 for none.
    """

    members: tuple[Parts, ...]
    link: Link
    relation: Kind | None
    marks: frozenset[str]
    lab: bool
    week: int
    first: int
    last: int
    gaps: frozenset[int] = frozenset()

    @property
    def places(self) -> frozenset[int]:
        """The terms that it reads."""
        return frozenset(range(self.first, self.last)) - self.gaps

    @property
    def only(self) -> Parts | None:
        """Its one date, when nothing else is told of it."""
        plain = len(self.members) == 1 and self.relation is None and not self.week and not self.lab
        return self.members[0] if plain else None


def filled(members: list[Parts], link: str) -> list[Parts]:
    """Each date completed from its neighbours: years, months and bare numbers."""
    found = list(members)
    for place in range(len(found) - 2, -1, -1):
        found[place] = completed(found[place], found[place + 1])
    for place in range(1, len(found)):
        found[place] = completed(found[place], found[place - 1])
        found[place - 1] = completed(found[place - 1], found[place])
        if link == "either":
            found[place] = _of_the_same(found[place], found[place - 1])
    return found


def _of_the_same(parts: Parts, before: Parts) -> Parts:
    """ "Christmas 1950 or 1951" means Christmas both times."""
    only_year = parts.year is not None and parts == Parts(year=parts.year, short=parts.short)
    if only_year and (before.month or before.season or before.feast):
        return evolve(before, year=parts.year, short=parts.short)
    return parts


def completed(parts: Parts, other: Parts) -> Parts:
    if parts.number is not None:
        return _number_completed(parts, other) or parts
    if parts.has_year or other.year is None:
        return parts
    if parts.month or parts.season or parts.feast:
        return evolve(parts, year=other.year, short=other.short)
    return parts


def _number_completed(parts: Parts, other: Parts) -> Parts | None:
    number = parts.number or 0
    if other.day and number <= 31:
        year, short = (other.year, other.short) if parts.year is None else (parts.year, parts.short)
        return evolve(other, day=number, year=year, short=short)
    only_year = other.year is not None and not (other.month or other.season or other.feast)
    year = other.year or 0
    if only_year and parts.year is None and 10 <= number <= 99:
        return Parts(year=year // 100 * 100 + number, short=other.short)
    if only_year and parts.year is None and year % 10 < number < 10:
        # "nineteen fifty-two or three"
        return Parts(year=year // 10 * 10 + number, short=other.short)
    return None
