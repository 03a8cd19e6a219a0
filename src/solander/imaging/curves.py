"""Edges in strips as low-order curves, to sub-pixels: all sides of an outline fitted at once.

Convention (see `conventions`): strips as in `edges`. Sides fitted together have strips of one shape and the same
places `along`; arrays of them are (sides, rows, …). Together they cost hardly more than one alone.
"""

from __future__ import annotations

from collections.abc import Sequence

import cv2
import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from solander.imaging.edges import Floats, Pixels, Strip, gradient, length_of

__all__ = ["Curve", "edge_places", "fit_curve", "fit_curves"]


@frozen(eq=False)
class Curve:
    """`across` as a polynomial of `along` (numpy order, highest first), the share of rows that agree with it, and
    their root mean square distance from it in pixels.

    `doubt` is the standard deviation (pixels) of the curve at the side's start and end that the spread leaves;
    `softness` the edge's width in pixels, of a straight ramp of the same steepness.
    """

    coefficients: Floats
    agreement: float
    spread: float
    doubt: tuple[float, float] = (0.0, 0.0)
    softness: float = 0.0

    def at(self, along: Floats | float) -> Floats:
        """Distance across at places along."""
        return np.asarray(np.polyval(self.coefficients, along), np.float64)


ROWS_TOGETHER = 5
"""Rows whose changes are averaged before the strongest is placed; so many rows are then one observation."""


def fit_curve(strip: Strip, expected: Floats, *, order: int, window: float, softness: bool = True) -> Curve | None:
    """The edge in one strip; see `fit_curves`."""
    return fit_curves([strip], [expected], order=order, window=window, softness=softness)[0]


def fit_curves(
    strips: Sequence[Strip], expected: Sequence[Floats], *, order: int, window: float, softness: bool = True
) -> list[Curve | None]:
    """The edge in each strip near an `expected` curve (coefficients of `along`), as a low-order curve; None where
    too few rows show one.

    In each row the strongest change within `window` pixels of the curve so far is placed to sub-pixels (parabola
    through three columns), then a polynomial is fitted with Tukey's weights; the window narrows in three rounds.
    Where nobody asks for the edge's `softness` it stays 0.
    """
    pixels = np.stack([strip.pixels for strip in strips])
    along, first = strips[0].along, strips[0].across[0]
    change = gradient(pixels)
    strength = np.stack([length_of(_averaged_along(of_side)) for of_side in change])
    coefficients = np.array(expected)
    seen = np.ones(len(strips), np.bool_)
    for narrow, degree in ((1.0, coefficients.shape[1] - 1), (0.6, order), (0.4, order)):
        near = coefficients @ _powers(along, coefficients.shape[1] - 1)
        place, height = _peaks(strength, near - first, max(1.6, window * narrow))
        fit = _robust(along, place + first, height, degree=degree)
        coefficients = fit.coefficients
        seen &= fit.seen
    columns = coefficients @ _powers(along, order) - first
    wide = _softness(pixels, change, columns) if softness else np.zeros(len(strips))
    return [_curve(fit, i, float(wide[i])) if seen[i] else None for i in range(len(strips))]


def _averaged_along(change: Pixels) -> Pixels:
    smooth = cv2.blur(change, (1, ROWS_TOGETHER), borderType=cv2.BORDER_REPLICATE)
    return np.asarray(smooth, np.float32).reshape(change.shape)


def _powers(along: Floats, degree: int) -> Floats:
    """Powers of places along, highest first, (degree + 1, places)."""
    return np.ascontiguousarray(np.vander(along, degree + 1).T)


SIDE_PARTS = 20
"""Parts of a side whose widths are looked at one by one."""


def _softness(pixels: Pixels, change: Pixels, columns: Floats) -> Floats:
    """Width of each side's edge: what changes within five pixels to either side of it over the greatest change of
    one pixel, in parts of the side; their median."""
    sides, rows, width = pixels.shape[:3]
    parts = min(SIDE_PARTS, rows)
    rows = rows // parts * parts
    at = np.rint(columns[:, :rows]).astype(int)[..., None]
    side, row = np.arange(sides)[:, None, None], np.arange(rows)[:, None]

    def beside(picture: Pixels, offsets: NDArray[np.int_]) -> Pixels:
        picked = picture[side, row, np.clip(at + offsets, 0, width - 1)]
        of_parts = picked.reshape(sides, parts, -1, *picked.shape[2:])
        return np.asarray(of_parts.mean(axis=2), np.float32)

    step = beside(pixels, np.array([4, 5])).mean(axis=2) - beside(pixels, np.array([-5, -4])).mean(axis=2)
    steepest = length_of(beside(change, np.arange(-2, 3))).max(axis=2)
    return np.asarray(np.median(length_of(step) / np.maximum(steepest, 1e-6), axis=1), np.float64)


