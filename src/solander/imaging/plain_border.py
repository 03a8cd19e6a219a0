"""The plain border of a print, as far as it is even along an edge: it is of the paper and not of the negative.

Convention: luma, uint8 (height, width).
"""

from __future__ import annotations

import cv2
import numpy as np
from numpy.typing import NDArray

__all__ = ["inside_border"]

WIDEST = 0.14
"""Share of the long side up to which a border is looked for."""

EVEN = 16.0
"""Code values within which three quarters of a row of border lie: writing on it may take the rest."""

_ENDS = 0.16
_SPAN = (12, 88)
_UNEVEN_ROWS = 2
_EDGE = 2


def inside_border(grey: NDArray[np.uint8]) -> NDArray[np.uint8]:
    """A mask, 255 inside of the border and 0 on it; 255 everywhere where there is none."""
    smooth = cv2.medianBlur(grey, 5)
    mask = np.full(grey.shape, 255, np.uint8)
    for turn in range(4):
        wide = _border_at_top(np.rot90(smooth, turn), int(WIDEST * max(grey.shape)))
        np.rot90(mask, turn)[:wide] = 0
    return mask


def _border_at_top(grey: NDArray[np.integer], most: int) -> int:
    """Rows of border; 0 where a border would be wider than any is, which is a sky or a wall."""
    ends = int(_ENDS * grey.shape[1])
    low, high = np.percentile(grey[:most, ends : grey.shape[1] - ends], _SPAN, axis=1)
    wide = uneven = 0
    for row, even in enumerate(high - low < EVEN):
        uneven = 0 if even else uneven + 1
        if uneven > _UNEVEN_ROWS:
            break
        wide = row + 1 if even else wide
    return wide + _EDGE if 2 < wide < most - 1 else 0
