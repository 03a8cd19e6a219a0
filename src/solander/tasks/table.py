"""What lies on the table: some prints at a time, in one of three arrangements, under their headings."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import pairwise

from attrs import define, field, frozen

from solander.catalogue.store import Catalogue
from solander.core.descriptions import DescribedPrint, When
from solander.core.standing import Arrangement, Standing
from solander.tasks.collection import Collection
from solander.tasks.described_some import described_some
from solander.tasks.standing import when_of

__all__ = ["Heading", "Laid", "Table"]

PRINTS_IN_A_DECADE = 30
"""Decades with more prints are parted into years, so that no heading is further away than about ten rows."""

MOST_IN_A_RUN = 2000
"""So many prints are taken up at once at most (our choice): more are better looked for."""


@frozen
class Heading:
    """What prints lie under: `name` is a year, a decade's first year, a container's code or an occasion, empty for
    none; `more` what a container is called; `count` how many prints lie under it in all."""

    arrangement: Arrangement
    name: str
    count: int
    decade: bool = False
    more: str = ""


@frozen
class Laid:
    """Prints beside each other, each with the heading that begins with it or None; whether others lie before and
    after them, and how many lie before."""

    prints: Sequence[DescribedPrint]
    headings: Sequence[Heading | None]
    is_first: bool
    is_last: bool


@define
class _Counts:
    """How many prints lie under each heading and of when all are, as of one state; each is read when it is first
    asked for."""

    catalogue: Catalogue
    now: tuple[int, int]
    _years: Mapping[int, int] | None = field(default=None, init=False)
    _containers: Mapping[str, int] | None = field(default=None, init=False)
    _occasions: Mapping[str, int] | None = field(default=None, init=False)
    _titles: Mapping[str, str] | None = field(default=None, init=False)
    _whens: Sequence[tuple[str, When]] | None = field(default=None, init=False)

    @property
    def whens(self) -> Sequence[tuple[str, When]]:
        if self._whens is None:
            numbers = [one.accession for one in self.catalogue.standings(limit=self.catalogue.standing_count())]
            told = self.catalogue.standing_told(numbers)
            self._whens = tuple((number, when_of(told.get(number, {}))) for number in numbers)
        return self._whens

    @property
    def years(self) -> Mapping[int, int]:
        if self._years is None:
            self._years = self.catalogue.standing_years()
        return self._years

    @property
    def containers(self) -> Mapping[str, int]:
        if self._containers is None:
            self._containers = self.catalogue.standing_counts("container")
        return self._containers

    @property
    def occasions(self) -> Mapping[str, int]:
        if self._occasions is None:
            self._occasions = self.catalogue.standing_counts("occasion")
        return self._occasions

    @property
    def titles(self) -> Mapping[str, str]:
        if self._titles is None:
            self._titles = {one.code: one.title for one in self.catalogue.containers() if one.title}
        return self._titles

    @property
    def undated(self) -> int:
        return self.catalogue.standing_count() - sum(self.years.values())


@define
class Table:
    """The table of one collection, read a page at a time."""

    collection: Collection
    _counts: _Counts | None = field(default=None, init=False)

    @property
    def total(self) -> int:
        """How many prints lie on it."""
        return self.collection.catalogue.standing_count()

    @property
    def years(self) -> Mapping[int, int]:
        """How many prints are taken to be of each year."""
        return self._counted().years

    @property
    def whens(self) -> Sequence[tuple[str, When]]:
        """Every print's number and date, in time; the same object until one of them changes. All are read."""
        return self._counted().whens

    def first_of_year(self, year: int) -> str:
        """The first print in time of that year or a later one, empty where there is none."""
        return self.collection.catalogue.standing_from_year(year) or ""

    def lay(
        self, arrangement: Arrangement, *, start: str = "", after: str = "", before: str = "", limit: int
    ) -> Laid:
        """Up to `limit` prints: those from the print `start` on, next `after` a print, next `before` one, or the
        first of all."""
        catalogue = self.collection.catalogue
        if start and start not in catalogue.standings_of([start]):
            start = ""
        ahead = catalogue.standings(arrangement, before=start, limit=1) if start else ()
        after = after or (ahead[0].accession if ahead else "")
        found = catalogue.standings(arrangement, after=after, before=before, limit=limit + 1)
        more = len(found) > limit
        here = (found[1:] if before and not after else found[:limit]) if more else found
        backwards = bool(before) and not after
        previous = self._previous(arrangement, here)
        known = {one.accession: one for one in here}
        counts = self._counted()
        headings = [_heading(arrangement, one, counts) for one in here]
        came = _heading(arrangement, previous, counts) if previous else None
        return Laid(
            described_some(self.collection, known, known),
            [now if now != then else None for then, now in pairwise([came, *headings])],
            is_first=previous is None,
            is_last=not more if not backwards else False,
        )

    def _previous(self, arrangement: Arrangement, here: Sequence[Standing]) -> Standing | None:
        if not here:
            return None
        found = self.collection.catalogue.standings(arrangement, before=here[0].accession, limit=1)
        return found[0] if found else None

    def run(self, arrangement: Arrangement, first: str, last: str) -> list[str]:
        """The numbers of all prints from one to another, whichever comes first; at most `MOST_IN_A_RUN`.

        Empty where one of them does not lie on the table.
        """
        catalogue = self.collection.catalogue
        if not {first, last} <= catalogue.standings_of([first, last]).keys():
            return []
        ends = sorted((first, last), key=lambda each: catalogue.standings_before(arrangement, each))
        count = catalogue.standings_before(arrangement, ends[1]) - catalogue.standings_before(arrangement, ends[0])
        following = catalogue.standings(arrangement, after=ends[0], limit=min(count, MOST_IN_A_RUN))
        return [ends[0], *(one.accession for one in following)] if count else [first]

    def _counted(self) -> _Counts:
        catalogue = self.collection.catalogue
        now = catalogue.last_change(), catalogue.standing_change()
        if self._counts is None or self._counts.now != now:
            self._counts = _Counts(catalogue, now)
        return self._counts


def _heading(arrangement: Arrangement, one: Standing, counts: _Counts) -> Heading:
    if arrangement is Arrangement.CONTAINER:
        code = one.container or ""
        return Heading(arrangement, code, counts.containers.get(code, 0), more=counts.titles.get(code, ""))
    if arrangement is Arrangement.OCCASION:
        return Heading(arrangement, one.occasion, counts.occasions.get(one.occasion, 0))
    if one.year is None:
        return Heading(arrangement, "", counts.undated)
    decade = one.year // 10 * 10
    of_decade = sum(counts.years.get(year, 0) for year in range(decade, decade + 10))
    if of_decade <= PRINTS_IN_A_DECADE:
        return Heading(arrangement, str(decade), of_decade, decade=True)
    return Heading(arrangement, str(one.year), counts.years.get(one.year, 0))
