"""What whoever reads inscriptions must be able to do, and one that reads what a script says, for tests.

Convention: pictures are uint8 of shape (height, width, 3), sRGB, red first; places in pixels of the picture,
(0, 0) the centre of the first one, x right, y down.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Protocol

import cv2
import numpy as np
from attrs import field, frozen
from numpy.typing import NDArray

from solander.core.inscriptions.records import Corners, Word

__all__ = ["InscriptionReader", "LineRead", "LineReader", "Patch", "Rgb", "ScriptedReader", "cut_out"]

Rgb = NDArray[np.uint8]


@frozen
class Patch:
    """A stretch of writing by its corners, clockwise from one end of a long side; `sure` that it is writing."""

    corners: Corners
    sure: float


@frozen
class LineRead:
    """What one line says; `sure`, 0 to 1, is the mean of its letters."""

    words: tuple[Word, ...]
    sure: float

    @property
    def text(self) -> str:
        """Its words with a space between."""
        return " ".join(word.text for word in self.words)


class LineReader(Protocol):
    """Reads lines that were cut out."""

    def read(self, lines: Sequence[Rgb]) -> list[LineRead]:
        """What each upright line says."""
        ...


class InscriptionReader(LineReader, Protocol):
    """Finds writing, and reads it."""

    def find(self, rgb: Rgb) -> list[Patch]:
        """Where writing stands, in whatever direction."""
        ...


@frozen
class ScriptedReader:
    """Finds the patches that it was given and reads words by the colour that a line begins with.

    For tests: lines drawn as bars whose first half has a colour of the script are read; upside down they begin
    with another colour, and say nothing.
    """

    patches: Sequence[Patch] = ()
    script: Mapping[tuple[int, int, int], str] = field(factory=dict)
    sure: float = 0.9

    def find(self, rgb: Rgb) -> list[Patch]:
        """The patches of the script."""
        return list(self.patches)

    def read(self, lines: Sequence[Rgb]) -> list[LineRead]:
        """The words that belong to the colour in the middle of each one's first half."""
        return [self._one(line) for line in lines]

    def _one(self, line: Rgb) -> LineRead:
        red, green, blue = (int(value) for value in line[line.shape[0] // 2, line.shape[1] // 4])
        text = self.script.get((red, green, blue), "")
        words = text.split()
        share = 1 / max(1, len(words))
        return LineRead(
            tuple(Word(word, self.sure, i * share, (i + 1) * share) for i, word in enumerate(words)),
            self.sure if words else 0.0,
        )


def cut_out(rgb: Rgb, corners: Corners) -> Rgb:
    """What lies within the corners, upright, its first side along the top, in the picture's own pixels."""
    quad = np.asarray(corners, np.float32)
    width = max(1, round(float(np.linalg.norm(quad[1] - quad[0]))))
    height = max(1, round(float(np.linalg.norm(quad[3] - quad[0]))))
    frame = np.array([[0, 0], [width, 0], [width, height], [0, height]], np.float32) - np.float32(0.5)
    found = cv2.warpPerspective(
        rgb,
        cv2.getPerspectiveTransform(quad, frame),
        (width, height),
        flags=cv2.INTER_LINEAR,
        borderMode=cv2.BORDER_REPLICATE,
    )
    return np.asarray(found, np.uint8)
