"""Where the words that were looked for stand in what is said: the text in pieces, each found or not."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

from attrs import frozen

from solander.core.spellings import other_spellings, plain

__all__ = ["Piece", "beginnings", "holds", "marked"]

_WORD = re.compile(r"[^\W_]+")


@frozen
class Piece:
    """A piece of a text; `found` when it is one of the words that were looked for."""

    text: str
    found: bool


def beginnings(sought: Iterable[str]) -> tuple[str, ...]:
    """What words are to begin with, in small letters without accents, for each word and each spelling of it."""
    found: dict[str, None] = {}
    for word in sought:
        for one in (word, *other_spellings(word)):
            found.update((plain(part), None) for part in _WORD.findall(one))
    return tuple(found)


def marked(text: str, starts: Sequence[str]) -> tuple[Piece, ...]:
    """The text in pieces that join up to it again; `starts` are those of `beginnings`."""
    pieces: list[Piece] = []
    done = 0
    for word in _WORD.finditer(text):
        if _begins(word[0], starts):
            pieces += [Piece(text[done : word.start()], False), Piece(word[0], True)]
            done = word.end()
    pieces.append(Piece(text[done:], False))
    return tuple(piece for piece in pieces if piece.text)


def holds(text: str, starts: Sequence[str]) -> bool:
    """Whether any of the words stands in it."""
    return any(_begins(word[0], starts) for word in _WORD.finditer(text))


def _begins(word: str, starts: Sequence[str]) -> bool:
    forms = (plain(word), *other_spellings(word), word.lstrip("0"))
    return any(form.startswith(start) for form in forms for start in starts)
