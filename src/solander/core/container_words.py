"""Containers as they are said: "envelope five", "box two, envelope five", "next page"; English, German, French.

Each word stands for a letter of the code, as the project's own containers are lettered: B for a box, E for an
envelope, A for an album, P for its pages, F for a folder, D for a drawer, R for a roll or reel (our choice).
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache

from solander.core.errors import InvalidValue
from solander.core.phrases.languages import LANGUAGES
from solander.core.phrases.tokens import folded
from solander.core.prints import container_code

__all__ = ["CONTAINER_WORDS", "container_said"]

CONTAINER_WORDS = {
    "B": ("box", "schachtel", "karton", "kiste", "boite"),
    "E": ("envelope", "umschlag", "kuvert", "enveloppe"),
    "A": ("album", "fotoalbum"),
    "P": ("page", "seite", "blatt"),
    "F": ("folder", "mappe", "chemise", "dossier"),
    "D": ("drawer", "schublade", "tiroir"),
    "R": ("roll", "reel", "rolle", "rouleau"),
}
"""The words for each letter, folded."""

_NEXT = ("next", "nachste", "nachster", "nachstes", "naechste", "naechster", "naechstes", "suivant", "suivante")
_LEVEL = re.compile(r"([A-Z]+)([0-9]+)")
_PIECE = re.compile(r"[^\W_]+(?:-[^\W\d_]+)*")
_MOST_NUMBER_WORDS = 3  # "deux cent dix" and the like


def container_said(words: str, within: str = "") -> str | None:
    """The code that words mean to somebody who is at the container `within`; None where they mean none.

    A level that is said takes the place of its like and of all within that: "envelope five" at `B2/E3` is `B2/E5`.
    A box stands by itself, and so does an album that is said without a box. A code may be said as it is written.
    """
    if code := _written(words):
        return code
    levels = list(_levels(words, within))
    if not levels or None in levels:
        return None
    said = [level for level in levels if level]
    kept = _kept(_LEVEL.findall(within), said[0][0])
    return "/".join(f"{letter}{number}" for letter, number in (*kept, *said))


def _written(words: str) -> str | None:
    """A code as it is written: `B2/E5`, `b2 e5`."""
    try:
        return container_code(re.sub(r"\s*[\s/]\s*", "/", words.strip()))
    except InvalidValue:
        return None


def _kept(levels: list[tuple[str, str]], letter: str) -> list[tuple[str, str]]:
    """The levels around one of that letter that is newly said."""
    if letter == "B" or (letter == "A" and all(each != "A" for each, _ in levels)):
        return []
    place = next((at for at, (each, _) in enumerate(levels) if each == letter), len(levels))
    return levels[:place]


def _levels(words: str, within: str) -> Iterator[tuple[str, str] | None]:
    """Letter and number of each container that is said, in order; None where anything else stands there."""
    rest = _PIECE.findall(folded(words))
    now = dict(_LEVEL.findall(within))
    while rest:
        is_next = rest[0] in _NEXT
        letter = _letters().get(rest[1] if is_next and len(rest) > 1 else rest[0])
        if letter is None:
            yield None
            return
        rest = rest[2:] if is_next else rest[1:]
        if is_next or (rest and rest[0] in _NEXT):
            rest = rest if is_next else rest[1:]
            yield letter, str(int(now.get(letter, "0")) + 1)
            continue
        number, used = _number(rest)
        if not used:
            yield None
            return
        rest = rest[used:]
        yield letter, str(number)


def _number(words: list[str]) -> tuple[int, int]:
    """The number that words begin with, and how many of them are it."""
    if words and words[0].isdigit() and len(words[0]) <= 5:
        return int(words[0]), 1
    for many in range(min(_MOST_NUMBER_WORDS, len(words)), 0, -1):
        number = _numbers().get(" ".join(words[:many]).replace("-", " "))
        if number is not None:
            return number, many
    return 0, 0


@cache
def _letters() -> dict[str, str]:
    return {word: letter for letter, words in CONTAINER_WORDS.items() for word in words}


@cache
def _numbers() -> dict[str, int]:
    return {
        folded(word).replace("-", " "): number
        for code in ("en", "de", "fr")
        for words, number in LANGUAGES[code].numbers.items()
        for word in words.split("|")
    }
