"""Places out of words, for the command line, the pages and everything that takes words in."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import lru_cache
from pathlib import Path

from attrs import evolve, field, frozen

from solander.authorities.gazetteer.credit import GEONAMES_CREDIT
from solander.authorities.gazetteer.finder import Gazetteer
from solander.authorities.gazetteer.kept import gazetteer_file, packs
from solander.authorities.gazetteer.names_then import words_of_place
from solander.authorities.gazetteer.qualifiers import country_name
from solander.catalogue.queries import Reading as Known
from solander.core.errors import CannotBegin, InvalidValue, NotFound
from solander.core.place_finds import LEAST_SURE, Home, PlaceFound, sure_of
from solander.core.places import GEONAMES, Place
from solander.core.questions import Asks
from solander.core.sentence import Either, Sentence
from solander.core.statements import Sure
from solander.tasks.ask import ask, settle
from solander.tasks.collection import Collection
from solander.tasks.first_words_kept import first_words_of

__all__ = [
    "GEONAMES_CREDIT",
    "LookedUp",
    "PlaceReader",
    "geonames_credit",
    "mean_place",
    "meant",
    "place_in_words",
    "place_reader",
    "question_about",
    "taken_for",
    "understand_places",
    "words_of_place",
]

_CHOICES = 4
"""So many places are offered in a question."""

_GEONAMES_KEY = "geonames:"

_WORTH_ASKING, _SLIPS_ASKED = 0.1, 1
"""What is less likely, or more letters off, is not offered (our choice)."""


@frozen
class PlaceReader:
    """Finds places as the people of one collection mean them: `own` are its own places, `home` where they lived.

    Without a `gazetteer` only own places are found; `why_none` says why.
    """

    gazetteer: Gazetteer | None
    own: tuple[Place, ...] = ()
    home: Home = field(factory=Home)
    why_none: str = ""

    def __call__(self, phrase: str, *, on: str | None = None) -> tuple[PlaceFound, ...]:
        """The places that a phrase may mean, the likeliest first; `on` is an EDTF date.

        Raises
        ------
        InvalidValue
            When the phrase has no word in it, or `on` is no date.
        CannotBegin
            When there is no gazetteer.
        """
        if self.gazetteer is None:
            raise CannotBegin(self.why_none)
        return self.gazetteer.find(phrase, on=on, own=self.own, home=self.home)


def place_reader(catalogue: Known | None = None, tell: Callable[[str], None] = lambda _: None) -> PlaceReader:
    """Finds places by what the catalogue knows now; `tell` hears when the gazetteer is made first."""
    own = tuple(place for place in catalogue.places() if place.is_own) if catalogue else ()
    home = _home(catalogue) if catalogue else Home()
    try:
        return PlaceReader(_gazetteer(gazetteer_file(tell), packs()), own, home)
    except CannotBegin as trouble:
        return PlaceReader(None, own, home, trouble.sentence)


@lru_cache(maxsize=2)
def _gazetteer(path: Path, regional: tuple[Path, ...]) -> Gazetteer:
    return Gazetteer(path, regional)


def geonames_credit(places: Iterable[Place]) -> str:
    """The sentence that must stand where places of GeoNames are used; empty where none is."""
    return GEONAMES_CREDIT if any(place.source == GEONAMES for place in places) else ""


def _home(catalogue: Known) -> Home:
    """Where the people of a collection lived, as its owner said first."""
    homes = set(first_words_of(catalogue).homes)
    there = [place for place in catalogue.places() if place.name in homes]
    points = [
        (one.latitude, one.longitude) for one in there if one.latitude is not None and one.longitude is not None
    ]
    return Home(tuple(points), frozenset(one.country for one in there if one.country))


def taken_for(name: str, found: tuple[PlaceFound, ...]) -> Place | None:
    """The place that a name is taken for by itself; None where a person must say, or nothing was found.

    What is misspelt is never taken by itself: it may as well be a place that no table knows.
    """
    if not found or found[0].score < LEAST_SURE or found[0].slips:
        return None
    return meant(name, found[0], sure=sure_of(found))


def meant(name: str, found: PlaceFound, *, sure: Sure = Sure.CERTAIN) -> Place:
    """The place that the collection calls `name`, where what was found is."""
    if found.own is not None:
        return evolve(found.own, name=name, names=(), sure=sure)
    return Place(
        name,
        country=found.country,
        latitude=found.latitude,
        longitude=found.longitude,
        radius_m=found.radius_m,
        what=found.what,
        known_as=(found.known_as,) if found.known_as.startswith(_GEONAMES_KEY) else (),
        town=found.name if found.what == "town" else "",
        region=found.region,
        source=GEONAMES,
        sure=sure,
    )


def question_about(name: str, found: tuple[PlaceFound, ...]) -> str:
    """What to ask when a name is not taken for a place by itself; empty when there is nothing to choose from."""
    if not found or found[0].score < _WORTH_ASKING or found[0].slips > _SLIPS_ASKED:
        return ""
    if found[0].slips:
        place = place_in_words(found[0])
        return Sentence("No place is known as “%(name)s”: is it %(place)s?", name=name, place=place)
    choices = [one for one in found if one.score >= _WORTH_ASKING][:_CHOICES]
    return Sentence(
        "“%(name)s” may be more than one place: is it %(places)s?",
        name=name,
        places=Either(map(place_in_words, choices)),
    )


def place_in_words(found: PlaceFound) -> str:
    """A candidate as it is told apart from others: "Frankfurt (Oder) (Brandenburg, Germany)"."""
    around = dict.fromkeys((found.region, country_name(found.country)))
    told = ", ".join(name for name in around if name and name != found.name)
    return f"{found.name} ({told})" if told else found.name


def mean_place(collection: Collection, name: str, known_as: str, *, who: str = "archivist") -> int | None:
    """Says which place of the gazetteer the collection means by a name; the act's number for undo.

    `known_as` is the key of a candidate (`geonames:2925533`).

    Raises
    ------
    NotFound
        When the gazetteer has no such place.
    CannotBegin
        When there is no gazetteer.
    """
    reader = place_reader(collection.catalogue)
    if reader.gazetteer is None:
        raise CannotBegin(reader.why_none)
    number = known_as.removeprefix(_GEONAMES_KEY)
    found = reader.gazetteer.town(int(number)) if number.isdecimal() else None
    if found is None:
        raise NotFound(
            Sentence("No place of the gazetteer is “%(known_as)s”", known_as=known_as),
            "",
            Sentence("Choose one that was offered"),
        )
    with (
        collection.catalogue.act(
            who, Sentence("%(name)s is %(place)s", name=name, place=place_in_words(found))
        ) as act,
        act.work() as work,
    ):
        known = {place.name: place for place in collection.catalogue.places()}.get(name, Place(name))
        work.keep_place(_located(known, meant(name, found)))
        settle(collection, work, Asks.PLACE, name)
        work.commit()
    return act.number


@frozen
class LookedUp:
    """The places that were found, what is asked of others, and the act's number, None where nothing changed."""

    found: tuple[Place, ...]
    asked: tuple[str, ...]
    act: int | None


