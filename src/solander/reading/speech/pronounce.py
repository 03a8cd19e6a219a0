"""How words sound: by the dictionary, else as two words of it, else by their letters."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from enum import StrEnum
from functools import cache
from itertools import islice, product
from pathlib import Path

from anyascii import anyascii
from attrs import frozen

from solander.reading.speech.letters import sounds_of_letters

__all__ = ["Phones", "Pronouncer", "Reads", "dictionary_in"]

Phones = tuple[str, ...]

_MOST_WAYS, _MOST_WAYS_OF_A_WORD = 6, 3
"""So many ways to say one phrase and one word of it; more make the search slower (our choice)."""
_PART = 3
"""Letters that a part of a compound has at least: "Hartwhistle" is heard as "hart whistle"."""


class Reads(StrEnum):
    """From where it is known how a name sounds."""

    TOLD = "told"  # a person said so
    DICTIONARY = "dictionary"
    LETTERS = "letters"  # worked out


@cache
def dictionary_in(path: Path) -> Mapping[str, tuple[Phones, ...]]:
    """A pronouncing dictionary in the form of the CMU: a word, then its phones; `word(2)` is another way."""
    found: dict[str, list[Phones]] = {}
    with path.open(encoding="utf-8") as lines:
        for line in lines:
            word, *phones = line.split() or [""]
            if phones:
                found.setdefault(word.partition("(")[0].casefold(), []).append(tuple(phones))
    return {word: tuple(ways) for word, ways in found.items()}


@frozen
class Pronouncer:
    """`sounds_like` are spellings by which a person told how a word or a phrase sounds: "Siobhan" is "shivawn";
    `of_letters` reads what stands in no dictionary."""

    dictionary: Mapping[str, tuple[Phones, ...]]
    sounds_like: Mapping[str, tuple[str, ...]] = {}
    of_letters: Callable[[str], tuple[Phones, ...]] = sounds_of_letters

    def ways(self, phrase: str, *, is_name: bool = False) -> tuple[Phones, ...]:
        """The ways to say a phrase, of a name also as its letters tell; empty where it holds nothing to be
        said."""
        told = [way for other in self.sounds_like.get(phrase.casefold(), ()) for way in self.spelt(other)]
        return tuple(dict.fromkeys([*told, *self._ways(phrase, is_name=is_name)]))

    def reads(self, phrase: str) -> Reads:
        """From where it is known how a name sounds."""
        if self.sounds_like.get(phrase.casefold()):
            return Reads.TOLD
        words = list(_words(phrase))
        known = all(word in self.dictionary or _plain(word) in self.dictionary for word in words)
        return Reads.DICTIONARY if words and known else Reads.LETTERS

    def spelt(self, spelling: str) -> list[Phones]:
        """The ways to say what a person spelt, also by its letters alone: a syllable may be a word by chance."""
        letters = [ways[0] for word in _words(spelling) if (ways := self.of_letters(word))]
        return [*self._ways(spelling), sum(letters, ())] if letters else []

    def _ways(self, phrase: str, *, is_name: bool = False) -> list[Phones]:
        words = [ways for word in _words(phrase) if (ways := self._word(word, is_name=is_name))]
        return [sum(each, ()) for each in islice(product(*words), _MOST_WAYS)] if words else []

    def _word(self, word: str, *, is_name: bool) -> Sequence[Phones]:
        if told := self.sounds_like.get(word):
            return [way for other in told for way in self.spelt(other)]
        known = self.dictionary.get(word) or self.dictionary.get(_plain(word)) or ()
        if known and not is_name:
            return known[:2]
        # The dictionary tells a name as Americans say it; others read its letters.
        guessed = self._compound(_plain(word)) if not known else ()
        return list(dict.fromkeys([*known[:2], *(guessed or self.of_letters(word))]))[:_MOST_WAYS_OF_A_WORD]

    def _compound(self, word: str) -> Sequence[Phones]:
        for at in range(len(word) - _PART, _PART - 1, -1):
            first, second = self.dictionary.get(word[:at]), self.dictionary.get(word[at:])
            if first and second and len(word) > 2 * _PART + 1:
                return [first[0] + second[0], *self.of_letters(word)[-1:]]
        return []


def _words(phrase: str) -> Iterator[str]:
    for word in re.findall(r"[^\W\d_]+(?:['’][^\W\d_]+)?", phrase.casefold()):
        yield word.replace("’", "'")


def _plain(word: str) -> str:
    return anyascii(word).casefold()
