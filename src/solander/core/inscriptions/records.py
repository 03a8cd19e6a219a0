"""A line of writing as it was read, and a fact that words propose.

Places are in pixels of the picture that was read: (0, 0) is the centre of its first pixel, x right, y down.
"""

from __future__ import annotations

import math
import re
from enum import StrEnum

from attrs import evolve, frozen

from solander.core.statements import Sure

__all__ = ["Corners", "Fact", "FactKind", "Inscription", "Line", "Word"]

_TOLD, _TOLD_ONCE = 1.6, 2.4
"""Letters times score from which a line is writing, with and without a second look that agrees; chosen on
simulated blank backs (docs/measured.md)."""

Corners = tuple[tuple[float, float], tuple[float, float], tuple[float, float], tuple[float, float]]


@frozen
class Word:
    """One word of a line; `begins` and `ends` are shares of the line's length.

    `sure`, 0 to 1, is the mean score of its letters, `least` that of its most doubtful one; 1 where nobody knows.
    """

    text: str
    sure: float
    begins: float = 0.0
    ends: float = 1.0
    least: float = 1.0


@frozen
class Line:
    """A line of writing.

    `corners` run clockwise as the text is read, from above its first letter. `words` is empty where writing is
    there and none of it could be read: such a line is kept, too. `sure` is the reader's own score, 0 to 1. `also`
    is what the second look at it gave; `agreed` tells that both looks gave the same words, which is the better
    sign that they are right. `ink` is the colour of the strokes, sRGB.
    """

    words: tuple[Word, ...]
    corners: Corners
    sure: float
    also: str = ""
    agreed: bool = False
    ink: tuple[int, int, int] = (0, 0, 0)

    @property
    def text(self) -> str:
        """Its words with a space between."""
        return " ".join(word.text for word in self.words)

    @property
    def angle_deg(self) -> float:
        """The direction in which it is read, clockwise from left to right, −180 to 180."""
        (x, y), (right, low) = self.corners[0], self.corners[1]
        return math.degrees(math.atan2(low - y, right - x))

    @property
    def length(self) -> float:
        """From its first letter to its last, in pixels."""
        return math.dist(self.corners[0], self.corners[1])

    @property
    def height(self) -> float:
        """From above its letters to below them, in pixels."""
        return math.dist(self.corners[0], self.corners[3])

    @property
    def centre(self) -> tuple[float, float]:
        """Its middle."""
        return sum(x for x, _ in self.corners) / 4, sum(y for _, y in self.corners) / 4

    @property
    def is_writing(self) -> bool:
        """Whether it surely is writing: a stain or a crease is taken for a doubtful figure or two only."""
        letters = sum(sign.isalnum() for sign in self.text)
        return letters > 1 and letters * self.sure >= (_TOLD if self.agreed else _TOLD_ONCE)

    @property
    def turn(self) -> int:
        """The quarter turns clockwise, 0 to 3, that bring it nearest to upright."""
        return round(-self.angle_deg / 90) % 4

    def moved(self, across: float, down: float) -> Line:
        """The same line in a picture of which this one was a part that begins there."""
        first, second, third, fourth = ((x + across, y + down) for x, y in self.corners)
        return evolve(self, corners=(first, second, third, fourth))


@frozen
class Inscription:
    """All that was read on one side.

    `lines` are in the order of reading. `repeated` are lines that say the same again and again, as the maker of
    the paper prints them; they stand apart. `votes` has a number for each turn 0 to 3 by how much writing is
    upright after it: for `core.upright`. `left` counts the places that seem to bear writing, too, and were not
    read because there are too many.
    """

    lines: tuple[Line, ...] = ()
    repeated: tuple[Line, ...] = ()
    votes: tuple[float, float, float, float] = (0.0, 0.0, 0.0, 0.0)
    left: int = 0

    @property
    def is_written(self) -> bool:
        """Whether a hand, a stamp or a printer left anything, apart from the maker of the paper."""
        return any(line.is_writing for line in self.lines)

    @property
    def text(self) -> str:
        """The lines as written, one below the other."""
        return "\n".join(line.text or UNREAD for line in self.lines)


UNREAD = "[illegible]"
"""Stands for writing that could not be read (common practice of archives, no source)."""


class FactKind(StrEnum):
    """What a fact is about."""

    DATE = "date"
    PRINTING = "printing"  # a date that binds when this paper was made, and the exposure from above only
    PERSON = "person"
    TOGETHER = "together"  # people named in one breath: "Nan and Bill"
    PLACE = "place"
    STUDIO = "studio"
    ADDRESS = "address"
    PAPER = "paper"  # what the paper's maker or a laboratory prints on it
    NUMBER = "number"  # of a series: a roll, an order, a frame


@frozen
class Fact:
    """Something that words propose, for a person to say yes to.

    `value` is what was understood: an EDTF value of a date, names, a number, the id of a fact that dates paper.
    `words` is the line that it comes from, `line` its place among the lines that were given; `ignored` are the
    words of it that had no part. `values` holds each of several.
    """

    kind: FactKind
    value: str
    words: str
    line: int
    sure: Sure
    ignored: tuple[str, ...] = ()
    values: tuple[str, ...] = ()

    @property
    def used(self) -> str:
        """Its words without those that had no part: only they are its reason, and nobody said yes to the rest."""
        left = self.words
        for word in self.ignored:
            left = _without(left, word)
        return " ".join(left.split()).strip(" ,;:·&+()–-") or self.value


def _without(text: str, word: str) -> str:
    """The text without a word, where it stands alone, else where a reader lost the space beside a figure."""
    for letter in (r"[^\W_]", r"[^\W\d_]") if word.isalpha() else (r"[^\W_]",):
        left, found = re.subn(rf"(?<!{letter}){re.escape(word)}(?!{letter})", " ", text, count=1)
        if found:
            return left
    return text
