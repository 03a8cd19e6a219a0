"""What is made of words as somebody types them: who, where or when is meant, and why."""

from __future__ import annotations

import threading
from collections.abc import Sequence
from pathlib import Path
from typing import Generic, TypeVar

from attrs import define, field, frozen

from solander.authorities.gazetteer.kept import default_file, gazetteer_file, packs
from solander.authorities.naming import understood
from solander.core.dates import Bounds, parse_edtf
from solander.core.errors import CannotBegin, InvalidValue
from solander.core.people import Person
from solander.core.phrases import DatePhrase
from solander.core.place_finds import PlaceFound
from solander.core.places import Place
from solander.tasks.collection import Collection
from solander.tasks.date import DateReader, date_reader
from solander.tasks.known_people import KnownPeople, known_people
from solander.tasks.places import PlaceReader, place_in_words, place_reader, taken_for

__all__ = ["Understanding", "Understood", "prepare_gazetteer"]

Meant = TypeVar("Meant", Person, Place)

_OTHERS = 3
"""So many others that may be meant are named beside the likeliest."""


@frozen
class Understood(Generic[Meant]):
    """Who or what is meant by words, and why; `new` when it is not known yet and would be entered as written.

    `told` is a candidate in words where it is called otherwise than it was said; `others` are further ones that
    may be meant, in words; `clear` when nobody need be asked.
    """

    said: str
    meant: Meant
    reasons: tuple[str, ...] = ()
    new: bool = False
    told: str = ""
    others: tuple[str, ...] = ()
    clear: bool = True


@define
class Understanding:
    """Understands what is typed in one collection; what is known is gathered again only after it changed."""

    collection: Collection
    _dates: tuple[int, DateReader] | None = field(default=None, init=False)
    _places: tuple[tuple[int, tuple[Path, ...]], PlaceReader] | None = field(default=None, init=False)

    def date(self, said: str) -> DatePhrase:
        """A date in words."""
        now, kept = self.collection.catalogue.last_change(), self._dates
        if kept is None or kept[0] != now:
            kept = self._dates = now, date_reader(self.collection.catalogue)
        return kept[1](said)

    def years(self, said: str) -> Bounds | None:
        """The first and last day of years in words: “1890 to 1975”, “the twenties to the sixties”."""
        found = self.date(said)
        readings = [reading for reading in found.readings if "XXXX" not in reading.edtf]
        return None if found.unused or not readings else parse_edtf(readings[0].edtf).bounds()

    @property
    def people(self) -> KnownPeople:
        """The people who are known now."""
        return known_people(self.collection.catalogue)

    def person(self, said: str) -> Understood[Person]:
        """Who is meant by a name, or by what somebody is to the teller."""
        name = " ".join(said.split())
        found = self.people.find(name)
        best = understood(found)
        others = tuple(one.person.name for one in found if one is not best)[:_OTHERS]
        if best is None:
            return Understood(said, Person(name), new=True, others=others, clear=not others)
        return Understood(said, best.person, best.reasons, others=others)

    def place(self, said: str) -> Understood[Place]:
        """Which place is meant by a name: one of the collection's own before all others."""
        name = " ".join(said.split())
        found = self._places_found(name)
        own = next((place for place in self.collection.catalogue.places() if place.name == name), None)
        if own is not None:
            return Understood(said, own, ("a place of this collection",))
        taken = taken_for(name, found)
        others = tuple(place_in_words(one) for one in (found[1:] if taken else found))[:_OTHERS]
        if taken is None:
            return Understood(said, Place(name), new=True, others=others, clear=not others)
        return Understood(said, taken, found[0].reasons, new=True, told=place_in_words(found[0]), others=others)

    def candidates(self, said: str) -> Sequence[PlaceFound]:
        """Places of the world that may be meant by a name; none where there is no gazetteer yet."""
        return self._places_found(" ".join(said.split()))

    def _places_found(self, name: str) -> tuple[PlaceFound, ...]:
        try:
            return self.places(name)
        except (CannotBegin, InvalidValue):
            return ()

    @property
    def places(self) -> PlaceReader:
        """Finds places by what is known now; of the collection alone while there is no gazetteer."""
        catalogue, kept = self.collection.catalogue, self._places
        now, is_made = (catalogue.last_change(), packs()), default_file().is_file()
        if kept is None or kept[0] != now or (kept[1].gazetteer is None and is_made):
            # The gazetteer is made beside the pages, for that takes half a minute: see `prepare_gazetteer`.
            kept = self._places = now, place_reader(catalogue) if is_made else PlaceReader(None)
        return kept[1]


def prepare_gazetteer() -> None:
    """Makes the gazetteer beside everything else, where it is not there yet; without it own places are found."""

    def make() -> None:
        try:
            gazetteer_file()
        except CannotBegin:
            return

    threading.Thread(target=make, daemon=True).start()
