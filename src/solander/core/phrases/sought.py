"""Which names may stand in a phrase, so that only those who bear one need be looked at, whoever else is known."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from functools import cached_property, lru_cache
from typing import TypeVar

from attrs import define, frozen

from solander.core.people import Person
from solander.core.phrases.names import SHORTEST_STEM, VOWELS
from solander.core.phrases.tokens import folded, tokens_of

__all__ = ["NameIndex", "Sought", "names_of_one_word", "words_of_name"]

_T = TypeVar("_T")


def words_of_name(name: str) -> tuple[str, ...]:
    """The words of a name as they are compared."""
    if name.replace(" ", "").isalpha():  # nothing but words: the same as below, many times quicker
        return tuple(folded(name).split())
    return tuple(token.folded for token in tokens_of(name))


LONGEST = 64
"""Letters beyond which a word is sought as it stands alone: no name of one word is as long (our choice), and a
page of letters without a blank would be sought at every length."""


@lru_cache(maxsize=1 << 14)
def names_of_one_word(word: str) -> frozenset[str]:
    """The names that a word may be, or a case or a possessive of, for names of one word."""
    plain = word.partition("'")[0]
    if not plain.isalpha() or len(plain) > LONGEST:
        return frozenset((word,))
    stems = [plain[:length] for length in range(SHORTEST_STEM, len(plain) + 1)]
    return frozenset((word, *stems, *(stem + vowel for stem in stems for vowel in VOWELS)))


@frozen
class Sought:
    """The folded words of a phrase, as a guide to names; every name that `Names` may find in it `may_stand`."""

    words: tuple[str, ...]

    @classmethod
    def of(cls, phrase: str) -> Sought:
        """The guide for a phrase."""
        return cls(words_of_name(phrase))

    def may_stand(self, name: Sequence[str]) -> bool:
        """Whether a name of several words may: all but the last stand as they are, the last begins like a word."""
        *first, last = name
        begun = last[:SHORTEST_STEM]
        return set(first) <= set(self.words) and any(word.startswith(begun) for word in self.words)


@define(slots=False)
class NameIndex:
    """People by what they are called, in memory."""

    people: tuple[Person, ...]

    @cached_property
    def headings(self) -> frozenset[str]:
        """Their headings."""
        return frozenset(person.name for person in self.people)

    def named_in(self, phrase: str) -> list[Person]:
        """Those who have a name that may stand in the phrase."""
        if not self.people:
            return []
        sought = Sought.of(phrase)
        words = set(sought.words)
        found = [who for word in words for name in names_of_one_word(word) for who in self._alone.get(name, ())]
        found += [who for word in words for name, who in self._longer.get(word, ()) if sought.may_stand(name)]
        return list(dict.fromkeys(found))

    @cached_property
    def _names(self) -> list[tuple[tuple[str, ...], Person]]:
        return [
            (words, person)
            for person in self.people
            for name in {person.name, *person.also_called}
            if (words := words_of_name(name))
        ]

    @cached_property
    def _alone(self) -> dict[str, list[Person]]:
        return _grouped((words[0], person) for words, person in self._names if len(words) == 1)

    @cached_property
    def _longer(self) -> dict[str, list[tuple[tuple[str, ...], Person]]]:
        return _grouped((words[0], (words, person)) for words, person in self._names if len(words) > 1)


def _grouped(pairs: Iterable[tuple[str, _T]]) -> dict[str, list[_T]]:
    found: defaultdict[str, list[_T]] = defaultdict(list)
    for key, value in pairs:
        found[key].append(value)
    return dict(found)
