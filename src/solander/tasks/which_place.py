"""Questions about names that may be several places, each with the places that may be meant."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

from attrs import frozen

from solander.core.place_finds import PlaceFound
from solander.core.questions import Asks, Question
from solander.core.sentence import Sentence
from solander.tasks.ask import settle
from solander.tasks.collection import Collection
from solander.tasks.places import place_in_words

__all__ = ["Choice", "PlaceAsked", "none_of_these", "place_asked", "places_asked"]

_MOST = 6


@frozen
class Choice:
    """A place that may be meant: its key in the gazetteer, and how it is told apart."""

    known_as: str
    words: str


@frozen
class PlaceAsked:
    """A question about the name of a place, with what may be meant, the likeliest first."""

    question: Question
    choices: tuple[Choice, ...]

    @property
    def name(self) -> str:
        """The name as it was written."""
        return self.question.subject


def places_asked(
    collection: Collection, candidates: Callable[[str], Sequence[PlaceFound]]
) -> Mapping[str, PlaceAsked]:
    """What waits about names of places, by the key of the question; `candidates` finds places by a name."""
    waiting = [one for one in collection.catalogue.questions() if one.asks is Asks.PLACE]
    return {one.key: place_asked(one, candidates) for one in waiting}


def place_asked(question: Question, candidates: Callable[[str], Sequence[PlaceFound]]) -> PlaceAsked:
    """A question about the name of a place with what may be meant."""
    return PlaceAsked(question, _choices(candidates(question.subject)))


def _choices(found: Sequence[PlaceFound]) -> tuple[Choice, ...]:
    towns = (one for one in found if one.known_as.startswith("geonames:"))
    return tuple(Choice(one.known_as, place_in_words(one)) for one in towns)[:_MOST]


def none_of_these(collection: Collection, name: str, *, who: str = "archivist") -> int | None:
    """Asks no more which place a name means: no table knows it; the act's number for undo."""
    with (
        collection.catalogue.act(
            who, Sentence("%(name)s is none of the places that were offered", name=name)
        ) as act,
        act.work() as work,
    ):
        settle(collection, work, Asks.PLACE, name)
        work.commit()
    return act.number
