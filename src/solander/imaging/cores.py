"""How many prints lie together and roughly where, by the cores that a small network tells apart.

Convention (see `conventions`): corners in pixels of the picture that the network saw, clockwise. Each region that
grew from a core (`segment`) is given a four-sided outline even where a corner of it was lost to a neighbour; one
that is as large as two of the others is halved, for two cores had run together.
"""

from __future__ import annotations

import cv2
import numpy as np
from numpy.typing import NDArray

from solander.imaging.conventions import Quad, clockwise_from_top_left
from solander.imaging.segment import LEAST_AREA, Likely, quad_around, regions

__all__ = ["cores_apart"]

Mask = NDArray[np.uint8]

TONGUE = 11
"""Pixels of the network's size across a tongue that a region may reach between its neighbours."""

SLIVER = 0.075
"""Short side, as a share of the frame's long side, below which a region is what is left between prints."""

TWO = 1.7
"""Size, as a multiple of the middle one of three or more, from which a region is two prints."""


def cores_apart(likely: Likely) -> list[Quad]:
    """Rough outlines, in the picture, of the prints that the network tells."""
    labels, number = regions(likely)
    found = [_outlined((labels == label).astype(np.uint8)) for label in range(1, number)]
    kept = [one for one in found if one is not None]
    usual = float(np.median([size for _, size in kept])) if len(kept) > 2 else np.inf
    rough: list[Quad] = []
    for quad, size in kept:
        rough += _halves(quad) if size > TWO * usual else [quad]
    return [clockwise_from_top_left(likely.to_picture(quad)) for quad in rough]


def _outlined(region: Mask) -> tuple[Quad, float] | None:
    """A region's outline and its size; None for slivers. Of its four sides as they are and the least rectangle
    around it the one that is more like it."""
    opened = np.asarray(cv2.morphologyEx(region, cv2.MORPH_OPEN, np.ones((TONGUE, TONGUE), np.uint8)), np.uint8)
    if opened.sum() < LEAST_AREA * opened.size:
        return None
    contours, _ = cv2.findContours(opened, cv2.RETR_EXTERNAL, cv2.CHAIN_APPROX_NONE)
    box = cv2.minAreaRect(max(contours, key=cv2.contourArea))
    if min(box[1]) < SLIVER * max(region.shape):
        return None
    corners = [clockwise_from_top_left(np.asarray(cv2.boxPoints(box), np.float64))]
    sides = quad_around(region)
    corners += [sides] if sides is not None else []
    return max(corners, key=lambda quad: _likeness(quad, opened)), float(opened.sum())


def _likeness(quad: Quad, region: Mask) -> float:
    drawn = np.zeros_like(region)
    cv2.fillConvexPoly(drawn, np.rint(quad * 16).astype(np.int32), (1,), shift=4)
    return float((drawn & region).sum() / max(1, (drawn | region).sum()))


def _halves(quad: Quad) -> list[Quad]:
    """A rectangle cut across its long sides."""
    sides = np.linalg.norm(np.roll(quad, -1, axis=0) - quad, axis=1)
    a, b, c, d = np.roll(quad, 0 if sides[0] + sides[2] > sides[1] + sides[3] else -1, axis=0)
    return [np.array([a, (a + b) / 2, (c + d) / 2, d]), np.array([(a + b) / 2, b, c, (c + d) / 2])]
