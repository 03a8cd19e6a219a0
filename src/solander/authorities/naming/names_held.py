"""The words of a person's names, each with its part: given, further given, family, and what the tree adds."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from enum import IntEnum

from solander.authorities.naming.said import PARTICLES, named
from solander.authorities.naming.spelling import plain, words_of
from solander.core.people import Name, NameKind, Person

__all__ = ["Part", "family_words", "held_words", "phrase_of", "without_years"]


class Part(IntEnum):
    """The part that a word plays in a name."""

    GIVEN = 0  # the first given name, or a nickname
    FURTHER = 1  # further given names
    BORN = 2  # the family name at birth, or of which no more is known
    MARRIED = 3  # a family name by marriage
    OF_PARTNER = 4  # the family name of a partner, which may have been taken


_YEARS = re.compile(r",?\s*\(?(?:\*|†|b\.|d\.|c\.|ca\.?)?\s*\d{3,4}\??\s*[–-]?\s*\d{0,4}\??\)?\s*$")


def without_years(name: str) -> str:
    """A heading without the years that tell it from another: "Anna Weber" of "Anna Weber, 1881–1950"."""
    return name if name[-1:].isalpha() else _YEARS.sub("", name)  # ten times quicker for most


def phrase_of(name: str) -> str:
    """A whole name in plain words, by which somebody is called just so."""
    return " ".join(word for word in map(plain, words_of(without_years(name).replace("-", " "))) if word)


def held_words(person: Person) -> dict[tuple[Part, str], None]:
    """Every word of every name of a person with its part, in order."""
    found: dict[tuple[Part, str], None] = {}
    for name in _names(person):
        found |= dict.fromkeys(_words(name))
    return found


def _names(person: Person) -> Iterator[Name]:
    yield from person.names
    told = {name.text for name in person.names}
    for called in (without_years(person.name), *person.also_called):
        if called not in told:
            yield Name(called)


def _words(name: Name) -> Iterator[tuple[Part, str]]:
    family = Part.MARRIED if name.kind is NameKind.MARRIED else Part.BORN
    if name.surname:
        surname = _kept(name.surname)
        given = [word for word in _kept(name.text) if word not in surname]
        yield from ((family, word) for word in surname)
        yield from _given(given)
        return
    reading = named(_turned(name.text))
    words = list(reading.names)
    behind = 1 if len(words) > 1 and name.kind is not NameKind.NICKNAME else 0
    last = Part.MARRIED if reading.maiden else family
    yield from _given(words[: len(words) - behind])
    yield from ((last, word) for word in words[len(words) - behind :])
    yield from ((Part.BORN, word) for word in reading.maiden)
    yield from ((Part.MARRIED, word) for word in reading.married)


def _given(words: Iterable[str]) -> Iterator[tuple[Part, str]]:
    for place, word in enumerate(words):
        yield (Part.FURTHER if place else Part.GIVEN), word


def _turned(text: str) -> str:
    """ "Weber, Anna" the right way round."""
    first, comma, rest = text.partition(",")
    return f"{rest.strip()} {first.strip()}" if comma and rest.strip() and rest.strip()[0].isalpha() else text


def _kept(text: str) -> list[str]:
    words = [plain(word) for word in words_of(text.replace("-", " "))]
    return [word for word in words if word and word not in PARTICLES] or [word for word in words if word]


def family_words(held: Iterable[tuple[Part, str]]) -> tuple[str, ...]:
    """The words of the family names among the words of a person's names."""
    return tuple(word for part, word in held if part in (Part.BORN, Part.MARRIED))
