"""For a word that nothing has, the nearest of the words that something has."""

from __future__ import annotations

from attrs import define, field
from rapidfuzz import process
from rapidfuzz.distance import OSA

from solander.catalogue.search import ReadingWords
from solander.core.spellings import plain

__all__ = ["NearestWords"]

_MOST = 3
_SHORTEST = 3
"""Shorter words are near to everything."""

_LONG = 5
"""From so many letters on two may be wrong, else one: left out, put in, changed or swapped (our choice)."""


@define
class NearestWords:
    """The vocabulary of a catalogue, read again only when something was written since."""

    _words: list[str] = field(factory=list, init=False)
    _counts: dict[str, int] = field(factory=dict, init=False)
    _as_of: int = field(default=-1, init=False)

    def to(self, word: str, catalogue: ReadingWords) -> tuple[str, ...]:
        """Up to three words, the nearest first, then those of most prints; none for a number or a short word."""
        sought = plain(word)
        if len(sought) < _SHORTEST or not sought.isalpha():
            return ()
        self._read(catalogue)
        wrong = 2 if len(sought) >= _LONG else 1
        near = process.extract(sought, self._words, scorer=OSA.distance, score_cutoff=wrong, limit=50)
        near.sort(key=lambda one: (one[1], -self._counts[one[0]], one[0]))
        return tuple(found for found, _, _ in near[:_MOST])

    def _read(self, catalogue: ReadingWords) -> None:
        now = catalogue.last_document()
        if now != self._as_of:
            self._counts = {term: count for term, count in catalogue.vocabulary() if term.isalpha()}
            self._words, self._as_of = list(self._counts), now