def edge_places(strip: Strip, expected: Floats, reach: float) -> tuple[Floats, Floats]:
    """Distance across and height (0 for none) of each row's strongest change within `reach` of the expected."""
    place, height = _peaks(length_of(gradient(strip.pixels)), expected - strip.across[0], reach)
    return place + strip.across[0], height


def _peaks(strength: Pixels, expected: Floats, reach: float) -> tuple[Floats, Floats]:
    """Column (sub-pixel) and height of the strongest change near the expected column of each row; `strength` is
    (…, rows, columns), the others (…, rows)."""
    columns = strength.shape[-1]
    near = np.abs(np.arange(columns, dtype=np.float32) - expected.astype(np.float32)[..., None]) <= reach
    near[..., 0] = near[..., -1] = False
    masked = np.where(near, strength, np.float32(-1))
    top = np.clip(masked.argmax(axis=-1), 1, columns - 2)[..., None]
    left, here, right = (np.take_along_axis(strength, top + step, axis=-1)[..., 0] for step in (-1, 0, 1))
    highest = np.take_along_axis(masked, top, axis=-1)[..., 0]
    top = top[..., 0]
    bend = left - 2 * here + right
    shift = np.where(bend < -1e-6, 0.5 * (left - right) / np.minimum(bend, -1e-6), 0.0)
    is_peak = (here >= left) & (here >= right) & (highest > 0)
    return top + np.clip(shift, -0.5, 0.5), np.where(is_peak, here, 0.0).astype(np.float64)


@frozen(eq=False)
class _Fit:
    """Of each side: the polynomial, whether enough rows bear it out, and what `Curve` tells of it."""

    coefficients: Floats
    seen: NDArray[np.bool_]
    agreement: Floats
    spread: Floats
    doubt: Floats


def _curve(fit: _Fit, side: int, softness: float) -> Curve:
    first, last = fit.doubt[side].tolist()
    agreement, spread = float(fit.agreement[side]), float(fit.spread[side])
    return Curve(fit.coefficients[side], agreement, spread, (first, last), softness)


SETTLED = 0.003
"""Pixels by which a fit may still change to be done."""


def _robust(along: Floats, across: Floats, height: Floats, *, degree: int) -> _Fit:
    """Polynomials by iterated weighted least squares: Tukey's weights times the root of the edge's height. A side
    whose curve has settled keeps its weights, however long others take."""
    used = height > 0
    powers, little = _powers(along, degree), 1e-9 * np.eye(degree + 1)
    trust = np.ones(across.shape)
    settled = np.zeros((len(across), 1), np.bool_)
    coefficients: NDArray[np.floating] = np.zeros((len(across), degree + 1))
    half = used.sum(axis=1, keepdims=True) // 2
    for _ in range(8):
        weighted = powers * (height * trust**2)[:, None]
        before = coefficients
        coefficients = np.linalg.solve(weighted @ powers.T + little, weighted @ across[..., None])[..., 0]
        residual = across - coefficients @ powers
        settled |= np.abs(coefficients - before).max(axis=1, keepdims=True) < SETTLED
        if settled.all():
            break
        away = np.sort(np.where(used, np.abs(residual), np.inf), axis=1)
        scale = np.maximum(0.15, 1.4826 * np.take_along_axis(away, half, axis=1))
        trust = np.where(settled, trust, np.maximum(1 - (residual / (4 * scale)) ** 2, 0))
    agree = used & (trust > 0.3)
    count = agree.sum(axis=1)
    seen = (used.sum(axis=1) >= max(8, 0.25 * len(along))) & (count >= max(8, 0.2 * len(along)))
    spread = np.sqrt((agree * residual**2).sum(axis=1) / np.maximum(count, 1))
    ends = np.vander([-1.0, 1.0], degree + 1)
    left = np.linalg.inv((powers * agree[:, None]) @ powers.T + little)
    doubt = spread[:, None] * np.sqrt(ROWS_TOGETHER * np.einsum("ij,sjk,ik->si", ends, left, ends))
    return _Fit(np.asarray(coefficients, np.float64), seen, count / len(along), spread, doubt)
