"""What typed words stand for: words of documents, names that places have or had, containers, a time."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable, Iterator, Sequence

from attrs import define, field, frozen

from solander.authorities.former_names import names_of_town
from solander.authorities.gazetteer.qualifiers import country_name
from solander.catalogue.search import phrase
from solander.core.dates import Bounds, parse_edtf
from solander.core.found_words import beginnings
from solander.core.places import Place
from solander.tasks.collection import Collection
from solander.tasks.date import DateReader, customs_of
from solander.tasks.people_named import PeopleNamed

__all__ = ["Known", "TimeSought", "known_now", "time_in"]

_GEONAMES = "geonames:"
_SHORTEST = 2
"""A single letter begins the name of half the places there are: it is looked for in what is said alone."""

_AT_ONCE = 100  # names in one expression of the index, which refuses those deeper than 256


@frozen
class TimeSought:
    """A time that was understood: its EDTF value, its days, and the words that say something else."""

    edtf: str
    bounds: Bounds
    rest: tuple[str, ...]


@frozen
class _Beginnings:
    """Names by the words in them, so that those with a word that begins so are found at once."""

    words: Sequence[str]
    names: Sequence[tuple[str, str]]

    @classmethod
    def of(cls, named: Iterable[tuple[str, str]]) -> _Beginnings:
        """Pairs of what may be typed and the name that it leads to."""
        pairs = sorted({(word, named_so) for named_so in named for word in beginnings(named_so[0].split())})
        return cls([word for word, _ in pairs], [named_so for _, named_so in pairs])

    def called(self, word: str) -> Iterator[tuple[str, str]]:
        """What is called so and the name that it leads to, where a word of what it is called begins so."""
        for start in beginnings([word]):
            at = bisect_left(self.words, start) if len(start) >= _SHORTEST else len(self.words)
            while at < len(self.words) and self.words[at].startswith(start):
                yield self.names[at]
                at += 1


@define
class Known:
    """What the collection knows besides what is said of each print; as of one change."""

    dates: DateReader
    _places: _Beginnings
    _containers: _Beginnings
    _codes: frozenset[str] = field(factory=frozenset)

    def places_called(self, word: str) -> list[str]:
        """Expressions of the index for the places that have, had or lie in something of a name that begins so."""
        names = dict.fromkeys(name for _, name in self._places.called(word))
        phrases = list(filter(None, (phrase(name, within="place") for name in names)))
        return [" OR ".join(phrases[at : at + _AT_ONCE]) for at in range(0, len(phrases), _AT_ONCE)]

    def containers_called(self, word: str) -> list[str]:
        """The containers of that code, or with a word in their title that begins so."""
        code = word.upper().strip("/")
        titled = dict.fromkeys(name for _, name in self._containers.called(word))
        return [*([code] if code in self._codes else []), *titled]

    def other_names(self, word: str) -> dict[str, str]:
        """The places that a word leads to, each with the name that begins so; containers with their titles."""
        pairs = (*self._containers.called(word), *self._places.called(word))
        return {name: called for called, name in pairs if called != name}


def known_now(collection: Collection) -> Known:
    """What is known as of the last change."""
    catalogue = collection.catalogue
    containers = catalogue.containers()
    return Known(
        DateReader(customs_of(catalogue), PeopleNamed(catalogue)),
        _Beginnings.of((name, place.name) for place in catalogue.places() for name in _names_of(place)),
        _Beginnings.of((container.title, container.code) for container in containers if container.title),
        frozenset(container.code for container in containers),
    )


def _names_of(place: Place) -> Iterator[str]:
    """What a place is and was called besides its heading, and what it lies in."""
    yield from (name.text for name in place.names)
    yield from (place.town, place.region, country_name(place.country))
    for key in place.known_as:
        number = key.removeprefix(_GEONAMES)
        if key.startswith(_GEONAMES) and number.isdecimal():
            yield from (name.name for name in names_of_town(int(number)))


def time_in(sought: str, words: Sequence[str], dates: DateReader) -> TimeSought | None:
    """The time that was typed, where a year is in it: “May” alone is a name as well."""
    phrase_read = dates(sought)
    readings = [reading for reading in phrase_read.readings if "XXXX" not in reading.edtf]
    if not readings:
        return None
    unused = {part.casefold() for part in phrase_read.unused}
    rest = tuple(word for word in words if any(part in word.casefold() for part in unused))
    edtf = readings[0].edtf
    return TimeSought(edtf, parse_edtf(edtf).bounds(), rest)
