"""Where prints are likely, as a small network sees it: for surfaces that can't be learnt from the margin.

Convention (see `conventions`): corners in pixels of the picture that was given, clockwise.

The network (`training/` beside the source) is run by OpenCV on a copy of 320 pixels and tells for every place how
likely it is print, the edge of one, or its core. What it tells is a proposal, never a find: `search` must bear it
out. Without the file of weights nothing is proposed and all else works.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path
from threading import Lock

import cv2
import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from solander.imaging.conventions import Quad, Rgb, area, clockwise_from_top_left, is_convex
from solander.imaging.edges import meet

__all__ = ["WEIGHTS", "Likely", "outlines", "quad_around", "regions", "segment"]

WEIGHTS = Path(__file__).with_name("weights") / "segmenter.onnx"

LONG_SIDE = 320
"""Pixels at which the network was trained to see a whole capture."""

STEP = 32
"""Both sides must be multiples of this: the network halves them five times."""

LEAST_AREA = 0.003
"""Smallest print proposed, as a share of the frame."""

Shares = NDArray[np.float32]
Labels = NDArray[np.int32]

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


def segment(rgb: Rgb, *, weights: Path = WEIGHTS) -> Likely | None:
    """What the network tells of a picture (height, width, 3); None without weights. 10 to 15 ms on one thread."""
    network = _network(weights)
    if network is None:
        return None
    height, width = rgb.shape[:2]
    size = tuple(_fitting(side * LONG_SIDE / max(height, width)) for side in (width, height))
    small = cv2.resize(rgb, size, interpolation=cv2.INTER_AREA).astype(np.float32) / 255
    with _running:
        network.setInput(np.ascontiguousarray(small.transpose(2, 0, 1)[None]))
        told = np.array(network.forward()[0], np.float32)
    inside, edge, core = 1 / (1 + np.exp(-np.clip(told, -30, 30)))
    return Likely(inside, edge, core, (width / size[0], height / size[1]))


def _fitting(side: float) -> int:
    return max(1, round(side / STEP)) * STEP


@cache
def _network(weights: Path) -> cv2.dnn.Net | None:
    return cv2.dnn.readNetFromONNX(str(weights)) if weights.exists() else None


def outlines(likely: Likely) -> list[Quad]:
    """Rough outlines of the likely prints, in the picture; prints that touch are told apart by their cores."""
    labels, number = regions(likely)
    least = LEAST_AREA * labels.size
    found = []
    for label in range(1, number):
        region = (labels == label).astype(np.uint8)
        if region.sum() >= least:
            quad = quad_around(region)
            if quad is not None:
                found.append(clockwise_from_top_left(likely.to_picture(quad)))
    return found


def regions(likely: Likely) -> tuple[Labels, int]:
    """What is likely print, each place numbered by the core that it belongs to, 0 elsewhere; and how many numbers.

    Cores grow over what is print and meet where the edge is likeliest (watershed, Meyer 1992).
    """
    number, cores = cv2.connectedComponents((likely.core > 0.5).astype(np.uint8), connectivity=4)
    inside = likely.inside > 0.5
    markers = np.where(inside | (cores > 0), cores, number).astype(np.int32)
    relief = np.repeat((255 * likely.edge).astype(np.uint8)[..., None], 3, axis=2)
    grown = cv2.watershed(relief, markers)
    labels = np.where((grown > 0) & (grown < number), grown, 0).astype(np.uint16)
    for _ in range(RIM):
        left = inside & (labels == 0)
        labels = np.where(left, cv2.dilate(labels, np.ones((3, 3), np.uint8)), labels)
    return labels.astype(np.int32), number


RIM = 4
"""Pixels of a print's rim that a watershed may leave unnumbered: its own lines, and what it gave to the ground."""


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
