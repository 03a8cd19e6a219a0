"""Whether a lamp mirrors in a print, and at which of its edges.

Convention (see `conventions`): frames uint8 sRGB; corners clockwise from the one nearest the frame's top left.

Method. Paper reflects less light than falls on it, so where a stand is exposed for paper nothing clips but a
mirrored lamp: one patch, around which the light falls off. Where paper clips elsewhere, too, the frame is too
bright and nothing can be told.
"""

from __future__ import annotations

import cv2
import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from solander.imaging.conventions import Quad, Rgb

__all__ = ["Mirrored", "glare_at", "mirrored_lamp"]

CLIPPED = 250
"""Code value that all three channels reach in a mirrored lamp."""

NEARLY = 244
"""Code value from which paper is nearly as bright: JPEG and noise leave no white paper below its own by more."""

LEAST = 0.0015
"""Share of the print that a mirrored lamp clips at least: 0.17 cm² of a print of 9 × 13 cm."""

ELSEWHERE = 0.3
"""Share of the patch that may be nearly as bright elsewhere."""

FILLED = 0.4
"""Share of the box around it that a mirrored lamp fills at least; a white border fills hardly any."""

AT_EDGE = 0.3
"""Share of the print, from an edge, within which a patch is at that edge."""

SIDE = 160
"""Pixels a side at which the print is looked at, straightened."""


@frozen
class Mirrored:
    """A mirrored lamp: the `share` of the print (0–1) on which it leaves nothing to see, and where: `at` is an
    edge ("top edge", "right edge", "bottom edge", "left edge") or "middle"."""

    share: float
    at: str


def glare_at(frame: Rgb, corners: Quad) -> str:
    """ "top edge", "right edge", "bottom edge" or "left edge" of the print, "middle", or "" without glare."""
    seen = mirrored_lamp(frame, corners)
    return seen.at if seen else ""


def mirrored_lamp(frame: Rgb, corners: Quad) -> Mirrored | None:
    """The lamp that mirrors in a print; None without one."""
    dimmest = _straightened(frame, corners).min(axis=2)
    clipped = cv2.medianBlur((dimmest >= CLIPPED).astype(np.uint8), 3)
    _, labels, stats, centres = cv2.connectedComponentsWithStats(clipped, connectivity=8)
    if len(stats) < 2:
        return None
    patch = 1 + int(stats[1:, cv2.CC_STAT_AREA].argmax())
    size, box = int(stats[patch, cv2.CC_STAT_AREA]), stats[patch, [cv2.CC_STAT_WIDTH, cv2.CC_STAT_HEIGHT]]
    if size < LEAST * clipped.size or size < FILLED * int(box.prod()):
        return None
    around = 2 * (6 + int(0.35 * np.sqrt(size))) + 1
    near = cv2.dilate((labels == patch).astype(np.uint8), np.ones((around, around), np.uint8)) > 0
    if np.count_nonzero((dimmest >= NEARLY) & ~near) > ELSEWHERE * size:
        return None
    x, y = centres[patch] / SIDE
    away = {"top edge": y, "right edge": 1 - x, "bottom edge": 1 - y, "left edge": x}
    edge = min(away, key=lambda name: away[name])
    return Mirrored(size / clipped.size, edge if away[edge] < AT_EDGE else "middle")


def _straightened(frame: Rgb, corners: Quad) -> NDArray[np.uint8]:
    end = SIDE - 0.5
    to = np.array([[-0.5, -0.5], [end, -0.5], [end, end], [-0.5, end]], np.float32)
    onto = cv2.getPerspectiveTransform(corners.astype(np.float32), to)
    return np.asarray(cv2.warpPerspective(frame, onto, (SIDE, SIDE), flags=cv2.INTER_LINEAR), np.uint8)
