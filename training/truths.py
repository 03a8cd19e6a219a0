"""What is true of a scene, place by place, as the network shall tell it.

Layers, float32: `print` (how much is a print's paper), `edge` (a thin band over every outline), `core` (a print
less its rim), `seam` (the edge that two prints share), `across` and `down` (from a place to the middle of its
print, in halves of the frame's long side), `unsure` (either answer may stand: sheets cut off by the frame, boxes).
"""

from __future__ import annotations

import cv2
import numpy as np
from numpy.typing import NDArray
from textures import Floats

LAYERS = ("print", "edge", "core", "seam", "across", "down", "unsure")
PRINT, EDGE, CORE, SEAM, ACROSS, DOWN, UNSURE = range(len(LAYERS))

BAND = 3
"""Pixels across an outline that are edge."""

MEET = 5
"""Pixels between two outlines within which they are one seam."""

RIM = 0.2
"""Share of a print's depth that is no core."""

Box = tuple[slice, slice]


class Truths:
    """The truths of one scene of `size` (width, height), written down sheet by sheet, from the lowest on."""

    def __init__(self, size: tuple[int, int]) -> None:
        self.size = size
        self.layers = np.zeros((size[1], size[0], len(LAYERS)), np.float32)

    def lay(self, alpha: Floats, box: Box, *, cut_off: bool = False) -> list[NDArray[np.int32]]:
        """Add one sheet, given by how much of each place of the box it covers; it hides those below. Its contours,
        within the box."""
        told = self.layers[box]
        solid = (alpha > 0.5).astype(np.uint8)
        found, _ = cv2.findContours(solid, cv2.RETR_EXTERNAL, cv2.CHAIN_APPROX_NONE)
        contours = [np.asarray(c, np.int32) for c in found]
        band = np.zeros(alpha.shape, np.float32)
        cv2.drawContours(band, contours, -1, 1.0, BAND - 1)
        others = cv2.dilate((told[..., PRINT] > 0.5).astype(np.float32), np.ones((MEET, MEET), np.uint8))
        padded = cv2.copyMakeBorder(solid, 1, 1, 1, 1, cv2.BORDER_CONSTANT, value=0)
        depth = cv2.distanceTransform(padded, cv2.DIST_L2, 3)[1:-1, 1:-1]
        core = (depth > max(5.0, RIM * depth.max())).astype(np.float32)
        told[..., PRINT] = np.maximum(told[..., PRINT], alpha)
        told[..., EDGE] = np.maximum(told[..., EDGE] * (1 - alpha), band)
        told[..., CORE] = told[..., CORE] * (1 - np.maximum(alpha, band)) + core * alpha
        told[..., SEAM] = np.maximum(told[..., SEAM] * (1 - alpha), band * others)
        told[..., UNSURE] *= 1 - alpha
        self._point(told, solid, box)
        if cut_off:
            told[..., UNSURE] = np.maximum(told[..., UNSURE], np.maximum(alpha, band))
        return contours

    def _point(self, told: Floats, solid: NDArray[np.uint8], box: Box) -> None:
        """Let each place of a sheet point to the sheet's middle."""
        rows, columns = np.nonzero(solid)
        if not len(rows):
            return
        half = max(self.size) / 2
        told[rows, columns, ACROSS] = (columns.mean() - columns) / half
        told[rows, columns, DOWN] = (rows.mean() - rows) / half

    def as_bytes(self) -> NDArray[np.uint8]:
        """All layers in bytes: shares as 0–255, the two that point as 1–255, 128 for nowhere."""
        shares = 255 * np.clip(self.layers, 0, 1)
        shares[..., ACROSS : DOWN + 1] = 128 + 127 * np.clip(self.layers[..., ACROSS : DOWN + 1], -1, 1)
        return np.rint(shares).astype(np.uint8)
