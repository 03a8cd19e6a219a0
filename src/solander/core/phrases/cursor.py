"""Moving about among the terms of a phrase."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from solander.core.phrases.figures import Years
from solander.core.phrases.language import Language
from solander.core.phrases.terms import UNITS, Kind, Term

__all__ = ["PASSED", "Cursor"]

PASSED = (Kind.SEPARATOR, Kind.FILLER, Kind.WEEKDAY)


class Cursor:
    """The terms of one phrase, asked for by their place.

    Parameters
    ----------
    terms
        What the words mean.
    years
        What is taken for a year.
    day_first
        Whether 3/7/48 is July; None reads both.
    language
        Whose customs decide what may stand for a year.
    """

    def __init__(self, terms: Sequence[Term], *, years: Years, day_first: bool | None, language: Language) -> None:
        self.terms = terms
        self.years = years
        self.day_first = day_first
        self.language = language
        self.denied: set[int] = set()

    def _kind(self, place: int) -> Kind | None:
        return self.terms[place].kind if place < len(self.terms) else None

    def _value(self, place: int) -> Any:
        return self.terms[place].value

    def _skip(self, place: int, *kinds: Kind) -> int:
        while self._kind(place) in (kinds or PASSED):
            place += 1
        return place

    def _unit(self, place: int) -> str | None:
        """The unit of time that a word is, or may also be."""
        value = self._value(place) if self._kind(place) in UNITS else None
        return str(value).removesuffix("s") if value else None
