"""Who may be named in a phrase or in statements, without loading everybody who is known."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Protocol

from attrs import define, field, frozen

from solander.catalogue.people_queries import ReadingPeople
from solander.core.people import Person
from solander.core.phrases.sought import NameIndex, Sought, names_of_one_word

__all__ = ["NOBODY", "AlsoNamed", "Named", "PeopleNamed"]


class Named(Protocol):
    """Who may be named in a phrase."""

    def people_named_in(self, phrase: str) -> Sequence[Person]:
        """Those who have a name that may stand in it."""
        ...


@frozen(eq=False)
class _Nobody:
    def people_named_in(self, phrase: str) -> Sequence[Person]:
        return ()


NOBODY = _Nobody()


_Bearers = tuple[list[str], list[tuple[list[str], str]]]
"""Who has a name of that word alone, and longer names that begin with it, each with whose it is."""


@define
class PeopleNamed:
    """Looks names up in a catalogue; each word of phrases is looked up once."""

    catalogue: ReadingPeople
    _looked_up: dict[str, _Bearers] = field(factory=dict, init=False, eq=False)
    _people: dict[str, Person] = field(factory=dict, init=False, eq=False)

    def people_named_in(self, phrase: str) -> Sequence[Person]:
        """Those who have a name that may stand in it."""
        sought = Sought.of(phrase)
        found: dict[str, None] = {}
        for word in dict.fromkeys(sought.words):
            alone, longer = self._bearers(word)
            found.update(dict.fromkeys(alone))
            found.update((heading, None) for name, heading in longer if sought.may_stand(name))
        missing = found.keys() - self._people.keys()
        self._people.update((person.name, person) for person in self.catalogue.people_of(missing))
        return [self._people[heading] for heading in found if heading in self._people]

    def _bearers(self, word: str) -> _Bearers:
        if word not in self._looked_up:
            alone = self.catalogue.headings_called(names_of_one_word(word))
            longer = [(name.split(" "), who) for name, who in self.catalogue.names_beginning(word)]
            self._looked_up[word] = alone, longer  # at once: other pages may read along
        return self._looked_up[word]


@frozen
class AlsoNamed:
    """Those who were known `before`, with what is told of some `now` for what was told of them `formerly`; of whom
    something was told only formerly is nobody any more."""

    before: Named
    now: NameIndex
    formerly: NameIndex

    def people_named_in(self, phrase: str) -> Sequence[Person]:
        """Those who have a name that may stand in it."""
        told = self.now.headings | self.formerly.headings
        unchanged = [one for one in self.before.people_named_in(phrase) if one.name not in told]
        return [*unchanged, *self.now.named_in(phrase)]

    def tells_otherwise(self, phrase: str) -> bool:
        """Whether somebody of whom something else is told now may be named in the phrase."""
        return bool(self.now.named_in(phrase) or self.formerly.named_in(phrase))
