"""How close one word of a name comes to another: as it is, in another spelling, as a short form, by its sound.

The strengths are our own scale, 0 to 1, set so that a sure likeness always goes before a less sure one.
"""

from __future__ import annotations

from bisect import bisect_left
from collections import defaultdict
from collections.abc import Iterable
from enum import StrEnum
from functools import cache

from attrs import frozen
from rapidfuzz import process
from rapidfuzz.distance import OSA

from solander.authorities.naming.short_forms import given_names
from solander.authorities.naming.sounds import CODES, codes_of
from solander.authorities.naming.spelling import spellings

__all__ = ["How", "Likeness", "Vocabulary"]


class How(StrEnum):
    """Why two words may be one name."""

    SAME = "same"
    SPELT = "spelt"  # another usual spelling, or other letters
    SHORT = "short"  # a short form, or the name in another language
    BEGINS = "begins"  # the beginning of it
    INITIAL = "initial"
    SOUNDS = "sounds"
    MISSPELT = "misspelt"


@frozen
class Likeness:
    """How like a word is, 0 to 1, and why."""

    strength: float
    how: How


_SHORTEST_BEGINNING = 3
_FALL_BACK_BELOW = 0.9
_LETTERS_OF_OTHER_SCRIPTS = frozenset(("ch", "kh", "sh", "ts", "ya", "ye", "yu", "zh"))
"""One letter there, so that it may be an initial: "Ж." is "zh"."""
_LONG = 8
"""Two slips are forgiven in words of so many letters, one in shorter ones; one more where they sound alike."""
_LONGEST = 30
_A_VARIANT, _SHORT_OF_A_VARIANT = 0.7, 0.88
"""A name so like another that sounds the same is a spelling of it; its short forms are nearly as good."""
_MOST, _MOST_MISSPELT = 80, 12
"""Of all words that are like one, so many of the likest are looked at; fewer of misspelt short forms."""


class Vocabulary:
    """All words of names that occur; made once, asked for those that are like a word."""

    def __init__(self, words: Iterable[str]) -> None:
        self.words = sorted(set(words))
        self._known = set(self.words)
        self._nearby = _Nearby(self.words)
        self._spelt: defaultdict[str, list[str]] = defaultdict(list)
        self._by_initial: defaultdict[str, list[str]] = defaultdict(list)
        for word in self.words:
            for other in spellings(word):
                self._spelt[other].append(word)
            self._by_initial[word[0]].append(word)
        self._names = given_names()
        self._given = _Nearby(self._names.all_names)
        self._related = cache(self._names.related)

    def like(self, word: str, *, given: bool = True) -> dict[str, Likeness]:
        """Those of the vocabulary that are like a plain word, the likest first; `given` when it may be a given
        name, so that its short forms count, misspelt ones too."""
        if len(word) == 1:
            return {each: Likeness(0.75, How.INITIAL) for each in self._by_initial.get(word, ())}
        if word in _LETTERS_OF_OTHER_SCRIPTS and word not in self._known:
            return {
                each: Likeness(0.75, How.INITIAL)
                for each in self._by_initial.get(word[0], ())
                if each.startswith(word)
            }
        found = self._nearby.like(word)
        self._beginning(word, found)
        for spelt in spellings(word):
            for other, strength in self._related(spelt).items() if given else ():
                self._short(other, strength, found)
            for full in self._names.full_of.get(spelt, ()) if given else ():
                for other in self._nearby.sounding_as(full):
                    _note(found, other, Likeness(_SHORT_OF_A_VARIANT, How.SHORT))
            for other in self._spelt.get(spelt, ()):
                _note(found, other, Likeness(0.98, How.SPELT))
        if word in self._known:
            found[word] = Likeness(1.0, How.SAME)
        if given and not any(each.strength >= _FALL_BACK_BELOW for each in found.values()):
            self._misspelt_short(word, found)
        best = sorted(found, key=lambda other: -found[other].strength)[:_MOST]
        return {other: found[other] for other in best}

    def _short(self, other: str, strength: float, found: dict[str, Likeness]) -> None:
        for known in self._spelt.get(other, ()):
            _note(found, known, Likeness(strength, How.SHORT))

    def _beginning(self, word: str, found: dict[str, Likeness]) -> None:
        if len(word) >= _SHORTEST_BEGINNING:
            for other in self._by_initial[word[0]]:
                if other.startswith(word) and other != word:
                    _note(found, other, Likeness(0.78 + 0.1 * len(word) / len(other), How.BEGINS))

    def _misspelt_short(self, word: str, found: dict[str, Likeness]) -> None:
        """A short form that was itself misspelt: "Pegy" for Peggy, who is Margaret."""
        near = self._given.like(word)
        for heard, like in sorted(near.items(), key=lambda each: -each[1].strength)[:_MOST_MISSPELT]:
            for other, strength in self._related(heard).items():
                self._short(other, strength * like.strength, found)


class _Nearby:
    """Words that sound like a word, or are a slip of the pen away from it."""

    def __init__(self, words: Iterable[str]) -> None:
        self._words = sorted(words, key=len)
        self._begins = [bisect_left(self._words, length, key=len) for length in range(_LONGEST + 2)]
        self._sounding: defaultdict[str, list[str]] = defaultdict(list)
        for word in self._words:
            for codes in codes_of(word):
                for code in codes:
                    self._sounding[code].append(word)

    def like(self, word: str) -> dict[str, Likeness]:
        """The words near, each with its likeness."""
        agreeing = self._agreeing(word)
        found: dict[str, Likeness] = {}
        for other, times in agreeing.items():
            alike = OSA.normalized_similarity(word, other)
            if alike >= (0.5 if times > 1 else 0.6):
                found[other] = Likeness(0.56 + 0.05 * times + 0.15 * alike, How.SOUNDS)
        most = 1 if len(word) < _LONG else 2
        within = self._of_about_the_length(word, most + 1) if len(word) > 2 else []
        for other, edits, _ in process.extract(
            word, within, scorer=OSA.distance, score_cutoff=most + 1, limit=None
        ):
            if other != word and (edits <= most or agreeing.get(other)):
                strength = 1 - 0.75 * edits / max(len(word), len(other)) - 0.02 * edits
                strength = min(strength + 0.02 * agreeing.get(other, 0), 0.89)
                _note(found, other, Likeness(strength, How.MISSPELT))
        return found

    def sounding_as(self, name: str) -> list[str]:
        """Words that are another spelling of a name by nearly all codes: "Bernhardt" of "bernhard"."""
        agreeing = self._agreeing(name)
        return [
            other
            for other, times in agreeing.items()
            if times >= CODES - 1 and OSA.normalized_similarity(name, other) >= _A_VARIANT
        ]

    def _agreeing(self, word: str) -> dict[str, int]:
        """How many codes of its sound each word shares."""
        agreeing: defaultdict[str, int] = defaultdict(int)
        for codes in codes_of(word):
            for other in {other for code in codes for other in self._sounding.get(code, ())}:
                agreeing[other] += 1
        return agreeing

    def _of_about_the_length(self, word: str, apart: int) -> list[str]:
        least, most = max(len(word) - apart, 0), min(len(word) + apart, _LONGEST)
        return self._words[self._begins[min(least, _LONGEST)] : self._begins[most + 1]]


def _note(found: dict[str, Likeness], word: str, like: Likeness) -> None:
    if word not in found or found[word].strength < like.strength:
        found[word] = like
