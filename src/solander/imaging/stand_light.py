"""A view in the stand's true light and colour: flat field and colour profile, in one pass.

Convention (see `conventions`): pictures are encoded sRGB uint8; the work is in linear light. The light at a place
is divided out first, then the root-polynomial of degree 2 (`colour.roots`) brings the camera's colours to sRGB.
Clipped to what sRGB holds.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import cache

import cv2
import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from solander.imaging.conventions import Rgb, require_rgb
from solander.imaging.evenness import Flat
from solander.imaging.linear_light import decoding, encoded

__all__ = ["StandLight", "corrected"]

Floats = NDArray[np.float64]

ROWS = 12
"""Rows done at once: what they need stays in the processor's memory (docs/measured.md)."""

SHARES = 250
"""A small view is done in at least so many strips, for each is lit alike from its top to its bottom."""

KNOT = 64
"""Pixels between places at which the light is worked out; between them it is straight."""

LEVELS = 65535


@frozen
class StandLight:
    """What is known of a stand's light: the `flat` field, and `colour`, the 18 numbers of the matrix (3, 6), row
    by row, that takes the roots of the camera's light to linear sRGB; either may be missing."""

    flat: Flat | None = None
    colour: tuple[float, ...] | None = None


def corrected(view: Rgb, light: StandLight, frame: tuple[int, int], to_capture: Callable[[Floats], Floats]) -> Rgb:
    """The view as an even light and a true camera would have shown it.

    `to_capture` maps places of the view, (…, 2), from 0 to 1 of its width and height, to places of the capture of
    `frame` (width, height): light is uneven on the stage, not on the view.
    """
    require_rgb(view)
    height, width = view.shape[:2]
    root = np.sqrt(decoding()).astype(np.float32)
    matrix = _matrix(light.colour)
    knots = _knots(light.flat, frame, (width, height), to_capture)
    out = np.empty_like(view)
    rows = min(ROWS, max(1, height // SHARES))
    for top in range(0, height, rows):
        strip = np.asarray(cv2.LUT(view[top : top + rows], root), np.float32)
        if knots is not None:
            strip *= _row_of(knots, top + len(strip) / 2)
        out[top : top + rows] = _mixed(strip, matrix)
    return out


def _matrix(colour: tuple[float, ...] | None) -> NDArray[np.float32]:
    """The matrix, for terms in the order R, G, B, √RG, √GB, √RB, times the levels of the table back."""
    matrix = np.eye(3, 6) if colour is None else np.reshape(colour, (3, 6))
    return np.asarray(matrix * LEVELS, np.float32)


def _mixed(strip: NDArray[np.float32], matrix: NDArray[np.float32]) -> Rgb:
    """From square roots of linear light to code values."""
    rows, columns = strip.shape[:2]
    red, green, blue = (one.ravel() for one in cv2.split(strip))
    terms = np.empty((6, red.size), np.float32)
    for row, (one, other) in enumerate(
        ((red, red), (green, green), (blue, blue), (red, green), (green, blue), (red, blue))
    ):
        np.multiply(one, other, out=terms[row])
    mixed = matrix @ terms
    np.clip(mixed, 0, LEVELS, out=mixed)
    levels = cv2.merge([one.reshape(rows, columns) for one in mixed.astype(np.uint16)])
    return np.asarray(cv2.LUT(levels, _codes()), np.uint8)


@cache
def _codes() -> Rgb:
    """Code value of each level of linear light."""
    return np.rint(encoded(np.arange(LEVELS + 1) / LEVELS)).astype(np.uint8).reshape(1, -1)


def _knots(
    flat: Flat | None, frame: tuple[int, int], size: tuple[int, int], to_capture: Callable[[Floats], Floats]
) -> NDArray[np.float32] | None:
    """Square root of the gain, at every column of every 64th row, (knots, width, 3)."""
    if flat is None:
        return None
    x, y = (np.arange(0.0, side + KNOT, KNOT) for side in size)
    places = (np.stack(np.meshgrid(x, y), axis=-1) + 0.5) / np.array(size)
    gain = np.sqrt(1 / flat.light_at(to_capture(places), frame))
    at = np.arange(size[0]) / KNOT
    left = at.astype(int)
    share = (at - left)[None, :, None]
    return np.asarray(gain[:, left] * (1 - share) + gain[:, left + 1] * share, np.float32)


def _row_of(knots: NDArray[np.float32], row: float) -> NDArray[np.float32]:
    """The gain of a whole strip, that of its middle: in half a strip light changes by less than a code value."""
    above = int(row // KNOT)
    share = np.float32(row / KNOT - above)
    return np.asarray(knots[above] + share * (knots[above + 1] - knots[above]), np.float32)
