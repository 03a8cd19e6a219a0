"""Dust on a print: small, sharp specks that differ from all around them.

Convention (see `conventions`): the luma of a view, uint8, halved until its longer side is at most `SIDE` pixels.

Method. What a square of `SPECK` pixels opens or closes away (white and black top hat, Serra, 1982) is small in
every direction. It counts as a speck where it stands out from what such a square takes away all around (foliage
and fabric are full of small things, a sky is not), and where it is as sharp as the capture: a photograph's own
detail is softer.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

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
    stands_out = _above(small, cv2.blur(small, (AROUND, AROUND)), TIMES, LEAST)
    taken = np.asarray(cv2.absdiff(grey, cv2.GaussianBlur(grey, (0, 0), SOFT)), np.uint8)
    sharp = stands_out & _above(taken, small, SHARP)
    if not cv2.countNonZero(sharp):
        return 0
    outlines, _ = cv2.findContours(stands_out, cv2.RETR_EXTERNAL, cv2.CHAIN_APPROX_SIMPLE)
    return sum(_is_speck(cv2.boundingRect(outline), sharp) for outline in outlines)


def _above(values: Grey8, usual: Any, times: float, least: float = 0.0) -> Grey8:
    """255 where values are above so many times the usual ones, and above the least."""
    limit = np.maximum(cv2.convertScaleAbs(usual, alpha=times), np.uint8(least))
    return np.asarray(cv2.compare(values, limit, cv2.CMP_GT), np.uint8)


def _is_speck(box: Sequence[int], sharp: Grey8) -> bool:
    """Whether what fills a box (x, y, width, height) is small, more than one pixel, and somewhere sharp."""
    x, y, wide, high = box
    return 2 <= max(wide, high) <= 2 * SPECK + 2 and bool(sharp[y : y + high, x : x + wide].any())
