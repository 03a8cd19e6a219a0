"""Dust on a print: small, sharp specks that stand alone.

Convention (see `conventions`): the luma of a view, uint8, halved until its longer side is at most `SIDE` pixels.

Method. What a square of `SPECK` pixels opens or closes away (white and black top hat, Serra, 1982) is small in
every direction. It counts as a speck where it stands far out from what such a square takes away all around, where
hardly anything around stands out a quarter as much (foliage and fabric are full of small things, a sky is not),
and where it is as sharp as the capture: a photograph's own detail is softer.
"""

from __future__ import annotations

from typing import Any

import cv2
import numpy as np
from numpy.typing import NDArray

from solander.imaging.encode import halved

__all__ = ["specks"]

SIDE = 2400
"""Pixels of the longer side that are looked at at most: 12 megapixels are halved once."""

SPECK, WIDEST, SMALLEST = 9, 7, 3
"""Pixels that a speck is less wide than; that it is wide at half its contrast, at most; and that it has there."""

PLACE, AROUND, BESIDE = 6, 5, 1
"""Pixels a side of a place; how many places each way are around a speck; and how many belong to it."""

LEAST, TIMES = 20, 11
"""Code values by which it differs at least, and how many times as much as its neighbourhood does on average."""

AS_MUCH, OTHERS = 4, 3
"""A place stands out, too, where it does by one in so many of a speck's contrast; so many such may be around."""

SOFT, SHARP = 1.5, 0.35
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
    if min(grey.shape) < 4 * AROUND * PLACE:
        return 0
    square = np.ones((SPECK, SPECK), np.uint8)
    hats = (cv2.morphologyEx(grey, which, square) for which in (cv2.MORPH_TOPHAT, cv2.MORPH_BLACKHAT))
    small = np.asarray(cv2.max(*hats), np.uint8)
    most = _most(small)
    places = (place for place in _tops(small, most) if _alone(most, *place))
    return sum(_is_speck(small, grey, *_peak(small, *place)) for place in places)


def _most(small: Grey8) -> Grey8:
    """What stands out most in each place."""
    high, wide = (side // PLACE for side in small.shape)
    square = np.ones((PLACE, PLACE), np.uint8)
    most = np.asarray(cv2.dilate(small, square, anchor=(0, 0)), np.uint8)
    return np.ascontiguousarray(most[: high * PLACE : PLACE, : wide * PLACE : PLACE])


def _tops(small: Grey8, most: Grey8) -> list[tuple[int, int]]:
    """Places (row, column) that stand out from all beside them, and far out from what is usual around; of several
    beside each other that do alike, one."""
    high, wide = most.shape
    usual = cv2.resize(small[: high * PLACE, : wide * PLACE], (wide, high), interpolation=cv2.INTER_AREA)
    around = cv2.blur(usual, (AROUND + 2, AROUND + 2))
    limit = np.maximum(cv2.convertScaleAbs(around, alpha=TIMES), np.uint8(LEAST))
    tops = (most >= limit) & (most == cv2.dilate(most, np.ones((3, 3), np.uint8)))
    _, labels = cv2.connectedComponents(tops.astype(np.uint8), connectivity=8)
    first = np.unique(labels, return_index=True)[1][1:]
    return [(int(at) // wide, int(at) % wide) for at in first]


def _alone(most: Grey8, row: int, column: int) -> bool:
    """Whether hardly any place around one stands out, too; the places right beside it are its own."""
    rows, columns = (slice(max(0, at - AROUND), at + AROUND + 1) for at in (row, column))
    own_rows, own_columns = (slice(max(0, at - BESIDE), at + BESIDE + 1) for at in (row, column))
    limit = most[row, column] // AS_MUCH
    others = int(np.count_nonzero(most[rows, columns] > limit))
    return others - int(np.count_nonzero(most[own_rows, own_columns] > limit)) <= OTHERS


def _peak(small: Grey8, row: int, column: int) -> tuple[int, int]:
    """Where in a place it stands out most: row and column of the picture."""
    top, left = row * PLACE, column * PLACE
    at = int(small[top : top + PLACE, left : left + PLACE].argmax())
    return top + at // PLACE, left + at % PLACE


def _is_speck(small: Grey8, grey: Grey8, row: int, column: int) -> bool:
    """Whether what stands out there is small, more than noise, and somewhere sharp."""
    top, left = max(0, row - REACH), max(0, column - REACH)
    rows, columns = slice(top, row + REACH + 1), slice(left, column + REACH + 1)
    contrast = int(small[row, column])
    half = (small[rows, columns] > contrast // 2).astype(np.uint8)
    _, labels, stats, _ = cv2.connectedComponentsWithStats(half, connectivity=8)
    wide, high, area = (int(one) for one in stats[labels[row - top, column - left], 2:5])
    if max(wide, high) > WIDEST or area < SMALLEST:
        return False
    seen = grey[rows, columns]
    taken: Any = cv2.absdiff(seen, cv2.GaussianBlur(seen, (0, 0), SOFT))
    near = (slice(max(0, at - NEAR), at + NEAR + 1) for at in (row - top, column - left))
    return bool(taken[tuple(near)].max() >= SHARP * contrast)


REACH, NEAR = 12, 5
"""Pixels around a speck's middle that are looked at, and within which it is sharp."""
