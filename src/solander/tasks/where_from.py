"""Where places are looked up: on this computer, in landmarks of a country, by a service if somebody names one."""

from __future__ import annotations

from collections.abc import Sequence
from concurrent.futures import Future
from pathlib import Path

from attrs import define, field

from solander.authorities.gazetteer.kept import packs
from solander.core.errors import NotFound
from solander.core.place_finds import PlaceFound
from solander.core.sentence import Sentence
from solander.tasks.address_service import ask_service, keep_address, name_service, service_of
from solander.tasks.beside import beside, when_done
from solander.tasks.place_packs import take_in_pack
from solander.tasks.places import LookedUp, understand_places
from solander.tasks.sitting import Sitting

__all__ = ["WhereFrom"]


@define
class WhereFrom:
    """What a collection looks places up in, for one workbench."""

    sitting: Sitting
    _taking: Future[int] | None = field(default=None, init=False)

    @property
    def service(self) -> str:
        """The address of the service; empty while it is off."""
        service = service_of(self.sitting.collection.catalogue)
        return service.url if service else ""

    @property
    def credit(self) -> str:
        """What it asks to be named by."""
        service = service_of(self.sitting.collection.catalogue)
        return service.credit if service else ""

    @property
    def landmarks(self) -> list[str]:
        """The names of the countries' files whose landmarks are here."""
        return [path.stem for path in packs()]

    @property
    def only_named(self) -> int:
        """How many places there are of which only the name is known."""
        return sum(not place.is_located for place in self.sitting.collection.catalogue.places())

    @property
    def is_taking(self) -> bool:
        """Whether landmarks are being taken in just now."""
        return self._taking is not None and not self._taking.done()

    def name_service(self, url: str, credit: str) -> int | None:
        """Goes by the service at `url`, by none where that is empty."""
        return self.sitting.noted(name_service(self.sitting.collection, url, credit=credit))

    def take_in_landmarks(self, path: Path) -> int | None:
        """Takes the landmarks of a country in; how many there are, None where that goes on for a while.

        Raises
        ------
        CannotBegin
            When it is no country file of GeoNames.
        """
        if not self.is_taking:
            self._taking = beside(lambda: take_in_pack(path))
        return when_done(self._taking) if self._taking else None

    def look_up(self) -> LookedUp:
        """Looks up every place of which only the name is known."""
        found = understand_places(self.sitting.collection)
        self.sitting.noted(found.act)
        return found

    def ask(self, words: str) -> Sequence[PlaceFound]:
        """What the service answers; the words leave this computer."""
        return ask_service(self.sitting.collection, words)

    def take(self, name: str, words: str, number: int) -> int | None:
        """Says that a name means that one, counted from 1, of the answers to these words.

        Raises
        ------
        NotFound
            When it was not offered.
        """
        found = self.ask(words)  # kept since it was shown, so that nothing is asked twice
        if not 1 <= number <= len(found):
            raise NotFound(
                Sentence("This place was not offered"), "", Sentence("Ask again, and choose one of the answers")
            )
        return self.sitting.noted(keep_address(self.sitting.collection, name, found[number - 1]))
