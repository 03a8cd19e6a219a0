"""What a person writes down of a back: as it stands there, line by line.

Marks are few, so that the text reads in any program: `[illegible]` for what can't be made out (common practice of
archives, no source), and `_words_` for what is underlined there (our choice; plain text has no underline).
"""

from __future__ import annotations

import re
from collections.abc import Iterable

from attrs import frozen

__all__ = ["Stretch", "as_written", "beside_each_other", "stretches_of"]

_UNDERLINED = re.compile(r"(?<!\w)_(?=\S)([^_\n]+?)(?<=\S)_(?!\w)")


@frozen
class Stretch:
    """A stretch of a transcription, and whether it is underlined on the paper."""

    text: str
    underlined: bool = False


def as_written(lines: Iterable[str], more: str = "") -> str:
    """The text of lines that were gone through and of `more` that stands below them; empty lines before, between
    and after them are left out, those within `more` stay."""
    told = [line.strip() for line in lines]
    rest = "\n".join(line.rstrip() for line in more.replace("\r\n", "\n").replace("\r", "\n").split("\n"))
    return "\n".join(filter(None, (*told, rest.strip("\n"))))


def beside_each_other(versions: Iterable[str]) -> str:
    """What several people wrote down of one back: each version once, and none that stands whole, line by line, in
    another; an empty line parts those that differ."""
    each = list(dict.fromkeys(versions))
    whole = [one for one in each if not any(one != other and f"\n{one}\n" in f"\n{other}\n" for other in each)]
    return "\n\n".join(whole)


def stretches_of(text: str) -> list[Stretch]:
    """A transcription cut where an underline begins or ends, without the marks of it."""
    found, upto = [], 0
    for mark in _UNDERLINED.finditer(text):
        found += [Stretch(text[upto : mark.start()]), Stretch(mark.group(1), underlined=True)]
        upto = mark.end()
    return [one for one in (*found, Stretch(text[upto:])) if one.text]
