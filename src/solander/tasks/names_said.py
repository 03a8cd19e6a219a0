"""How the people, places and occasions of a collection are called aloud; those used most come first."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import islice

from solander.authorities.naming.names_held import without_years
from solander.core.people import Person
from solander.core.statements import Says
from solander.reading.speech import Names
from solander.tasks.collection import Collection

__all__ = ["names_said"]

_MOST_NAMES, _MOST_PLACES, _MOST_OCCASIONS = 3000, 600, 300
"""So many names are listened for: more make the search slow and hear the wrong one (docs/measured.md)."""


def names_said(collection: Collection) -> Names:
    """The names that are listened for."""
    catalogue = collection.catalogue
    used = {says: catalogue.often_said(says) for says in (Says.PERSON, Says.PLACE, Says.OCCASION)}
    people = {person.name: person for person in catalogue.people()}
    places = {place.name: place for place in catalogue.places()}
    other_names = (name.text for place in _by_use(places, used[Says.PLACE]) for name in places[place].names)
    called = [_called(people[name]) if name in people else [name] for name in _by_use(people, used[Says.PERSON])]
    return Names(
        _some((each for names in called for each in names), _MOST_NAMES),
        _some((*_by_use(places, used[Says.PLACE]), *other_names), _MOST_PLACES),
        _some(_by_use([one.name for one in catalogue.occasions()], used[Says.OCCASION]), _MOST_OCCASIONS),
    )


def _by_use(known: Iterable[str], used: Sequence[str]) -> list[str]:
    return list(dict.fromkeys((*used, *known)))


def _some(names: Iterable[str], most: int) -> tuple[str, ...]:
    return tuple(islice(dict.fromkeys(name for each in names if (name := " ".join(each.split()))), most))


def _called(person: Person) -> Iterator[str]:
    """Every name of a person, and the first given name alone."""
    whole = without_years(person.name)
    yield whole
    if " " in whole:
        yield whole.split()[0]
    yield from person.also_called
    yield from (name.text for name in person.names)
