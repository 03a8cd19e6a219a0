"""Faces in pictures, found by YuNet (Wu, Peng and Yu, 2023) through OpenCV; none is recognised here.

Convention: pictures are uint8 of shape (height, width, 3), red first, sRGB-encoded; boxes and points in pixels of
the picture, x right, y down. For one thread at a time.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from pathlib import Path

import cv2
import numpy as np
from attrs import frozen
from numpy.typing import NDArray

__all__ = [
    "FINDING_SIDES",
    "LONG_SIDE",
    "POINT_NAMES",
    "SEEN",
    "SURE",
    "Face",
    "find_faces",
    "look_here",
    "turn_votes",
]

Rgb = NDArray[np.uint8]
Rows = NDArray[np.float32]

LONG_SIDE = 640
"""Pictures are brought to this long side, in pixels, before faces vote for a turn."""

VOTING_SIDES = (LONG_SIDE, 320)
"""Long sides at which faces vote for a turn. The finder was trained on faces of about 10 to 300 pixels (so its
makers say); the face of a close-up is larger than that at 640, where it may look the same upside down."""

FINDING_SIDES = (640, 1280)
"""Long sides at which faces are looked for: the second finds those of people who stand far away, also in a picture
that has fewer pixels than that (docs/measured.md)."""

SURE = 0.8
"""Score, 0–1, from which a find votes for a turn. Lower, wrong turns begin to win (docs/measured.md)."""

SEEN = 0.7
"""Score from which a find is shown as a face: lower, wrong finds become common (looked at; docs/measured.md)."""

_OVERLAP = 0.3
"""Finds that overlap more than this (IoU) are one face; OpenCV's own default."""

_MOST = 200
_POINTS, _SCORE = slice(4, 14), 14  # of the columns that OpenCV gives: box 0–3, five points 4–13, score

POINT_NAMES = ("right eye", "left eye", "tip of the nose", "right corner of the mouth", "left corner of the mouth")
"""The five points of a face in OpenCV's order; right and left as the person has them."""


@frozen
class Face:
    """One face: the top left corner of its box, its size, the finder's score, 0–1, and its `POINT_NAMES`."""

    x: float
    y: float
    width: float
    height: float
    score: float
    points: tuple[tuple[float, float], ...] = ()


def find_faces(rgb: Rgb, model: Path, *, sides: Sequence[int] = FINDING_SIDES) -> tuple[Face, ...]:
    """The upright faces in a picture, surest first; `model` is the file of YuNet.

    What is found at each of `sides` is one face where it overlaps (greedy non-maximum suppression): the surer find
    stays.
    """
    seen = [_in_picture(_found(_small(rgb, side), model, least=SEEN), max(rgb.shape[:2]) / side) for side in sides]
    return tuple(_face(row) for row in _each_once(np.concatenate(seen)))


def look_here(rgb: Rgb, box: tuple[float, float, float, float], model: Path) -> Face | None:
    """The face that fills a box (x, y, width, height) which a person drew; None where the finder sees none.

    It gives the five points by which a face is measured. Looked for in the box and half as much again around it.
    """
    x, y, width, height = box
    left, top = max(0, round(x - width / 2)), max(0, round(y - height / 2))
    around = rgb[top : round(y + 1.5 * height), left : round(x + 1.5 * width)]
    if min(around.shape[:2]) < _LEAST:
        return None
    for face in find_faces(np.ascontiguousarray(around), model, sides=(320, 160)):
        moved = _moved(face, left, top)
        if _overlap(np.array([moved.x, moved.y, moved.width, moved.height]), np.array([box]))[0] > _OVERLAP:
            return moved
    return None


_LEAST = 8
"""Pixels below which nothing can be seen of a face."""


def turn_votes(rgb: Rgb, model: Path) -> tuple[float, float, float, float]:
    """The summed scores of the faces that are upright after 0, 1, 2 and 3 quarter turns clockwise, at all of
    `VOTING_SIDES`."""
    sizes = [_small(rgb, max(VOTING_SIDES))]  # the smaller ones from it: a capture's pixels are gone through once
    sizes += [_resized(sizes[0], side) for side in VOTING_SIDES if side < max(VOTING_SIDES)]
    first, second, third, fourth = (sum(_votes(small, turn, model) for small in sizes) for turn in range(4))
    return first, second, third, fourth


def _votes(small: Rgb, turn: int, model: Path) -> float:
    return float(_found(np.ascontiguousarray(np.rot90(small, -turn)), model, least=SURE)[:, _SCORE].sum())


def _in_picture(found: Rows, scale: float) -> Rows:
    """Finds of a small picture in pixels of the whole one; the middle of a pixel stays its middle."""
    rows = found.copy()
    rows[:, :4] *= scale
    rows[:, _POINTS] = (found[:, _POINTS] + 0.5) * scale - 0.5
    rows[:, :2] += (scale - 1) / 2
    return rows


def _each_once(rows: Rows) -> list[Rows]:
    """The surest of the finds that overlap, surest first."""
    left = rows[np.argsort(-rows[:, _SCORE], kind="stable")]
    kept = []
    while len(left):
        kept.append(left[0])
        left = left[1:][_overlap(left[0], left[1:]) <= _OVERLAP]
    return kept


def _overlap(box: NDArray[np.floating], others: NDArray[np.floating]) -> NDArray[np.float64]:
    """Intersection over union of a box with each of others."""
    first = np.maximum(box[:2], others[:, :2])
    last = np.minimum(box[:2] + box[2:4], others[:, :2] + others[:, 2:4])
    both = np.prod(np.clip(last - first, 0, None), axis=1)
    own, theirs = box[2] * box[3], others[:, 2] * others[:, 3]
    return np.asarray(both / np.maximum(own + theirs - both, 1e-9), np.float64)


def _face(row: Rows) -> Face:
    x, y, width, height = (float(value) for value in row[:4])
    points = tuple((float(px), float(py)) for px, py in row[_POINTS].reshape(5, 2))
    return Face(x, y, width, height, float(row[_SCORE]), points)


def _moved(face: Face, across: float, down: float) -> Face:
    points = tuple((x + across, y + down) for x, y in face.points)
    return Face(face.x + across, face.y + down, face.width, face.height, face.score, points)


def _small(rgb: Rgb, long_side: int) -> Rgb:
    """At that long side, blue first as OpenCV wants it."""
    return np.asarray(cv2.cvtColor(_resized(rgb, long_side), cv2.COLOR_RGB2BGR), np.uint8)


def _resized(picture: Rgb, long_side: int) -> Rgb:
    scale = long_side / max(picture.shape[:2])
    size = [max(1, round(side * scale)) for side in (picture.shape[1], picture.shape[0])]
    way = cv2.INTER_AREA if scale < 1 else cv2.INTER_LINEAR
    return np.asarray(cv2.resize(picture, size, interpolation=way), np.uint8)


def _found(small: Rgb, model: Path, *, least: float) -> Rows:
    finder = _finder(model)
    finder.setScoreThreshold(least)
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
