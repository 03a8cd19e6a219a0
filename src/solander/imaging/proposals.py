"""Where prints may lie: outlines proposed from the reduced copy, many and rough; `locate` tells which hold.

Convention (see `conventions`): corners in pixels of the reduced copy, clockwise.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import chain

import cv2
import numpy as np
from cv2.typing import MatLike
from numpy.typing import NDArray

from solander.imaging.conventions import Quad, area, clockwise_from_top_left, iou, is_convex
from solander.imaging.stage import Reduced, StageModel

__all__ = ["propose"]

Mask = NDArray[np.uint8]

DISTANCES = (3.0, 4.5, 7.0, 12.0, 22.0)
"""Spreads from the stage at which a place may be print: from white paper on a white lid to anything on felt."""

SMALLEST = 0.0018
"""Smallest print looked for, as a share of the frame."""

FILLED = 0.72
"""Least share of an outline that its component fills, after holes are closed."""


def propose(reduced: Reduced, stage: StageModel, *, masks: Sequence[Mask] = ()) -> list[Quad]:
    """Rough outlines, no two alike, in no order that matters.

    `masks` (uint8, 0 or 1, of the reduced copy's shape) tell where somebody else thinks that paper lies; theirs
    come first.
    """
    kept: list[Quad] = []
    for quad in (*chain.from_iterable(_quads(mask) for mask in masks), *_all(reduced, stage)):
        if not any(_alike(quad, other) for other in kept):
            kept.append(quad)
    return kept


ALIKE = 0.93
"""Overlap from which two rough outlines are one."""


def _alike(one: Quad, other: Quad) -> bool:
    """Whether two outlines are nearly the same; most are told apart by their areas alone, which costs little."""
    smaller, larger = sorted((area(one), area(other)))
    return smaller > ALIKE * larger and iou(one, other) > ALIKE


def _all(reduced: Reduced, stage: StageModel) -> Iterator[Quad]:
    for mask in _masks(reduced, stage):
        yield from _quads(mask)


def _masks(reduced: Reduced, stage: StageModel) -> Iterator[Mask]:
    long_side = max(reduced.rgb.shape[:2])
    small = _disc(0.006 * long_side)
    for level in DISTANCES:
        mask = (stage.distance > level).astype(np.uint8)
        opened = cv2.morphologyEx(mask, cv2.MORPH_OPEN, _disc(0.004 * long_side))
        yield _closed(opened, small)
        if level in DISTANCES[:3]:
            yield _closed_widely(opened, 0.03 * long_side)
    if stage.explained < CLUTTERED:
        yield from _lightness_masks(reduced, small)


CLUTTERED = 0.8
"""Share of the margin explained as stage below which plain lightness is tried as well."""


def _lightness_masks(reduced: Reduced, disc: Mask) -> Iterator[Mask]:
    light = cv2.GaussianBlur(np.ascontiguousarray(reduced.lab[..., 0]), (0, 0), 1.0)
    for level in np.quantile(light, (0.5, 0.65, 0.75, 0.85, 0.92, 0.97)):
        mask = (light > level).astype(np.uint8)
        yield _closed(cv2.morphologyEx(mask, cv2.MORPH_OPEN, disc), disc)


def _closed(mask: MatLike, disc: Mask) -> Mask:
    return np.asarray(cv2.morphologyEx(mask, cv2.MORPH_CLOSE, disc), np.uint8)


def _closed_widely(mask: MatLike, radius: float) -> Mask:
    """Closed by a large disc at half the size: a sixteenth of the work, and what it fills is rough anyhow."""
    filled = _closed(mask[::2, ::2], _disc(radius / 2)).repeat(2, axis=0).repeat(2, axis=1)
    return np.asarray(cv2.bitwise_or(mask, filled[: mask.shape[0], : mask.shape[1]]), np.uint8)


def _disc(radius: float) -> Mask:
    size = 2 * max(1, round(radius)) + 1
    return np.asarray(cv2.getStructuringElement(cv2.MORPH_ELLIPSE, (size, size)), np.uint8)


def _quads(mask: Mask) -> Iterator[Quad]:
    contours, _ = cv2.findContours(mask, cv2.RETR_EXTERNAL, cv2.CHAIN_APPROX_SIMPLE)
    smallest = SMALLEST * mask.size
    for contour in contours:
        if cv2.contourArea(contour) >= smallest:
            quad = _quad_around(contour, mask.shape)
            if quad is not None:
                yield quad


def _quad_around(contour: MatLike, shape: tuple[int, ...]) -> Quad | None:
    """The four-sided hull of a component, or None when it isn't the shape of a print."""
    hull = cv2.convexHull(contour)
    if len(hull) < 4:
        return None
    quad = np.asarray(cv2.approxPolyN(hull.astype(np.float32), 4), np.float64).reshape(-1, 2)
    if quad.shape != (4, 2) or not is_convex(quad):
        return None
    quad = clockwise_from_top_left(quad)
    filled = cv2.contourArea(contour) / max(area(quad), 1.0)
    return quad if filled >= FILLED and _print_shaped(quad) and not _at_frame(quad, shape) else None


def _print_shaped(quad: Quad) -> bool:
    """Corners between 55 and 125 degrees, and no side shorter than an eighth of the longest."""
    ahead = np.roll(quad, -1, axis=0) - quad
    length = np.linalg.norm(ahead, axis=1)
    unit = ahead / np.maximum(length, 1e-9)[:, None]
    cosine = np.abs(np.einsum("ij,ij->i", unit, np.roll(unit, 1, axis=0)))
    return bool(cosine.max() < 0.57 and length.min() > 0.125 * length.max())


def _at_frame(quad: Quad, shape: tuple[int, ...]) -> bool:
    """Whether a side lies on the frame's edge: the print is cut off, or this is no print."""
    high = np.array([shape[1], shape[0]]) - 2.5
    low = np.full(2, 1.5)
    beyond = np.concatenate([quad <= low, quad >= high], axis=1)
    return bool((beyond & np.roll(beyond, -1, axis=0)).any())
