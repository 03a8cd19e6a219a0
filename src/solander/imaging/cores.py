"""How many prints lie in a capture and roughly where, by the cores that a small network tells apart.

Convention (see `conventions`): corners in pixels of the picture that the network saw, clockwise. A core is a print
less its rim, and so each stands alone where prints touch; the rim is as wide on all sides, and so a core tells
where its print ends.
"""

from __future__ import annotations

import cv2
import numpy as np
from numpy.typing import NDArray

from solander.imaging.conventions import Quad, clockwise_from_top_left
from solander.imaging.edges import meet, outward
from solander.imaging.segment import LEAST_AREA, Likely, quad_around

__all__ = ["cores_apart"]

Mask = NDArray[np.uint8]

RIM = 0.175
"""Share of a print's depth that is rim as the network tells it (it learnt .2); at least `LEAST_RIM` of the long
side."""

LEAST_RIM = 4 / 640

BRIDGE = 0.006
"""Share of the long side across a bridge by which two cores may hang together."""

FOUR_SIDED = 0.6
"""Overlap (IoU) with four straight sides below which a core is no print's."""

SLIVER = 0.045
"""Short side, as a share of the frame's long side, below which an outline is no print's."""


def cores_apart(likely: Likely) -> list[Quad]:
    """Rough outlines, in the picture, of the prints that the network tells."""
    size = max(likely.core.shape)
    bridge = 2 * round(BRIDGE * size / 2) + 1
    solid = (likely.core > 0.5).astype(np.uint8)
    solid = np.asarray(cv2.morphologyEx(solid, cv2.MORPH_OPEN, np.ones((bridge, bridge), np.uint8)), np.uint8)
    number, labels, stats, _ = cv2.connectedComponentsWithStats(solid, connectivity=4)
    found = []
    for label in range(1, number):
        x, y, w, h = (int(v) for v in stats[label, :4])
        core = (labels[y : y + h, x : x + w] == label).astype(np.uint8)
        quad = _outlined(np.asarray(cv2.copyMakeBorder(core, 1, 1, 1, 1, cv2.BORDER_CONSTANT, value=0)), size)
        if quad is not None:
            found.append(clockwise_from_top_left(likely.to_picture(quad + np.array([x - 1, y - 1]))))
    return found


def _outlined(core: Mask, size: int) -> Quad | None:
    """The outline of the print around a core; None for slivers. Of the core's four sides as they are and the least
    rectangle around it the one that is more like it."""
    contours, _ = cv2.findContours(core, cv2.RETR_EXTERNAL, cv2.CHAIN_APPROX_NONE)
    box = cv2.minAreaRect(max(contours, key=cv2.contourArea))
    corners = [clockwise_from_top_left(np.asarray(cv2.boxPoints(box), np.float64))]
    sides = quad_around(core)
    corners += [sides] if sides is not None else []
    best = max(corners, key=lambda quad: _likeness(quad, core))
    if _likeness(best, core) < FOUR_SIDED:
        return None
    depth = float(cv2.distanceTransform(core, cv2.DIST_L2, 5).max())
    rim = max(LEAST_RIM * size, RIM / (1 - RIM) * depth)
    outline = _widened(best, rim)
    if outline is None or 2 * (depth + rim) < SLIVER * size:
        return None
    x, y = outline.max(axis=0) - outline.min(axis=0)
    return outline if x * y > LEAST_AREA * size * size else None


def _widened(quad: Quad, by: float) -> Quad | None:
    sides = [(quad[i], quad[(i + 1) % 4]) for i in range(4)]
    return meet([(start + by * outward(start, end), end + by * outward(start, end)) for start, end in sides])


def _likeness(quad: Quad, region: Mask) -> float:
    drawn = np.zeros_like(region)
    cv2.fillConvexPoly(drawn, np.rint(quad * 16).astype(np.int32), (1,), shift=4)
    return float((drawn & region).sum() / max(1, (drawn | region).sum()))
