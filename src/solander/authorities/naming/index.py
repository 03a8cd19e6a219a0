"""All people of a collection, laid out so that names are looked up in milliseconds; made once."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence

import numpy as np
from numpy.typing import NDArray

from solander.authorities.naming.matching import Likeness, Vocabulary
from solander.authorities.naming.names_held import Part, family_words, held_words, phrase_of, without_years
from solander.authorities.naming.relations import Relations
from solander.authorities.naming.spelling import plain, words_of
from solander.core.ages import Age
from solander.core.dates import Bounds
from solander.core.kin import Family
from solander.core.people import Person, life_of

__all__ = ["Index", "Numbers"]

Numbers = NDArray[np.float64]
_YEAR = 365.2425
_KEPT = 4096
_GIVEN = 0.9
"""A word that weighs so much as a given name is looked up among short forms."""


def _may_be_given(parts: dict[Part, float]) -> bool:
    return parts.get(Part.GIVEN, 0) >= _GIVEN


class Index:
    """People by the words of their names; `number` gives the place of a heading in every array."""

    def __init__(self, people: Iterable[Person], family: Family) -> None:
        self.people: Sequence[Person] = tuple(people)
        self.number = {person.name: place for place, person in enumerate(self.people)}
        self.relations = Relations(family, {person.name: person for person in self.people})
        self.held: list[dict[tuple[Part, str], None]] = [held_words(person) for person in self.people]
        self._add_partners_names(family)
        self._lay_out()
        self.called: defaultdict[str, list[int]] = defaultdict(list)
        self.called_just: defaultdict[str, list[int]] = defaultdict(list)
        self.written: dict[str, str] = {}
        for place, person in enumerate(self.people):
            for name in (person.name, *person.also_called, *(each.text for each in person.names)):
                if place not in self.called[phrase := phrase_of(name)]:
                    self.called[phrase].append(place)
                if place not in self.called_just[written := without_years(name).casefold()]:
                    self.called_just[written].append(place)
                for word in words_of(name.replace("-", " ")):
                    self.written.setdefault(plain(word), word.rstrip("."))
        self._lives()
        self._like: dict[tuple[str, bool], dict[str, Likeness]] = {}
        self._near: dict[str, Numbers] = {}

    def _add_partners_names(self, family: Family) -> None:
        """A wife, or who may be one, may bear her husband's name, whether a record says so or not."""
        own = [family_words(person) for person in self.people]
        for place, person in enumerate(self.people):
            if person.sex == "male":
                continue
            for partner in family.partners(person.name):
                if partner in self.number:
                    for word in own[self.number[partner]]:
                        if (Part.MARRIED, word) not in self.held[place]:
                            self.held[place].setdefault((Part.OF_PARTNER, word))

    def _lay_out(self) -> None:
        gathered: defaultdict[tuple[Part, str], list[int]] = defaultdict(list)
        for place, words in enumerate(self.held):
            for each in words:
                gathered[each].append(place)
        self._bearers = {each: np.array(places, dtype=np.int64) for each, places in gathered.items()}
        self.vocabulary = Vocabulary(word for _, word in gathered)

    def _lives(self) -> None:
        lives = self.lives = [life_of.__wrapped__(person) for person in self.people]

        def days(name: str, missing: float) -> Numbers:
            found = (getattr(life, name) for life in lives)
            return np.array([missing if day is None else day for day in found], dtype=np.float64)

        self._born_from, self._born_to = days("born_from", -np.inf), days("born_to", np.inf)
        self._died_to = days("died_to", np.inf)
        sexes = {"male": 1, "female": 2}
        self._sex = np.array([sexes.get(person.sex, 0) for person in self.people], dtype=np.int8)

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
        return max((each.strength for other, each in like.items() if (part, other) in self._bearers), default=0.0)

    def born(self, place: int) -> float:
        """The first day on which somebody may have been born, for putting brothers and sisters in order."""
        return float(self._born_from[place])

    def of_sex(self, sex: str) -> Numbers:
        """1 for who is of that sex, a little less for who may be."""
        wanted = {"male": 1, "female": 2}[sex]
        return np.where(self._sex == wanted, 1.0, np.where(self._sex == 0, 0.97, 0.55))

    def living(self, on: Bounds | None, age: Age | None) -> Numbers:
        """The factor of `lives.life_then` for everybody at once, ages to about a year."""
        factor = np.ones(len(self.people))
        if on is None:
            return factor
        earliest = -np.inf if on.earliest is None else float(on.earliest)
        latest = np.inf if on.latest is None else float(on.latest)
        if age is not None and np.isfinite(earliest) and np.isfinite(latest):
            with np.errstate(invalid="ignore"):
                youngest, oldest = (earliest - self._born_to) / _YEAR, (latest - self._born_from) / _YEAR
                apart = np.maximum(np.maximum(youngest - age.oldest - 1, age.youngest - oldest - 1), 0)
            known = np.isfinite(self._born_to) & np.isfinite(self._born_from)
            factor = np.where(known, np.maximum(1 - 0.03 * apart, 0.45), factor)
        return np.where((self._born_from > latest) | (self._died_to < earliest), 0.45, factor)

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
