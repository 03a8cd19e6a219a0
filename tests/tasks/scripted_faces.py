"""A reader of faces that needs no model: it finds what a drawn print shows, and measures by a person's number.

A face is a filled square of one pure colour on a drawn picture; the colour is the person. So the whole way of a
face through the collection is tested on any machine, and nobody real is shown.
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import numpy as np
from attrs import frozen
from numpy.typing import NDArray
from PIL import Image, ImageDraw

from solander.core.faces import Box
from solander.tasks.collection import Collection
from solander.tasks.face_reader import FaceSeen
from solander.tasks.face_switch import switch_faces

PEOPLE = {"red": (225, 0, 0), "green": (0, 200, 0), "blue": (0, 0, 225), "violet": (200, 0, 200)}
"""Colours that paper, stage and sky don't have."""

SIZE = (720, 540)
PAPER = (110, 70, 610, 470)  # left, top, right, bottom in the capture: 500 × 400 px


def measure(person: int, nearer: float = 0.0) -> bytes:
    """A measure of that person, of length 1; `nearer` mixes in as much of the next person."""
    vector = np.zeros(128, np.float32)
    vector[person], vector[person + 10] = 1.0, nearer
    return (vector / np.linalg.norm(vector)).astype("<f4").tobytes()


@frozen
class ScriptedReader:
    """Finds the squares of `PEOPLE`; `blind` to those of these names."""

    blind: tuple[str, ...] = ()

    def faces_in(self, rgb: NDArray[np.uint8]) -> Sequence[FaceSeen]:
        """A face for each colour that fills a square."""
        found = (self._square(rgb, number, name) for number, name in enumerate(PEOPLE) if name not in self.blind)
        return [one for one in found if one]

    def face_here(self, rgb: NDArray[np.uint8], box: Box) -> FaceSeen | None:
        """The square in a box, also of those that it is blind to."""
        seen = ScriptedReader().faces_in(rgb)
        return next((one for one in seen if one.box.overlap(box) > 0.3), None)

    def _square(self, rgb: NDArray[np.uint8], number: int, name: str) -> FaceSeen | None:
        like = (np.abs(rgb.astype(int) - PEOPLE[name]) < 60).all(axis=2)
        if like.sum() < 200:
            return None
        rows, columns = np.flatnonzero(like.any(axis=1)), np.flatnonzero(like.any(axis=0))
        height, width = rgb.shape[:2]
        left, top = columns[0] / width, rows[0] / height
        box = Box(left, top, (columns[-1] + 1) / width - left, (rows[-1] + 1) / height - top)
        across, down = box.left + box.width / 2, box.top + box.height / 2
        return FaceSeen(box, ((across, down),) * 5, 0.9, measure(number))


def draw_print(path: Path, *people: str, seed: int = 0) -> Path:
    """A capture of one light print with people on it, from the left, on a dark stage."""
    noise = np.random.default_rng(seed).integers(-12, 12, (SIZE[1], SIZE[0], 1))
    image = Image.fromarray(np.clip(np.full((SIZE[1], SIZE[0], 3), 60) + noise, 0, 255).astype(np.uint8))
    pen = ImageDraw.Draw(image)
    left, top, right, bottom = PAPER
    pen.rectangle((left, top, right - 1, bottom - 1), fill=(235, 230, 220))
    pen.rectangle((left + 12, top + 12, right - 13, bottom - 13), fill=(150 + 9 * seed % 60, 150, 140))
    for place, person in enumerate(people):
        across, down = left + 70 + 110 * place, top + 90 + 20 * place
        pen.rectangle((across, down, across + 49, down + 59), fill=PEOPLE[person])
    path.parent.mkdir(parents=True, exist_ok=True)
    image.save(path)
    return path


def said_yes(collection: Collection) -> Collection:
    """The collection with its switch on."""
    switch_faces(collection, on=True)
    return collection
