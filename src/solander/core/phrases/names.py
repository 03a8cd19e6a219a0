"""Names of known people and occasions, found in a phrase."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import lru_cache
from typing import Generic, TypeVar

from attrs import field, frozen

from solander.core.phrases.language import Language
from solander.core.phrases.tokens import Token, folded, tokens_of

__all__ = ["Named", "Names"]

_T = TypeVar("_T")
_VOWELS = "aeiouyаеиоуыэюя"
_SHORTEST_STEM = 2


@frozen
class Named(Generic[_T]):
    """A name found in a phrase: who or what bears it, where it ends, and whether it is a possessive."""

    bearers: tuple[_T, ...]
    last: int
    owns: bool


@frozen
class _Name(Generic[_T]):
    words: tuple[str, ...]
    bearer: _T


@frozen
class Names(Generic[_T]):
    """The names that may stand in one phrase, the longest first."""

    candidates: tuple[_Name[_T], ...] = field(factory=tuple)

    @classmethod
    def in_phrase(cls, bearers: Iterable[tuple[str, _T]], tokens: Iterable[Token]) -> Names[_T]:
        """Those of all names, each with its bearer, whose first letters are those of a word of the phrase."""
        begun = {token.folded[:_SHORTEST_STEM] for token in tokens if token.kind == "word"}
        found = dict.fromkeys(
            _Name(words, bearer)
            for name, bearer in bearers
            if (words := _words(name)) and words[0][:_SHORTEST_STEM] in begun
        )
        return cls(tuple(sorted(found, key=lambda name: -len(name.words))))

    def at(self, tokens: list[Token], place: int, language: Language) -> Iterator[Named[_T]]:
        """The names at a place, longest first; a name in another case only where none stands as it is."""
        for length in dict.fromkeys(len(name.words) for name in self.candidates):
            written = tuple(token.folded for token in tokens[place : place + length])
            same_length = [name for name in self.candidates if len(name.words) == length]
            for ways in (_as_it_is, _owning, _in_another_case):
                bearers = [name.bearer for name in same_length if ways(written, name.words, language)]
                if bearers:
                    owns = ways is _owning or (ways is _as_it_is and written[-1][-1] in "sxzß")
                    yield Named(tuple(dict.fromkeys(bearers)), place + length, owns)


@lru_cache(maxsize=1 << 16)
def _words(name: str) -> tuple[str, ...]:
    return tuple(token.folded for token in tokens_of(name))


def _as_it_is(written: tuple[str, ...], name: tuple[str, ...], language: Language) -> bool:
    return written == name


def _owning(written: tuple[str, ...], name: tuple[str, ...], language: Language) -> bool:
    if not language.possessive or written[:-1] != name[:-1] or len(written) != len(name):
        return False
    return any(written[-1] == name[-1] + ending for ending in language.possessive.split("|"))


def _in_another_case(written: tuple[str, ...], name: tuple[str, ...], language: Language) -> bool:
    if not language.cases or written == name or written[:-1] != name[:-1] or len(written) != len(name):
        return False
    stem = name[-1][:-1] if name[-1][-1] in _VOWELS else name[-1]
    ending = written[-1].removeprefix(stem)
    return len(stem) >= _SHORTEST_STEM and written[-1].startswith(stem) and ending in _endings(language)


@lru_cache
def _endings(language: Language) -> frozenset[str]:
    return frozenset(folded(ending) for ending in language.cases.split("|"))
