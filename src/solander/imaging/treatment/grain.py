"""The grain of a picture: how strong it is, so that a step can be shown to keep it.

Convention (see `solander.imaging.conventions`): uint8 sRGB; grain is a deviation of the encoded luma, 0–255.
Method: noise by the difference of two Laplacians (Immerkær, Computer Vision and Image Understanding 64(2), 1996),
in the plainest tenth of the picture's tiles.
"""

from __future__ import annotations

import cv2
import numpy as np
from numpy.typing import NDArray

from solander.imaging.conventions import Rgb, luma

__all__ = ["grain_of", "plainest"]

TILE = 24
PLAINEST = 0.1

_MASK = np.array([[1, -2, 1], [-2, 4, -2], [1, -2, 1]], np.float32)


def grain_of(rgb: Rgb, *, where: NDArray[np.bool_] | None = None) -> float:
    """Deviation of the grain in code values; `where` (rows × columns of tiles) chooses tiles beforehand, so that
    two pictures are compared in the same places. NaN for a picture too small to tell."""
    tiles = _tiles(rgb)
    if tiles.size == 0:
        return float("nan")
    chosen = tiles[where] if where is not None else np.sort(tiles.ravel())[: max(1, int(PLAINEST * tiles.size))]
    return float(np.mean(chosen))


def plainest(rgb: Rgb) -> NDArray[np.bool_]:
    """Which tiles are the plainest tenth."""
    tiles = _tiles(rgb)
    return np.asarray(tiles <= np.quantile(tiles, PLAINEST), np.bool_)


def _tiles(rgb: Rgb) -> NDArray[np.float64]:
    grey = luma(rgb)
    rows, columns = grey.shape[0] // TILE, grey.shape[1] // TILE
    fine = np.abs(cv2.filter2D(grey, cv2.CV_32F, _MASK))[: rows * TILE, : columns * TILE]
    mean = fine.reshape(rows, TILE, columns, TILE).mean(axis=(1, 3))
    return np.asarray(np.sqrt(np.pi / 2) * mean / 6, np.float64)
