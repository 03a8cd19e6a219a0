"""A small collection with written backs, and a reader that needs no model: it knows bars by their colour.

A line is a grey bar whose first half has a colour; the colour is what stands there. So the whole way of a back
through the collection is tested on any machine. Not a letter of it is handwriting.
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import numpy as np
from attrs import frozen
from numpy.typing import NDArray
from PIL import Image

from solander.catalogue.work import Work
from solander.core.inscriptions import Word
from solander.core.inscriptions.records import Corners
from solander.core.prints import Capture, Outline, Print, Side, View
from solander.core.upright import Upright
from solander.reading.inscriptions.reader import LineRead, Patch, cut_out
from solander.tasks.collection import Collection
from solander.tasks.inscription import Readers

PAPER, INK = (246, 244, 238), (90, 90, 90)
SCRIPT = {
    (200, 30, 30): "Skegness August 1952",
    (30, 30, 200): "Nan and Bill",
    (20, 150, 40): "",  # a bar that nobody can read
}
RED, BLUE, GREEN = SCRIPT
SIZE = (360, 240)
BARS = ((30, 40, 250, 54), (30, 90, 200, 104), (30, 150, 160, 164))

Rgb = NDArray[np.uint8]


@frozen
class BarReader:
    """Finds bars on a back of `SIZE`, also upside down, and reads each by the colour that it begins with."""

    def find(self, rgb: Rgb) -> list[Patch]:
        """The bars."""
        if rgb.shape[:2] == SIZE[::-1]:
            places = map(_corners, (*BARS, *map(_upside_down, BARS)))
            return [Patch(place, 0.9) for place in places if _is_bar(cut_out(rgb, place))]
        return []

    def read(self, lines: Sequence[Rgb]) -> list[LineRead]:
        """What belongs to the colour at a quarter of each."""
        return [self._one(line) for line in lines]

    def _one(self, line: Rgb) -> LineRead:
        colour = line[line.shape[0] // 2, line.shape[1] // 4].astype(int)
        nearest = min(SCRIPT, key=lambda each: int(np.abs(colour - each).sum()))
        text = SCRIPT[nearest] if np.abs(colour - nearest).sum() < 120 else ""
        words = text.split()
        share = 1 / max(1, len(words))
        told = tuple(Word(word, 0.95, i * share, (i + 1) * share, 0.9) for i, word in enumerate(words))
        return LineRead(told, 0.95 if words else 0.0)


def bar_readers() -> Readers:
    """The reader, as a collection asks for it."""
    return Readers(BarReader())


def a_back(*colours: tuple[int, int, int]) -> Rgb:
    """A back with a bar for each colour, from the top."""
    rgb = np.full((SIZE[1], SIZE[0], 3), PAPER, np.uint8)
    for (left, top, right, low), colour in zip(BARS, colours, strict=False):
        rgb[top:low, left:right] = INK
        rgb[top:low, left : (left + right) // 2] = colour
    return rgb


def add_written(collection: Collection, folder: Path, *backs: Rgb, container: str = "B1") -> list[Print]:
    """Enters a print for each back, with a plain front."""
    entered = []
    with collection.catalogue.act("archivist", "took in") as act, act.work() as work:
        for back in backs:
            number = work.next_number(container)
            front = np.full((SIZE[1], SIZE[0], 3), (120, 100 + number, 90), np.uint8)
            sides = ((Side.RECTO, front), (Side.VERSO, back))
            views = tuple(_view(collection, work, folder / f"{container}-{number}-{side}.png", side, rgb)
                          for side, rgb in sides)  # fmt: skip
            entered.append(Print(f"{container}-{number:04d}", container, number, views))
            work.add_print(entered[-1])
        work.commit()
    return entered


def _view(collection: Collection, work: Work, path: Path, side: Side, rgb: Rgb) -> View:
    path.parent.mkdir(parents=True, exist_ok=True)
    image = Image.fromarray(rgb)
    # One pixel differs from capture to capture, as it does in life: equal bytes would be one capture.
    image.putpixel((0, 0), (sum(path.name.encode()) % 256, 7, 7))
    image.save(path)
    sha256 = collection.vault.put(path, suffix=".png").sha256
    work.keep_capture(Capture(sha256, path.name, "image/png", path.stat().st_size, *SIZE, suffix=".png"))
    work.keep_arrival(path.name, sha256)
    width, height = SIZE
    frame = ((-0.5, -0.5), (width - 0.5, -0.5), (width - 0.5, height - 0.5), (-0.5, height - 0.5))
    return View(sha256, 0, Outline(frame, 1.0, checked=True), side, width, height, upright=Upright.PERSON)


def _corners(bar: tuple[int, int, int, int]) -> Corners:
    left, top, right, low = (value - 0.5 for value in bar)
    return (left, top), (right, top), (right, low), (left, low)


def _upside_down(bar: tuple[int, int, int, int]) -> tuple[int, int, int, int]:
    left, top, right, low = bar
    return SIZE[0] - right, SIZE[1] - low, SIZE[0] - left, SIZE[1] - top


def _is_bar(rgb: Rgb) -> bool:
    return float(rgb.mean()) < 190
