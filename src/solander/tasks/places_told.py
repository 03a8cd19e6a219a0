"""What the room of names and places tells of places: their prints and years, their names then and now."""

from __future__ import annotations

from bisect import bisect_right
from collections import defaultdict
from collections.abc import Sequence
from threading import Lock

from attrs import define, field, frozen

from solander.authorities.gazetteer.qualifiers import country_name
from solander.core.descriptions import DescribedPrint
from solander.core.errors import NotFound
from solander.core.phrases.tokens import folded
from solander.core.places import Place
from solander.look.map_figure import counts_of
from solander.tasks.first_words_kept import first_words_of
from solander.tasks.show import Shown

__all__ = ["LINES_ON_A_PAGE", "PlaceTold", "PlacesPage", "PlacesTold"]

LINES_ON_A_PAGE = 100
"""Lines of a list on one page; more are a step away."""


@frozen
class PlaceTold:
    """A place with its prints in order of time; `home` where first words say that they lived there. `years` are
    those of the prints' best guesses with how many there are of each, `undated` counts prints without one."""

    place: Place
    prints: tuple[DescribedPrint, ...]
    home: bool = False
    years: tuple[tuple[int, int], ...] = ()
    undated: int = 0

    @property
    def around(self) -> str:
        """The town, region and country in which it lies, as far as they are known and are not the name itself."""
        names = dict.fromkeys((self.place.town, self.place.region, country_name(self.place.country)))
        return ", ".join(name for name in names if name and name != self.place.name)

    @property
    def key(self) -> tuple[str, str]:
        """By which places are listed."""
        return folded(self.place.name), self.place.name


@frozen
class PlacesPage:
    """A page of places by name; `after` is the name after which the next begins, None on the last. `total` counts
    all that fit."""

    lines: tuple[PlaceTold, ...]
    total: int
    after: str | None


@frozen(eq=False)
class _Gathered:
    """All places as of a change and an order, by name, with all names of each to be sought."""

    as_of: int = -1
    prints: Sequence[DescribedPrint] = ()
    listed: Sequence[PlaceTold] = ()
    sought: Sequence[str] = ()


@define
class PlacesTold:
    """The places of a collection, gathered again only after something was written, or the order worked out."""

    shown: Shown
    _gathered: _Gathered = field(factory=_Gathered, init=False)
    _one_at_a_time: Lock = field(factory=Lock, init=False)

    def page(self, *, said: str = "", after: str = "") -> PlacesPage:
        """The places whose names hold every word of `said`, homes and those with most prints first; without it all
        of them by name, beginning after the name `after`."""
        now = self._now
        listed = now.listed
        if said.strip():
            words = folded(said).split()
            named = zip(listed, now.sought, strict=True)
            found = [one for one, names in named if all(word in names for word in words)]
            found.sort(key=lambda one: (not one.home, -len(one.prints), one.key))
            return PlacesPage(tuple(found[:LINES_ON_A_PAGE]), len(found), None)
        start = bisect_right(listed, (folded(after), after), key=lambda one: one.key) if after else 0
        lines = listed[start : start + LINES_ON_A_PAGE]
        more = start + LINES_ON_A_PAGE < len(listed)
        return PlacesPage(tuple(lines), len(listed), lines[-1].place.name if more else None)

    def place(self, name: str) -> PlaceTold:
        """The place of that name.

        Raises
        ------
        NotFound
            When there is none.
        """
        listed = self.all()
        at = bisect_right(listed, (folded(name), name), key=lambda one: one.key) - 1
        if at < 0 or listed[at].place.name != name:
            raise NotFound(f"No place is called “{name}”", "", "Look for it among the places")
        return listed[at]

    def all(self) -> Sequence[PlaceTold]:
        """All places by name: the collection's own and those that only prints name."""
        return self._now.listed

    @property
    def _now(self) -> _Gathered:
        """All places as of now: one page asks while another may be answered."""
        with self._one_at_a_time:
            as_of, prints = self.shown.collection.catalogue.last_change(), self.shown.described()
            if as_of != self._gathered.as_of or prints is not self._gathered.prints:
                self._gathered = self._gather(as_of, prints)
            return self._gathered

    def _gather(self, as_of: int, prints: Sequence[DescribedPrint]) -> _Gathered:
        catalogue = self.shown.collection.catalogue
        homes = set(first_words_of(catalogue).homes)
        there: dict[str, list[DescribedPrint]] = defaultdict(list)
        named: dict[str, Place] = {}
        for one in prints:
            if one.place:
                there[one.place.name].append(one)
                named[one.place.name] = one.place
        named |= {place.name: place for place in catalogue.places()}
        told = (
            PlaceTold(place, tuple(there.get(name, ())), name in homes, *counts_of(there.get(name, ())))
            for name, place in named.items()
        )
        listed = sorted(told, key=lambda one: one.key)
        return _Gathered(as_of, prints, listed, [_all_names(one.place) for one in listed])


def _all_names(place: Place) -> str:
    names = (place.name, *(name.text for name in place.names), place.town, place.region)
    return "\n".join(folded(name) for name in names if name)
