"""Shapes as shares of pixels: float32 (height, width), 0 outside to 1 inside, smooth at the rim.

Points are capture pixels, (0, 0) the centre of the first. OpenCV smooths rims in 8 bits only, hence the way round.
"""

from __future__ import annotations

import cv2
import numpy as np
from numpy.typing import NDArray

from solander.imaging.simulate.light import Linear

__all__ = ["line_mask", "polygon_mask"]

_SHIFT = 4  # bits below the pixel that positions keep
_Points = NDArray[np.float64]


def polygon_mask(outline: _Points, size: tuple[int, int]) -> Linear:
    """The inside of a polygon (n, 2); `size` is (width, height)."""
    mask = np.zeros(size[::-1], np.uint8)
    cv2.fillPoly(mask, [_fixed(outline)], (255,), cv2.LINE_AA, _SHIFT)
    return _shares(mask)


def line_mask(path: _Points, size: tuple[int, int], width_px: float) -> Linear:
    """A line through points (n, 2), at least a pixel wide."""
    mask = np.zeros(size[::-1], np.uint8)
    cv2.polylines(mask, [_fixed(path)], False, (255,), max(1, round(width_px)), cv2.LINE_AA, _SHIFT)
    return _shares(mask)


def _fixed(points: _Points) -> NDArray[np.int32]:
    return np.rint(points * (1 << _SHIFT)).astype(np.int32)


def _shares(mask: NDArray[np.uint8]) -> Linear:
    return np.asarray(mask, np.float32) * np.float32(1 / 255)