def understand_places(
    collection: Collection, *, who: str = "archivist", tell: Callable[[str], None] = lambda _: None
) -> LookedUp:
    """Looks up every place of which only the name is known.

    Raises
    ------
    CannotBegin
        When there is no gazetteer.
    """
    reader = place_reader(collection.catalogue, tell)
    found: list[Place] = []
    asked: list[str] = []
    with collection.catalogue.act(who, Sentence("looked up places")) as act, act.work() as work:
        for place in collection.catalogue.places():
            if not place.is_located:
                candidates = _candidates(reader, place)
                taken = taken_for(place.name, candidates)
                if taken:
                    found.append(_located(place, taken))
                    work.keep_place(found[-1])
                    settle(collection, work, Asks.PLACE, place.name)
                elif question := question_about(place.name, candidates):
                    asked.append(question)
                    ask(work, Asks.PLACE, place.name, question)
        work.commit()
    return LookedUp(tuple(found), tuple(asked), act.number)


def _located(known: Place, found: Place) -> Place:
    """Where it was found, with what the collection knows of it besides: its names, its kind, its keys in files."""
    keys = (key for key in known.known_as if not key.startswith(_GEONAMES_KEY))
    lasting = tuple(dict.fromkeys((*found.known_as, *keys)))
    return evolve(found, names=known.names, what=known.what or found.what, known_as=lasting)


def _candidates(reader: PlaceReader, place: Place) -> tuple[PlaceFound, ...]:
    """What the name of a place may mean, in its country where that is known."""
    within = country_name(place.country) if place.country else ""
    try:
        found = reader(f"{place.name}, {within}" if within else place.name)
    except InvalidValue:  # a name without a word in it, "?": nothing can be looked up
        return ()
    return tuple(one for one in found if one.country in (place.country, "") or not place.country)
