"""Who is called just so: whole names in plain words and as they are written, and how each word is written."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from solander.authorities.naming.names_held import phrase_of, without_years
from solander.authorities.naming.spelling import plain, words_of
from solander.core.people import Person

__all__ = ["NamesCalled"]

_Places = dict[str, list[int]]


class NamesCalled:
    """Places of people by their whole names: `plainly` by the plain words, `written` with case folded; `spelt` is
    how a plain word is written. It is never changed: `with_people` gives another."""

    def __init__(self, people: Sequence[Person]) -> None:
        self._plainly: _Places = {}
        self._written: _Places = {}
        self.spelt: dict[str, str] = {}
        for place, person in enumerate(people):
            self._add(place, person)

    def plainly(self, phrase: str) -> Sequence[int]:
        """The places of those who are called so in plain words."""
        return self._plainly.get(phrase, ())

    def written(self, name: str) -> Sequence[int]:
        """The places of those who are called so with the same accents."""
        return self._written.get(name.casefold(), ())

    def with_people(self, before: Mapping[int, Person], now: Mapping[int, Person]) -> NamesCalled:
        """The same with some people as they are `now`, by place; they were called as `before`."""
        other = NamesCalled(())
        other._plainly, other._written, other.spelt = dict(self._plainly), dict(self._written), dict(self.spelt)
        for people, is_gone in ((before, True), (now, False)):
            for place, person in people.items():
                for name in _names(person):
                    # Lists that both have are copied and not changed.
                    for places, key in ((other._plainly, phrase_of(name)), (other._written, _as_written(name))):
                        places[key] = [each for each in places.get(key, ()) if not is_gone or each != place]
        for place, person in now.items():
            other._add(place, person)
        return other

    def _add(self, place: int, person: Person) -> None:
        for name in _names(person):
            for places, key in ((self._plainly, phrase_of(name)), (self._written, _as_written(name))):
                known = places.setdefault(key, [])
                if place not in known[-1:]:
                    known.append(place)
            for word in words_of(name.replace("-", " ")):
                self.spelt.setdefault(plain(word), word.rstrip("."))


def _names(person: Person) -> Iterable[str]:
    return dict.fromkeys((person.name, *person.also_called, *(each.text for each in person.names)))


def _as_written(name: str) -> str:
    return without_years(name).casefold()
