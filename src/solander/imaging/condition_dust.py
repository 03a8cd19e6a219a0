"""Dust on a print: small, sharp specks that differ from all around them.

Convention (see `conventions`): the luma of a view, uint8, halved until its longer side is at most `SIDE` pixels.

Method. What a square of `SPECK` pixels opens or closes away (white and black top hat, Serra, 1982) is small in
every direction. It counts as a speck where it stands out from what such a square takes away all around (foliage
and fabric are full of small things, a sky is not), and where it is as sharp as the capture: a photograph's own
detail is softer.
"""

from __future__ import annotations

import cv2
import numpy as np
from numpy.typing import NDArray

from solander.imaging.encode import halved

__all__ = ["specks"]

SIDE = 2400
"""Pixels of the longer side that are looked at at most: 12 megapixels are halved once."""

SPECK = 9
"""Pixels that a speck is less wide than."""

AROUND = 41
"""Pixels of the neighbourhood that it must stand out from."""

LEAST, TIMES = 20.0, 12.0
"""Code values by which it differs at least, and how many times as much as its neighbourhood does on average."""

SOFT, SHARP = 1.5, 0.5
"""Pixels of a Gaussian blur, and the share of a speck's contrast that such a blur takes at its sharpest place."""

RIM = 0.025
"""Share of the shorter side along the edges that isn't looked at: worn edges are full of specks."""


Grey8 = NDArray[np.uint8]


def specks(luma: Grey8) -> int:
    """How many specks are seen in a view."""
    while max(luma.shape) > SIDE:
        luma = halved(luma)
    inside = round(RIM * min(luma.shape))
    grey = np.ascontiguousarray(luma[inside:-inside, inside:-inside]) if inside else luma
    if min(grey.shape) < 2 * AROUND:
        return 0
    square = np.ones((SPECK, SPECK), np.uint8)
    hats = (cv2.morphologyEx(grey, which, square) for which in (cv2.MORPH_TOPHAT, cv2.MORPH_BLACKHAT))
    small = np.asarray(cv2.max(*hats), np.uint8)
    usual = cv2.blur(small, (AROUND, AROUND))
    least = np.maximum(cv2.convertScaleAbs(usual, alpha=TIMES), np.uint8(LEAST))
    stands_out = np.asarray(cv2.compare(small, least, cv2.CMP_GT), np.uint8)
    _, found, stats, _ = cv2.connectedComponentsWithStats(stands_out, connectivity=8)
    labels = np.asarray(found, np.int32)
    wide, high, size = stats[:, cv2.CC_STAT_WIDTH], stats[:, cv2.CC_STAT_HEIGHT], stats[:, cv2.CC_STAT_AREA]
    compact = (size >= 2) & (size <= 4 * SPECK**2) & (np.maximum(wide, high) <= 2 * SPECK + 2)
    compact[0] = False  # what is around all specks
    return int(np.count_nonzero(compact & (_sharpest(grey, small, stands_out, labels, len(stats)) > SHARP)))


def _sharpest(
    grey: Grey8, small: Grey8, stands_out: Grey8, labels: NDArray[np.int32], count: int
) -> NDArray[np.float64]:
    """The largest share of its contrast that a blur takes in each of so many labelled specks."""
    sharpest = np.zeros(count)
    places = cv2.findNonZero(stands_out)
    if places is not None:
        columns, rows = np.asarray(places).reshape(-1, 2).T
        taken = cv2.absdiff(grey, cv2.GaussianBlur(grey, (0, 0), SOFT))[rows, columns]
        np.maximum.at(sharpest, labels[rows, columns], taken / np.maximum(small[rows, columns], 1.0))
    return sharpest
