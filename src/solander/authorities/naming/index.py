"""All people of a collection, laid out so that names are looked up in milliseconds."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from copy import copy
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from solander.authorities.naming.lives_laid import LivesLaid, Numbers
from solander.authorities.naming.matching import Likeness, Vocabulary
from solander.authorities.naming.names_called import NamesCalled
from solander.authorities.naming.names_held import Part, family_words, held_words
from solander.authorities.naming.relations import Relations
from solander.core.kin import Family
from solander.core.people import Person

__all__ = ["Index", "Numbers"]

_T = TypeVar("_T")
Held = dict[tuple[Part, str], None]
"""The words of somebody's names, each with its part."""

_KEPT = 4096
_GIVEN = 0.9
"""A word that weighs so much as a given name is looked up among short forms."""


def _may_be_given(parts: dict[Part, float]) -> bool:
    return parts.get(Part.GIVEN, 0) >= _GIVEN


class Index:
    """People by the words of their names; `number` gives the place of a heading in every array.

    `held` are the words of each person's names with those of partners, `called` tells who is called just so,
    `laid` their lives. Made once for a family; where some people change, `with_people` gives another, many times
    quicker.
    """

    def __init__(self, people: Iterable[Person], family: Family) -> None:
        self.people: Sequence[Person] = tuple(people)
        self.number = {person.name: place for place, person in enumerate(self.people)}
        self.relations = Relations(family, {person.name: person for person in self.people})
        self._own: list[Held] = [held_words(person) for person in self.people]
        self.held = [self._held(place) for place in range(len(self.people))]
        self.called = NamesCalled(self.people)
        self.laid = LivesLaid(self.people)
        self._bearers: dict[tuple[Part, str], NDArray[np.int64]] = _gathered(self.held)
        self._look_up_among({word for _, word in self._bearers})
        self._near: dict[str, Numbers] = {}

    def with_people(self, changed: Iterable[Person]) -> Index:
        """The same with these people as they are now, newcomers among them; their kin is as it was."""
        now = dict[int, Person]()
        other = copy(self)
        other.number, other._near = dict(self.number), {}
        for person in changed:
            now[other.number.setdefault(person.name, len(other.number))] = person
        before = {place: self.people[place] for place in now if place < len(self.people)}
        other.people = _with(self.people, now)
        other.relations = Relations(
            self.relations.family, {**self.relations.people, **{each.name: each for each in now.values()}}
        )
        other._own = _with(self._own, {place: held_words(person) for place, person in now.items()})
        other.called = self.called.with_people(before, now)
        other.laid = self.laid.with_people(now, len(other.people))
        other._hold_again(self, now)
        return other

    def _held(self, place: int) -> Held:
        """Their own words; a wife, or who may be one, may bear her husband's name, whether a record says so or
        not."""
        own, person = self._own[place], self.people[place]
        if person.sex == "male":
            return own
        partners = (self.number.get(partner) for partner in self.relations.family.partners(person.name))
        words = (word for each in partners if each is not None for word in family_words(self._own[each]))
        of_partners = {(Part.OF_PARTNER, word): None for word in words if (Part.MARRIED, word) not in own}
        return {**own, **of_partners} if of_partners else own

    def _hold_again(self, before: Index, now: Mapping[int, Person]) -> None:
        """Lays out the words of those people and of their partners."""
        partners = (each for person in now.values() for each in self.relations.family.partners(person.name))
        places = dict.fromkeys((*now, *(self.number[each] for each in partners if each in self.number)))
        held = {place: self._held(place) for place in places}
        self.held = _with(before.held, held)
        self._bearers = dict(before._bearers)
        for place, words in held.items():
            old: Held = before.held[place] if place < len(before.held) else {}
            for each in old.keys() - words.keys():
                self._bearers[each] = self._bearers[each][self._bearers[each] != place]
            for each in words.keys() - old.keys():
                self._bearers[each] = np.append(self._bearers.get(each, _NOBODY), place)
        fresh = {word for words in held.values() for _, word in words}.difference(self.vocabulary.words)
        if fresh:
            self._look_up_among({*self.vocabulary.words, *fresh})

    def _look_up_among(self, words: Iterable[str]) -> None:
        self.vocabulary = Vocabulary(words)
        self._like: dict[tuple[str, bool], dict[str, Likeness]] = {}

    def like(self, word: str, *, given: bool = True) -> dict[str, Likeness]:
        """The words of names that are like a plain word; see `Vocabulary.like`."""
        if (word, given) not in self._like:
            if len(self._like) >= _KEPT:
                self._like.clear()
            self._like[word, given] = self.vocabulary.like(word, given=given)
        return self._like[word, given]

    def forget(self) -> None:
        """Forgets which words were looked up, for measuring."""
        self._like.clear()

    def bearing(self, word: str, parts: dict[Part, float]) -> Numbers:
        """For each person how well some word of the name fits, each part of a name weighed."""
        found = np.zeros(len(self.people))
        for other, likeness in self.like(word, given=_may_be_given(parts)).items():
            for part, weight in parts.items():
                bearers = self._bearers.get((part, other))
                if bearers is not None:
                    found[bearers] = np.maximum(found[bearers], likeness.strength * weight)
        return found

    def borne_as(self, word: str, part: Part) -> float:
        """How like a plain word is to what anybody bears as that part of a name, 0 to 1."""
        like = self.like(word, given=part is Part.GIVEN)
        return max((each.strength for other, each in like.items() if self._is_borne(part, other)), default=0.0)

    def _is_borne(self, part: Part, word: str) -> bool:
        return bool(len(self._bearers.get((part, word), _NOBODY)))

    def near(self, seen_from: str | None) -> Numbers:
        """How near everybody stands to a person in the tree: 1 for the person, 0 for who is far."""
        if seen_from is None or seen_from not in self.number:
            return np.zeros(len(self.people))
        if seen_from not in self._near:
            found = np.zeros(len(self.people))
            for other, steps in self.relations.near(seen_from).items():
                if other in self.number:
                    found[self.number[other]] = 1 - steps / 9
            self._near[seen_from] = found
        return self._near[seen_from]


_NOBODY: NDArray[np.int64] = np.empty(0, dtype=np.int64)


def _gathered(held: Iterable[Held]) -> dict[tuple[Part, str], NDArray[np.int64]]:
    """The places of those who bear each word as each part."""
    found: defaultdict[tuple[Part, str], list[int]] = defaultdict(list)
    for place, words in enumerate(held):
        for each in words:
            found[each].append(place)
    return {each: np.array(places, dtype=np.int64) for each, places in found.items()}


def _with(some: Sequence[_T], now: Mapping[int, _T]) -> list[_T]:
    """The same with others in their places; those behind the end are in order."""
    found = list(some)
    for place in sorted(now):
        found[place : place + 1] = [now[place]]
    return found
