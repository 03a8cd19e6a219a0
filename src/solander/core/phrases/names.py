"""Names of known people and occasions, found in a phrase."""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Iterator
from functools import lru_cache
from typing import Generic, TypeVar

from attrs import frozen

from solander.core.phrases.language import Language
from solander.core.phrases.tokens import Token, folded, tokens_of

__all__ = ["SHORTEST_STEM", "VOWELS", "Named", "Names"]

_T = TypeVar("_T", bound=Hashable)
_Words = tuple[str, ...]
VOWELS = "aeiouyаеиоуыэюя"
SHORTEST_STEM = 2


@frozen
class Named(Generic[_T]):
    """A name found in a phrase: who or what bears it, where it ends, and whether it is a possessive."""

    bearers: tuple[_T, ...]
    last: int
    owns: bool


@frozen
class Names(Generic[_T]):
    """The names that may stand in one phrase, as words, and who or what bears each; the longest first."""

    candidates: tuple[tuple[_Words, tuple[_T, ...]], ...] = ()

    @classmethod
    def in_phrase(cls, bearers: Iterable[tuple[str, _T]], tokens: Iterable[Token]) -> Names[_T]:
        """Those of all names, each with its bearer, whose words begin like words of the phrase."""
        begun = {token.folded[:SHORTEST_STEM] for token in tokens if token.kind == "word"}
        found: dict[_Words, dict[_T, None]] = {}
        for name, bearer in bearers:
            words, beginnings = _words(name)
            if words and beginnings <= begun:
                found.setdefault(words, {})[bearer] = None
        longest_first = sorted(found.items(), key=lambda name: -len(name[0]))
        return cls(tuple((words, tuple(each)) for words, each in longest_first))

    def places(self, tokens: list[Token], language: Language) -> dict[int, tuple[Named[_T], ...]]:
        """The names that stand at each place, longest first."""
        if not self.candidates:
            return {}
        found = {place: tuple(self._at(tokens, place, language)) for place in range(len(tokens))}
        return {place: names for place, names in found.items() if names}

    def _at(self, tokens: list[Token], place: int, language: Language) -> Iterator[Named[_T]]:
        """A name in another case counts only where none stands as it is."""
        begun = tokens[place].folded[:SHORTEST_STEM]
        candidates = [name for name in self.candidates if name[0][0].startswith(begun)]
        for length in dict.fromkeys(len(words) for words, _ in candidates):
            *first, last = (token.folded for token in tokens[place : place + length])
            names = [name for name in candidates if name[0][:-1] == tuple(first) and len(name[0]) == length]
            for ways in (_as_it_is, _owning, _in_another_case) if names else ():
                bearers = [bearer for words, each in names if ways(last, words[-1], language) for bearer in each]
                if bearers:
                    owns = ways is _owning or (ways is _as_it_is and last[-1] in "sxz")
                    yield Named(tuple(dict.fromkeys(bearers)), place + length, owns)


@lru_cache(maxsize=1 << 16)
def _words(name: str) -> tuple[_Words, frozenset[str]]:
    """The words of a name, and how each begins."""
    words = tuple(token.folded for token in tokens_of(name))
    return words, frozenset(word[:SHORTEST_STEM] for word in words if word[0].isalpha())


def _as_it_is(written: str, name: str, language: Language) -> bool:
    return written == name


def _owning(written: str, name: str, language: Language) -> bool:
    return bool(language.possessive) and any(written == name + ending for ending in language.possessive.split("|"))


def _in_another_case(written: str, name: str, language: Language) -> bool:
    if not language.cases or written == name:
        return False
    stem = name[:-1] if name[-1] in VOWELS else name
    ending = written.removeprefix(stem)
    return len(stem) >= SHORTEST_STEM and written.startswith(stem) and ending in _endings(language)


@lru_cache
def _endings(language: Language) -> frozenset[str]:
    return frozenset(folded(ending) for ending in language.cases.split("|"))
