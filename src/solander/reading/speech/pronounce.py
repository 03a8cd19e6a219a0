"""How words sound: by the dictionary, else as two words of it, else by their letters."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from functools import cache
from itertools import islice, product
from pathlib import Path

from anyascii import anyascii
from attrs import frozen

from solander.reading.speech.letters import sounds_of_letters

__all__ = ["Pronouncer", "dictionary_in"]

Phones = tuple[str, ...]

_MOST_WAYS = 4
"""So many ways to say one phrase; more make the search slower and bring nothing (our choice)."""
_PART = 3
"""Letters that a part of a compound has at least: "Hartwhistle" is heard as "hart whistle"."""


@cache
def dictionary_in(path: Path) -> Mapping[str, tuple[Phones, ...]]:
    """A pronouncing dictionary in the form of the CMU: a word, then its phones; `word(2)` is another way."""
    found: dict[str, list[Phones]] = {}
    with path.open(encoding="utf-8") as lines:
        for line in lines:
            word, *phones = line.split()
            found.setdefault(word.partition("(")[0], []).append(tuple(phones))
    return {word: tuple(ways) for word, ways in found.items()}


@frozen
class Pronouncer:
    """`sounds_like` are spellings by which a person told how a word or a phrase sounds: "Siobhan" is "shivawn"."""

    dictionary: Mapping[str, tuple[Phones, ...]]
    sounds_like: Mapping[str, tuple[str, ...]] = {}

    def ways(self, phrase: str) -> tuple[Phones, ...]:
        """The ways to say a phrase; empty where it holds nothing that can be said."""
        told = self.sounds_like.get(phrase.casefold(), ())
        spelt = [each for other in told for each in self._ways(other)]
        return tuple(dict.fromkeys([*spelt, *self._ways(phrase)]))[: _MOST_WAYS + len(spelt)]

    def _ways(self, phrase: str) -> list[Phones]:
        words = [self._word(word) for word in _words(phrase)]
        words = [ways for ways in words if ways]
        if not words:
            return []
        return [sum(each, ()) for each in islice(product(*words), _MOST_WAYS)]

    def _word(self, word: str) -> Sequence[Phones]:
        if told := self.sounds_like.get(word):
            return [way for other in told for way in self._ways(other)]
        known = self.dictionary.get(word) or self.dictionary.get(_plain(word))
        if known and _plain(word) == word:
            return known[:2]
        guessed = self._compound(_plain(word)) or sounds_of_letters(word)
        # A name with foreign letters stands in the dictionary as English speakers say it without them.
        return [*(known or ())[:1], *guessed]

    def _compound(self, word: str) -> Sequence[Phones]:
        for at in range(len(word) - _PART, _PART - 1, -1):
            first, second = self.dictionary.get(word[:at]), self.dictionary.get(word[at:])
            if first and second and len(word) > 2 * _PART + 1:
                return [first[0] + second[0], *sounds_of_letters(word)[-1:]]
        return []


def _words(phrase: str) -> Iterator[str]:
    for word in re.findall(r"[^\W\d_]+(?:['’][^\W\d_]+)?", phrase.casefold()):
        yield word.replace("’", "'")


def _plain(word: str) -> str:
    return anyascii(word).casefold()
