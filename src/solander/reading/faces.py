"""Faces in pictures, found by YuNet (Wu, Peng and Yu, 2023) through OpenCV; none is recognised or kept here.

Convention: pictures are uint8 of shape (height, width, 3), red first, sRGB-encoded; boxes in pixels of the
picture, x right, y down. For one thread at a time.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path

import cv2
import numpy as np
from attrs import frozen
from numpy.typing import NDArray

__all__ = ["LONG_SIDE", "SURE", "Face", "find_faces", "turn_votes"]

Rgb = NDArray[np.uint8]

LONG_SIDE = 640
"""Pictures are brought to this long side, in pixels, before faces are looked for."""

VOTING_SIDES = (LONG_SIDE, 320)
"""Long sides at which faces vote for a turn. The finder was trained on faces of about 10 to 300 pixels (so its
makers say); the face of a close-up is larger than that at 640, where it may look the same upside down."""

SURE = 0.8
"""Score, 0–1, from which a find counts. Lower, wrong turns begin to win (docs/measured.md)."""

_OVERLAP = 0.3
"""Finds that overlap more than this (IoU) are one face; OpenCV's own default."""

_MOST = 200
_SCORE = 14  # of the columns that OpenCV gives: box 0–3, five points 4–13, score


@frozen
class Face:
    """One face: the top left corner of its box, its size, and the finder's score, 0–1."""

    x: float
    y: float
    width: float
    height: float
    score: float


def find_faces(rgb: Rgb, model: Path) -> tuple[Face, ...]:
    """The upright faces in a picture, surest first; `model` is the file of YuNet."""
    small = _small(rgb, LONG_SIDE)
    scale = max(rgb.shape[:2]) / LONG_SIDE
    found = _found(small, model)
    faces = [_face(row, scale) for row in found]
    return tuple(sorted(faces, key=lambda face: -face.score))


def turn_votes(rgb: Rgb, model: Path) -> tuple[float, float, float, float]:
    """The summed scores of the faces that are upright after 0, 1, 2 and 3 quarter turns clockwise, at all of
    `VOTING_SIDES`."""
    sizes = [_small(rgb, max(VOTING_SIDES))]  # the smaller ones from it: a capture's pixels are gone through once
    sizes += [_resized(sizes[0], side) for side in VOTING_SIDES if side < max(VOTING_SIDES)]
    first, second, third, fourth = (sum(_votes(small, turn, model) for small in sizes) for turn in range(4))
    return first, second, third, fourth


def _votes(small: Rgb, turn: int, model: Path) -> float:
    return float(_found(np.ascontiguousarray(np.rot90(small, -turn)), model)[:, _SCORE].sum())


def _face(row: NDArray[np.float32], scale: float) -> Face:
    x, y, width, height = (float(value) * scale for value in row[:4])
    return Face(x, y, width, height, float(row[_SCORE]))


def _small(rgb: Rgb, long_side: int) -> Rgb:
    """At that long side, blue first as OpenCV wants it."""
    return np.asarray(cv2.cvtColor(_resized(rgb, long_side), cv2.COLOR_RGB2BGR), np.uint8)


def _resized(picture: Rgb, long_side: int) -> Rgb:
    scale = long_side / max(picture.shape[:2])
    size = [max(1, round(side * scale)) for side in (picture.shape[1], picture.shape[0])]
    way = cv2.INTER_AREA if scale < 1 else cv2.INTER_LINEAR
    return np.asarray(cv2.resize(picture, size, interpolation=way), np.uint8)


def _found(small: Rgb, model: Path) -> NDArray[np.float32]:
    finder = _finder(model)
    finder.setInputSize((small.shape[1], small.shape[0]))
    _, found = finder.detect(small)
    return np.zeros((0, 15), np.float32) if found is None else np.asarray(found, np.float32)


@cache
def _finder(model: Path) -> cv2.FaceDetectorYN:
    """One a process, loaded when the first picture comes."""
    spoken = cv2.utils.logging.getLogLevel()
    cv2.utils.logging.setLogLevel(cv2.utils.logging.LOG_LEVEL_ERROR)  # it warns that it runs on the processor
    try:
        return cv2.FaceDetectorYN.create(str(model), "", (LONG_SIDE, LONG_SIDE), SURE, _OVERLAP, _MOST)
    finally:
        cv2.utils.logging.setLogLevel(spoken)
