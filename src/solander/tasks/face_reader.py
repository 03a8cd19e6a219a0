"""What looks at a print's picture for faces: the models, or a scripted reader in tests."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Protocol

import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from solander.core.faces import Box, Point
from solander.reading.faces import Face, find_faces, look_here
from solander.reading.likeness import WIDE_ENOUGH, measure_of
from solander.reading.models import SFACE, YUNET, installed

__all__ = ["FaceReader", "FaceSeen", "ModelReader", "face_reader"]

Rgb = NDArray[np.uint8]


@frozen
class FaceSeen:
    """A face in a picture as it is shown, in shares of its width and height; `measure` is 128 float32,
    little-endian, empty where it could not be measured or is too small for it."""

    box: Box
    points: tuple[Point, ...]
    score: float
    measure: bytes = b""


class FaceReader(Protocol):
    """Finds and measures faces; it travels to worker processes."""

    def faces_in(self, rgb: Rgb) -> Sequence[FaceSeen]:
        """All faces in a picture."""
        ...

    def face_here(self, rgb: Rgb, box: Box) -> FaceSeen | None:
        """The face in a box that a person drew, None where it can't be told."""
        ...


@frozen
class ModelReader:
    """By the files of both models; without the one that measures, faces are found and not grouped."""

    finder: Path
    measurer: Path | None

    def faces_in(self, rgb: Rgb) -> Sequence[FaceSeen]:
        """All faces in a picture."""
        return [self._seen(rgb, face) for face in find_faces(rgb, self.finder)]

    def face_here(self, rgb: Rgb, box: Box) -> FaceSeen | None:
        """The face in a box that a person drew, None where it can't be told."""
        height, width = rgb.shape[:2]
        pixels = box.left * width, box.top * height, box.width * width, box.height * height
        face = look_here(rgb, pixels, self.finder)
        return None if face is None else self._seen(rgb, face)

    def _seen(self, rgb: Rgb, face: Face) -> FaceSeen:
        height, width = rgb.shape[:2]
        box = Box((face.x + 0.5) / width, (face.y + 0.5) / height, face.width / width, face.height / height)
        points = tuple(((x + 0.5) / width, (y + 0.5) / height) for x, y in face.points)
        measure = b""
        if self.measurer and face.width >= WIDE_ENOUGH:
            measure = measure_of(rgb, face, self.measurer).astype("<f4").tobytes()
        return FaceSeen(box.on_paper() or box, points, face.score, measure)


def face_reader() -> FaceReader | None:
    """The models of this computer; None where the one that finds faces is not set up."""
    finder = installed(YUNET)
    return None if finder is None else ModelReader(finder, installed(SFACE))
