"""Dates that are kept as dates within sentences, and told as the reader writes them."""

from __future__ import annotations

from typing import Self

from solander.core.dates.words import range_words, words
from solander.core.language import language
from solander.core.sentence import Kept

__all__ = ["Dated", "Days"]


class Dated(Kept, kind="date"):
    """An EDTF date in words."""

    __slots__ = ()

    def __new__(cls, edtf: str) -> Self:
        """Says it in English."""
        return cls._made(words(edtf), edtf)

    def told(self) -> str:
        """In the reader's language."""
        (edtf,) = self.made_of
        return words(edtf, language().code)


class Days(Kept, kind="days"):
    """A range of days in words; empty when nothing bounds it."""

    __slots__ = ()

    def __new__(cls, earliest: int | None, latest: int | None) -> Self:
        """Says it in English."""
        return cls._made(range_words(earliest, latest), earliest, latest)

    def told(self) -> str:
        """In the reader's language."""
        earliest, latest = self.made_of
        return range_words(earliest, latest, language().code)
