"""Where prints are likely, as a small network sees it: for surfaces that can't be learnt from the margin.

Convention (see `conventions`): corners in pixels of the picture that was given, clockwise.

The network (`training/` beside the source) is run by OpenCV on a copy of 320 pixels, or of 640 where several
prints may lie together, and tells for every place how likely it is print, the edge of one, or its core (what else
it learnt, seams and the way to a print's middle, is left aside). What it tells is a proposal, never a find: the
picture must bear it out. Without the file of weights nothing is proposed and all else works.
"""

from __future__ import annotations

from functools import cache, cached_property
from pathlib import Path
from threading import Lock

import cv2
import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from solander.imaging.conventions import Quad, Rgb, area, clockwise_from_top_left, is_convex
from solander.imaging.edges import meet

__all__ = ["CLOSE_SIDE", "LEAST_AREA", "WEIGHTS", "Asked", "Likely", "quad_around", "segment"]

WEIGHTS = Path(__file__).with_name("weights") / "segmenter.onnx"

LONG_SIDE = 320
"""Pixels of the copy in which the network tells one print from none."""

CLOSE_SIDE = 640
"""Pixels of the copy in which it tells several prints apart."""

STEP = 32
"""Both sides must be multiples of this: the network halves them five times."""

LEAST_AREA = 0.003
"""Smallest print proposed, as a share of the frame."""

Shares = NDArray[np.float32]

_running = Lock()  # a network keeps its intermediate results: one picture at a time


@frozen(eq=False)
class Likely:
    """How likely each place is print, edge of a print, or a print's core: (height, width) float32 from 0 to 1, at
    the network's size; `scale` (x, y) leads to the picture: picture = (place + 0.5) · scale − 0.5."""

    inside: Shares
    edge: Shares
    core: Shares
    scale: tuple[float, float]

    def to_picture(self, quad: Quad) -> Quad:
        """Corners at the network's size as corners in the picture."""
        return np.asarray((quad + 0.5) * self.scale - 0.5, np.float64)


def segment(rgb: Rgb, *, weights: Path = WEIGHTS, long_side: int = LONG_SIDE) -> Likely | None:
    """What the network tells of a picture (height, width, 3), seen at `long_side` pixels; None without weights. On
    one thread it takes 13 ms at 320 pixels and 50 at 640."""
    network = _network(weights)
    if network is None:
        return None
    height, width = rgb.shape[:2]
    size = tuple(_fitting(side * long_side / max(height, width)) for side in (width, height))
    small = cv2.resize(rgb, size, interpolation=cv2.INTER_AREA).astype(np.float32) / 255
    with _running:
        network.setInput(np.ascontiguousarray(small.transpose(2, 0, 1)[None]))
        told = np.array(network.forward()[0], np.float32)
    inside, edge, core = 1 / (1 + np.exp(-np.clip(told[:3], -30, 30)))
    return Likely(inside, edge, core, (width / size[0], height / size[1]))


@frozen(eq=False)
class Asked:
    """What the network tells of a picture at each of its sizes, asked when first needed and never twice: whatever
    is learnt of the stage, the picture stays."""

    rgb: Rgb

    @cached_property
    def likely(self) -> Likely | None:
        """Where prints are likely; None without weights."""
        return segment(self.rgb)

    @cached_property
    def likely_closely(self) -> Likely | None:
        """The same at twice the size; asked only where prints may lie close together."""
        return segment(self.rgb, long_side=CLOSE_SIDE)


def _fitting(side: float) -> int:
    return max(1, round(side / STEP)) * STEP


@cache
def _network(weights: Path) -> cv2.dnn.Net | None:
    return cv2.dnn.readNetFromONNX(str(weights)) if weights.exists() else None


def quad_around(region: NDArray[np.uint8]) -> Quad | None:
    """The four sides of a region, each fitted to the middle of its outline; None when it isn't four-sided."""
    contours, _ = cv2.findContours(region, cv2.RETR_EXTERNAL, cv2.CHAIN_APPROX_NONE)
    contour = max(contours, key=cv2.contourArea)
    hull = cv2.convexHull(contour)
    if len(hull) < 4:
        return None
    rough = np.asarray(cv2.approxPolyN(hull.astype(np.float32), 4), np.float64).reshape(-1, 2)
    if rough.shape != (4, 2) or not is_convex(rough):
        return None
    rough = clockwise_from_top_left(rough)
    if cv2.contourArea(contour) < FILLED * area(rough):
        return None
    points = contour.reshape(-1, 2).astype(np.float64)
    return meet([_fitted(points, rough[i], rough[(i + 1) % 4]) for i in range(4)])


FILLED = 0.75
"""Least share of an outline that its region fills."""


def _fitted(points: Quad, start: Quad, end: Quad) -> tuple[Quad, Quad]:
    """The line through an outline's points along a side, half a pixel further out: they are centres of pixels that
    are still inside. The side as it was where too few are near."""
    along = (end - start) / max(float(np.linalg.norm(end - start)), 1e-9)
    out = np.array([along[1], -along[0]])
    place = (points - start) @ along / max(float(np.linalg.norm(end - start)), 1e-9)
    near = (np.abs((points - start) @ out) < REACH) & (place > 0.12) & (place < 0.88)
    if near.sum() < 5:
        return start + out / 2, end + out / 2
    dx, dy, x, y = cv2.fitLine(points[near].astype(np.float32), cv2.DIST_HUBER, 0, 0.01, 0.01).ravel()
    middle, step = np.array([x, y]), np.array([dx, dy])
    ends = [middle + step * ((end_ - middle) @ step) + out / 2 for end_ in (start, end)]
    return ends[0], ends[1]


REACH = 4.0
"""Pixels of the network's size from a rough side within which its outline is looked for."""
