"""The words that are looked for right before and right behind a number."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache

from attrs import frozen

from solander.core.phrases.language import Language
from solander.core.phrases.lexicon import key_of, told_apart
from solander.core.phrases.tokens import Token

__all__ = ["Tables", "Words", "tables_of", "words_of"]

_EVERYWHERE = "#|№|£|$|€|tel .|tel|phone|fon|neg .|neg|nr .|nr|no .|nº|n°|n . º"
"""Signs and words before a number that is no date in any language."""


_HOURS = "ч|ч .|uhr|uur|hrs|h"
"""Behind a clock time in any language."""


class Words:
    """Words of a table, to be looked for right before or right behind a place."""

    def __init__(self, *tables: str) -> None:
        self._keys = {key_of(each) for words in tables for each in told_apart(words)}
        self._lengths = sorted({len(key) for key in self._keys}, reverse=True)

    def before(self, tokens: list[Token], place: int) -> int:
        """How many tokens before a place are such words."""
        return next((n for n in self._lengths if n <= place and self._are(tokens[place - n : place])), 0)

    def at(self, tokens: list[Token], place: int) -> int:
        """How many tokens from a place on are such words."""
        return next((n for n in self._lengths if self._are(tokens[place : place + n])), 0)

    def _are(self, tokens: Iterable[Token]) -> bool:
        return tuple(token.folded for token in tokens) in self._keys


@cache
def words_of(words: str) -> Words:
    return Words(words)


@frozen
class Tables:
    labels: Words
    far_labels: Words
    clock: Words
    hours: Words
    born: Words
    born_behind: Words
    of_another: Words
    framing: Words
    framed_by: Words
    clauses: Words
    something: Words


@cache
def tables_of(language: Language) -> Tables:
    return Tables(
        labels=Words(language.labels, _EVERYWHERE),
        far_labels=Words("tel .|tel|phone|fon"),
        clock=Words(language.clock),
        hours=Words(language.hours, _HOURS),
        born=Words(language.born, "*|†"),
        born_behind=Words(language.born_behind),
        of_another=Words(language.of_another),
        framing=Words(language.framing),
        framed_by=Words(language.framed_by),
        clauses=Words(language.clauses),
        something=Words(language.something),
    )
