"""The rim of a camera's frame, where the stage shows whatever lies in its middle: its light, and what reaches in.

Convention (see `conventions`): a glance as in `change`; a rim is its outermost pixels, (n, 3) float32, encoded
0–255, clockwise from the top left, averaged across.

Method. A print that is to be taken lies within the frame, so the rim shows the stage, and every hand and arm comes
in over it. The rim now is compared with that of the empty stage: light that changes multiplies it by a plane
(trimmed least squares, in logarithms), a shadow darkens all colours alike and begins softly; what is left reaches
in.
"""

from __future__ import annotations

from collections.abc import Sequence

import cv2
import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from solander.imaging.change import COLOUR_COUNTS, DARK, LUMA, Glance, trimmed_plane
from solander.imaging.conventions import Quad

__all__ = ["EDGES", "Lit", "Rim", "lit", "reaching", "rim_of"]

Rim = NDArray[np.float32]

DEEP = 3
"""Pixels of a glance that are averaged across the rim: 12 of a frame 640 wide, half of a fingertip."""

EDGES = "top edge", "right edge", "bottom edge", "left edge"


@frozen(eq=False)
class Lit:
    """How the light on the rim has changed: its logarithm's level, slope across and slope down, each (3,) for red,
    green and blue, over the frame from −1 to 1; and what is left at each place, (n, 3), a logarithm, too, and as a
    difference in code values."""

    level: NDArray[np.float64]
    across: NDArray[np.float64]
    down: NDArray[np.float64]
    left: NDArray[np.float64]
    codes: NDArray[np.float64]


def rim_of(glance: Glance) -> Rim:
    """The rim, clockwise from the top left."""
    top, bottom = glance[:DEEP].mean(axis=0), glance[-DEEP:].mean(axis=0)
    left, right = glance[DEEP:-DEEP, :DEEP].mean(axis=1), glance[DEEP:-DEEP, -DEEP:].mean(axis=1)
    return np.asarray(np.concatenate([top, right, bottom[::-1], left[::-1]]), np.float32)


def lit(empty: Rim, now: Rim, shape: tuple[int, ...]) -> Lit:
    """How the light has changed from the `empty` stage's rim to that of `now`; `shape` is the glance's."""
    basis = _basis(shape)
    ratio = np.log((now + DARK) / (empty + DARK)).astype(np.float64)
    plane = trimmed_plane(basis, ratio)
    left = ratio - basis @ plane
    return Lit(plane[0], plane[1], plane[2], left, (now + DARK) * (1 - np.exp(-left)))


def reaching(change: Lit, shape: tuple[int, ...], prints: Sequence[Quad] = ()) -> str:
    """The edge, of `EDGES`, over which something reaches into the frame; "" where nothing does. Where `prints` lie
    (corners in pixels of the glance), nothing is told."""
    off = change.left
    noise = max(LEAST_OFF, 5 * float(np.median(np.abs(off).max(axis=1))))
    colour = np.abs(off - off.mean(axis=1, keepdims=True)).max(axis=1) > 0.5 * noise
    steep = np.abs(off - np.roll(off, 2, axis=0)).max(axis=1) > noise
    hard = steep | np.roll(steep, -2)
    codes = np.maximum(np.abs(change.codes @ LUMA[0]), COLOUR_COUNTS * np.abs(change.codes).max(axis=1))
    differs = (np.abs(off).max(axis=1) > noise) & (codes > LEAST_CODES) & ~_under(prints, shape)
    of_side = np.repeat(np.arange(4), [shape[1], shape[0] - 2 * DEEP, shape[1], shape[0] - 2 * DEEP])
    longest, edge = 0, ""
    for first, last in _stretches(differs):
        told = colour[first:last].mean() > 0.5 or hard[first : first + 3].any() or hard[last - 3 : last].any()
        if told and last - first >= NARROWEST and last - first > longest:
            longest, edge = last - first, EDGES[int(of_side[(first + last) // 2])]
    return edge


def _under(prints: Sequence[Quad], shape: tuple[int, ...]) -> NDArray[np.bool_]:
    """The places of the rim at which a print or its shadow lies."""
    there = np.zeros((*shape[:2], 1), np.uint8)
    for corners in prints:
        cv2.fillConvexPoly(there, np.rint(corners * 16).astype(np.int32), (1,), shift=4)
    wide = cv2.dilate(there, np.ones((2 * SHADOW + 1, 2 * SHADOW + 1), np.uint8))
    return np.asarray(rim_of(wide.reshape(*shape[:2], 1).astype(np.float32))[:, 0] > 0, np.bool_)


SHADOW = 3
"""Pixels of a glance to which a print's shadow reaches: 5 mm in a frame 30 cm wide."""

LEAST_OFF = 0.08
"""Logarithm by which a place of the rim differs at least where something reaches in: 8 % in code values."""

LEAST_CODES = 4.0
"""Code values of luma by which it differs, too: on dark wood JPEG alone changes a colour by 20 %."""

NARROWEST = 3
"""Pixels of a glance that what reaches in is wide at least: less than a fingertip in a frame 30 cm wide, 8."""


def _basis(shape: tuple[int, ...]) -> NDArray[np.float64]:
    height, width = shape[:2]
    x, y = np.linspace(-1, 1, width), np.linspace(-1, 1, height)[DEEP:-DEEP]
    across = np.concatenate([x, np.ones_like(y), x[::-1], -np.ones_like(y)])
    down = np.concatenate([-np.ones_like(x), y, np.ones_like(x), y[::-1]])
    return np.stack([np.ones_like(across), across, down], axis=1)


def _stretches(seen: NDArray[np.bool_]) -> list[tuple[int, int]]:
    """First place and the one after the last of each stretch; one that goes on over the top left counts as two."""
    steps = np.diff(np.concatenate([[0], seen, [0]]).astype(np.int8))
    return list(zip(np.flatnonzero(steps > 0).tolist(), np.flatnonzero(steps < 0).tolist(), strict=True))
