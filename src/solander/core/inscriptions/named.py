"""People and places in a line: what stands between commas and "and", and whether it is a name.

Names are proposed only where a whole part is one: a kinship word or a known given name, with a surname at most.
The words that join and that tell where are from memory.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from typing import Protocol

from attrs import frozen

__all__ = ["Part", "is_names", "parts_of", "people_in"]

_AND = r"and|und|et|y|og|och|en|e|u|&|\+"
_WITH = r"with|mit|avec|con|med|met|w/"
_WHERE = r"in|at|near|bei|im|am|auf|à|a|en|à la|nahe"
_SPLIT = re.compile(rf"[,;:\n/()|]|(?<!\w)(?:{_AND}|{_WITH})(?!\w)|(?<=\w{{3}})\.\s", re.IGNORECASE)
_TOGETHER = re.compile(rf"\s*(?:{_AND}|{_WITH}|,)\s*", re.IGNORECASE)
_LEADS = re.compile(rf"^(?:(?P<where>{_WHERE})\s+)", re.IGNORECASE)
_INNER_WHERE = re.compile(r"\s+(?:in|at|near|bei|im|am|à)\s+", re.IGNORECASE)
_MOST_WORDS = 4
_SHORTEST = 3
"""Letters: what is shorter is more often a piece of a word than "Jo" or "Al"."""
_INITIAL = re.compile(r"[A-ZÀ-Þ]\.?")


class _Known(Protocol):
    @property
    def is_given_name(self) -> Callable[[str], bool]: ...

    @property
    def is_kin(self) -> Callable[[str], bool]: ...


@frozen
class Part:
    """A piece of a line that may be one name; `is_where` when a word before it tells a place."""

    text: str
    is_where: bool = False


def parts_of(text: str) -> list[Part]:
    """The pieces of a line, in its order."""
    found: list[Part] = []
    for piece in _SPLIT.split(text):
        first, *others = _INNER_WHERE.split(piece.strip(" .-–—·•*\"'“”"))
        found += [_part(first), *(Part(other.strip(), True) for other in others)]
    return [part for part in found if part.text]


def _part(text: str) -> Part:
    leads = _LEADS.match(text)
    return Part(text[leads.end() :].strip(), True) if leads else Part(text.strip())


def is_names(text: str, known: _Known) -> bool:
    """Whether all of it is the name of one person: "Aunt May", "Bill", "Ada M. Kershaw"."""
    words = text.split()
    if (
        not 1 <= len(words) <= _MOST_WORDS
        or not all(_is_capital(word) for word in words)
        or len(words[0]) < _SHORTEST
    ):
        return False
    if known.is_kin(words[0]):
        return len(words) == 1 or known.is_given_name(words[1]) or len(words) == 2
    return known.is_given_name(words[0]) and all(
        _INITIAL.fullmatch(word) or word.strip(".").isalpha() or "-" in word or "'" in word for word in words[1:]
    )


def _is_capital(word: str) -> bool:
    return word[:1].isupper() and any(sign.isalpha() for sign in word)


def people_in(text: str, people: Sequence[str]) -> list[tuple[str, ...]]:
    """Those of the people who are named in one breath: with nothing but "and" or a comma between."""
    found: list[list[str]] = []
    end = 0
    for name in people:
        begin = text.find(name, end)
        if begin < 0:
            continue
        if found and _TOGETHER.fullmatch(text[end:begin]):
            found[-1].append(name)
        else:
            found.append([name])
        end = begin + len(name)
    return [tuple(names) for names in found if len(names) > 1]
