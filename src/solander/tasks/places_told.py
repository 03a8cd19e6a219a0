"""What the room of names and places tells of places: their prints and years, their names then and now."""

from __future__ import annotations

from bisect import bisect_right
from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence

from attrs import define, field, frozen

from solander.authorities.gazetteer.qualifiers import country_name
from solander.catalogue.store import Catalogue
from solander.core.errors import NotFound
from solander.core.phrases.tokens import folded
from solander.core.places import Place
from solander.core.sentence import Sentence
from solander.core.statements import About, Says, Sure
from solander.look.map_figure import counts_of
from solander.tasks.first_words_kept import first_words_of
from solander.tasks.gathered import Gathered
from solander.tasks.show import Shown

__all__ = ["LINES_ON_A_PAGE", "PlaceTold", "PlacesPage", "PlacesTold"]

LINES_ON_A_PAGE = 100
"""Lines of a list on one page; more are a step away."""


@frozen
class PlaceTold:
    """A place with the numbers of its prints in order of time; `home` where first words say that they lived there.
    `years` are those of the prints' best guesses with how many there are of each, `undated` counts prints without
    one."""

    place: Place
    prints: tuple[str, ...] = ()
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
class _Everywhere:
    """All places by name, with all names of each to be sought; `placeless` counts prints that have no place by the
    year of their best guess."""

    listed: Sequence[PlaceTold]
    sought: Sequence[str]
    placeless: Mapping[int | None, int]


@define
class PlacesTold:
    """The places of a collection."""

    shown: Shown
    _everywhere: Gathered[_Everywhere] = field(init=False)

    def __attrs_post_init__(self) -> None:
        self._everywhere = Gathered(self.shown, self._gather)

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
            raise NotFound(
                Sentence("No place is called “%(name)s”", name=name), "", Sentence("Look for it among the places")
            )
        return listed[at]

    def all(self) -> Sequence[PlaceTold]:
        """All places by name: the collection's own and those that only prints name."""
        return self._now.listed

    @property
    def placeless(self) -> Mapping[int | None, int]:
        """How many prints have no place, by the year of their best guess."""
        return self._now.placeless

    @property
    def _now(self) -> _Everywhere:
        return self._everywhere.now()

    def _gather(self) -> _Everywhere:
        catalogue = self.shown.collection.catalogue
        homes = set(first_words_of(catalogue).homes)
        there: dict[str, list[tuple[str, int | None]]] = defaultdict(list)
        placeless: Counter[int | None] = Counter()
        for number, year, name in _placed(catalogue):
            if name:
                there[name].append((number, year))
            else:
                placeless[year] += 1
        named = {name: Place(name) for name in there} | {place.name: place for place in catalogue.places()}
        told = (_told(place, there.get(name, ()), home=name in homes) for name, place in named.items())
        listed = sorted(told, key=lambda one: one.key)
        return _Everywhere(listed, [_all_names(one.place) for one in listed], placeless)


def _told(place: Place, prints: Sequence[tuple[str, int | None]], *, home: bool) -> PlaceTold:
    numbers = tuple(number for number, _ in prints)
    return PlaceTold(place, numbers, home, *counts_of(year for _, year in prints))


def _placed(catalogue: Catalogue) -> Iterator[tuple[str, int | None, str]]:
    """Every print in order of time with its year and its place, empty where it has none: as on its slip the surest
    that is said of it or of its occasion, of equally sure ones the first that is said of itself."""
    own = _surest(catalogue.said_of_all(About.PRINT, Says.PLACE))
    shared = _surest(catalogue.said_of_all(About.OCCASION, Says.PLACE))
    occasions = {number: name for number, name, _ in catalogue.said_of_all(About.PRINT, Says.OCCASION)}
    for number, year in catalogue.prints_in_time():
        said = [one for one in (own.get(number), shared.get(occasions.get(number, ""))) if one]
        yield number, year, min(said, key=lambda one: one[0])[1] if said else ""


_SURENESS = {sure: place for place, sure in enumerate((Sure.CERTAIN, Sure.LIKELY, Sure.GUESS))}


def _surest(said: Iterable[tuple[str, str, str]]) -> dict[str, tuple[int, str]]:
    """What is said most surely of each, the first of equally sure ones, with how sure: 0 is certain."""
    found: dict[str, tuple[int, str]] = {}
    for subject, value, sure in said:
        place = _SURENESS[Sure(sure)]
        if subject not in found or place < found[subject][0]:
            found[subject] = place, value
    return found


def _all_names(place: Place) -> str:
    names = (place.name, *(name.text for name in place.names), place.town, place.region)
    return "\n".join(folded(name) for name in names if name)
