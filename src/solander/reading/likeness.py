"""How alike faces are: measured by SFace (Zhong and others, 2021) through OpenCV, and grouped.

Groups say that faces look alike, never who somebody is. Measures of faces are specially protected data in many
countries (docs/cautions.md): they are kept in the collection alone and can be erased.

Convention: as in `faces`; a measure is float32 of shape (128,) and length 1, so that the product of two is the
cosine between them.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from pathlib import Path

import cv2
import numpy as np
from numpy.typing import NDArray

from solander.reading.faces import Face

__all__ = ["ALIKE", "LENGTH", "WIDE_ENOUGH", "Measure", "grouped", "measure_of"]

Rgb = NDArray[np.uint8]
Measure = NDArray[np.float32]
Measures = NDArray[np.float32]

LENGTH = 128
"""Numbers in a measure."""

ALIKE = 0.55
"""Mean cosine from which faces make a group. The makers of SFace take two faces for one person from .363 (so the
documentation of OpenCV says); already from .45 strangers begin to be joined (docs/measured.md)."""

WIDE_ENOUGH = 32
"""Pixels of a face's width from which it is measured: smaller ones begin to look alike (docs/measured.md)."""

_NEVER = -2.0
"""Below every cosine: stands between two faces of one picture, who are two people."""


def measure_of(rgb: Rgb, face: Face, model: Path) -> Measure:
    """The measure of a face that was found in this picture, however it is turned; `model` is the file of SFace.

    Raises
    ------
    ValueError
        When the face has no five points.
    """
    if len(face.points) != 5:
        raise ValueError("a face is measured by its five points")
    row = np.array([face.x, face.y, face.width, face.height, *np.ravel(face.points), face.score], np.float32)
    left, top, right, bottom = _around(face, rgb)
    piece = cv2.cvtColor(np.ascontiguousarray(rgb[top:bottom, left:right]), cv2.COLOR_RGB2BGR)
    row[[0, *range(4, 14, 2)]] -= left
    row[[1, *range(5, 14, 2)]] -= top
    recogniser = _recogniser(model)
    measured = recogniser.feature(recogniser.alignCrop(piece, row)).astype(np.float32).ravel()
    return np.asarray(measured / max(float(np.linalg.norm(measured)), 1e-9), np.float32)


def grouped(measures: Measures, pictures: Sequence[object], *, alike: float = ALIKE) -> NDArray[np.int64]:
    """A group number, from 0 on in the order of first faces, for each of n measures: average linkage, cut where
    the mean cosine between two groups falls below `alike`.

    Two faces of one of `pictures` never come into one group. Groups can only hold together what is joined by
    single likenesses of `alike` or more, so each such part is worked out by itself.
    """
    labels = np.arange(len(measures))
    for part in _parts(measures, alike):
        seats = {picture: seat for seat, picture in enumerate({pictures[place] for place in part})}
        owners = np.array([seats[pictures[place]] for place in part])
        for group in _linked(measures[part] @ measures[part].T, owners, alike):
            members = np.array(part)[group]
            labels[members] = members.min()
    _, first, numbers = np.unique(labels, return_index=True, return_inverse=True)
    order = np.argsort(np.argsort(first))
    return np.asarray(order[numbers], np.int64)


def _parts(measures: Measures, alike: float) -> list[list[int]]:
    """The faces that hang together by single likenesses, where more than one does; a block of rows at a time."""
    unseen, parts = np.ones(len(measures), bool), []
    for start in range(len(measures)):
        if not unseen[start]:
            continue
        unseen[start] = False
        part, front = [start], [start]
        while front and unseen.any():
            left = np.flatnonzero(unseen)
            near = (measures[left] @ measures[front[:_BLOCK]].T >= alike).any(axis=1)
            front = front[_BLOCK:] + [int(place) for place in left[near]]
            unseen[left[near]] = False
            part += [int(place) for place in left[near]]
        if len(part) > 1:
            parts.append(sorted(part))
    return parts


_BLOCK = 256
"""Rows of likenesses worked out at once, so that thousands of faces need no gigabytes."""


def _linked(cosines: NDArray[np.float32], owners: NDArray[np.int64], alike: float) -> list[list[int]]:
    """Average linkage (UPGMA, Sokal and Michener 1958): the two groups of the greatest mean cosine are joined
    until none reaches `alike`; groups that share a picture are never joined."""
    count = len(cosines)
    means = cosines.astype(np.float64).copy()
    means[owners[:, None] == owners[None, :]] = _NEVER
    barred = means == _NEVER
    groups: list[list[int]] = [[place] for place in range(count)]
    while True:
        one, other = np.unravel_index(int(np.argmax(means)), means.shape)
        if means[one, other] < alike:
            return [group for group in groups if group]
        weight, added = len(groups[one]), len(groups[other])
        mixed = (weight * means[one] + added * means[other]) / (weight + added)
        barred[one] |= barred[other]
        mixed[barred[one]] = _NEVER
        means[one], means[:, one], barred[:, one] = mixed, mixed, barred[one]
        means[one, one] = _NEVER
        means[other], means[:, other], barred[other], barred[:, other] = _NEVER, _NEVER, True, True
        groups[one] += groups[other]
        groups[other] = []


def _around(face: Face, rgb: Rgb) -> tuple[int, int, int, int]:
    """The part of the picture that the measure reads: a large scan is not copied whole for each of its faces."""
    margin = max(face.width, face.height)
    left, top = (max(0, int(at - margin)) for at in (face.x, face.y))
    right = min(rgb.shape[1], int(face.x + face.width + margin) + 1)
    bottom = min(rgb.shape[0], int(face.y + face.height + margin) + 1)
    return left, top, right, bottom


@cache
def _recogniser(model: Path) -> cv2.FaceRecognizerSF:
    """One a process, loaded when the first face comes."""
    spoken = cv2.utils.logging.getLogLevel()
    cv2.utils.logging.setLogLevel(cv2.utils.logging.LOG_LEVEL_ERROR)  # it warns that it runs on the processor
    try:
        return cv2.FaceRecognizerSF.create(str(model), "")
    finally:
        cv2.utils.logging.setLogLevel(spoken)
