"""What can be measured of a view: how sharp it is, how much of it is lost in black or white.

Convention (see `conventions`): pictures uint8 sRGB, encoded; all figures are of the encoded luma. A rise is the
distance in pixels over which an edge goes from 10 to 90 % of its step; a Gaussian blur of σ gives 2.563 σ
(the 10 and 90 % points of the normal distribution lie at ±1.2816 σ).
"""

from __future__ import annotations

import cv2
import numpy as np
from attrs import frozen
from numpy.typing import ArrayLike, NDArray

from solander.imaging.conventions import Grey, Rgb, as_quad, luma, require_rgb
from solander.imaging.edges import cut_strip

__all__ = ["EDGE_RISE_LIMIT", "FAULTS", "Measured", "edge_rise", "faults", "measure_view"]

Floats = NDArray[np.float64]

REACH = 14
"""Pixels looked at on either side of an edge: rises up to about 20 pixels can be told."""

FINE = 4
"""Samples a pixel across an edge."""

LEAST_STEP = 20.0
"""Code values an edge must step by to be measured: five times the noise of a telephone's picture."""

FEWEST = 6
"""Edges below which a picture counts as having none."""

SHARPEST = 0.2
"""Quantile told: sharp enough to stand for what the lens could do, far enough from the single luckiest edge."""

EDGE_RISE_LIMIT = 7.0

FAULTS = ("not sharp",)
"""Everything `faults` may say."""


@frozen
class Measured:
    """`sharpness`: 10–90 % rise in pixels of the view's sharpest edges, NaN where it has too few edges to tell;
    `clipped_dark`, `clipped_light`: share of pixels (0–1) whose luma is at an end of the scale (≤ 2, ≥ 253)."""

    sharpness: float
    clipped_dark: float
    clipped_light: float


def measure_view(rgb: Rgb) -> Measured:
    """Sharpness and clipping of a straightened picture.

    Sharpness is the 20 % quantile of the rises of the strongest edge of each tile. A soft old photograph has a
    large one through no fault of the capture; `edge_rise` tells those apart.
    """
    grey = luma(require_rgb(rgb))
    rises = _rises(_edge_profiles(grey))
    sharpness = float(np.quantile(rises, SHARPEST)) if len(rises) >= FEWEST else float("nan")
    return Measured(sharpness, float((grey <= 2).mean()), float((grey >= 253).mean()))


def edge_rise(capture: Rgb, corners: ArrayLike) -> float:
    """10–90 % rise in pixels of the paper's own edge in the capture; NaN where it can't be measured.

    The paper's edge is as sharp as the capture, whatever the photograph on it. Opposite sides are taken together
    and the sharper of the two counts; of the two directions the softer one, so that a shake along one of them is
    seen. `corners` as found, in pixels of `capture`.
    """
    quad = as_quad(corners)
    rises = [_side_rise(capture, quad[i], quad[(i + 1) % 4]) for i in range(4)]
    directions = [np.fmin(rises[0], rises[2]), np.fmin(rises[1], rises[3])]
    return float(np.fmax(*directions))


def faults(measured: Measured, edge_rise: float | None = None) -> tuple[str, ...]:
    """What a person should hear about the capture, of `FAULTS`; empty when nothing is wrong.

    `edge_rise` of the capture decides where it could be measured; the view's own sharpness only where not.
    """
    rise = measured.sharpness if edge_rise is None or np.isnan(edge_rise) else edge_rise
    return ("not sharp",) if rise > EDGE_RISE_LIMIT else ()


def _side_rise(capture: Rgb, start: Floats, end: Floats) -> float:
    """Median rise along one side, of blocks short enough that a bowed side stays in place."""
    length = float(np.linalg.norm(end - start))
    rows = int(np.clip(length / 12, 8, 64))
    strip = cut_strip(capture, (start, end), inward=REACH, outward_px=REACH, rows=rows, ends=0.08, density=1.0)
    grey = strip.pixels @ np.array([0.299, 0.587, 0.114], np.float32)
    fine = cv2.resize(grey, (FINE * grey.shape[1], rows), interpolation=cv2.INTER_CUBIC)
    rises = _rises(fine.astype(np.float64))
    return float(np.median(rises)) if len(rises) >= rows / 4 else float("nan")


def _edge_profiles(grey: Grey) -> Floats:
    """Luma across the strongest edge of each tile, (n, samples), `FINE` samples a pixel along the gradient."""
    smooth = cv2.GaussianBlur(grey, (0, 0), 1.0)
    dx, dy = cv2.Sobel(smooth, cv2.CV_32F, 1, 0, scale=1 / 8), cv2.Sobel(smooth, cv2.CV_32F, 0, 1, scale=1 / 8)
    places = _strongest(np.hypot(dx, dy))
    if not len(places):
        return np.empty((0, 2 * REACH * FINE + 1))
    row, column = places.T
    across = np.stack([dx[row, column], dy[row, column]], axis=1)
    across /= np.linalg.norm(across, axis=1, keepdims=True)
    steps = np.arange(-REACH * FINE, REACH * FINE + 1, dtype=np.float32) / FINE
    beside = np.arange(-2, 3, dtype=np.float32)  # five neighbours along the edge are averaged against noise
    x = column[:, None, None] + across[:, 0, None, None] * steps - across[:, 1, None, None] * beside[:, None]
    y = row[:, None, None] + across[:, 1, None, None] * steps + across[:, 0, None, None] * beside[:, None]
    flat = (-1, len(steps))
    sampled = cv2.remap(
        grey, x.reshape(flat).astype(np.float32), y.reshape(flat).astype(np.float32), cv2.INTER_LINEAR
    )
    return np.asarray(sampled.reshape(x.shape).mean(axis=1), np.float64)


def _strongest(slope: Grey) -> NDArray[np.intp]:
    """(row, column) of the steepest place of each of about 400 tiles, where it is steep enough to be an edge."""
    border = REACH + 1
    inner = slope[border:-border, border:-border]
    if min(inner.shape, default=0) < 8:
        return np.empty((0, 2), np.intp)
    tile = max(8, round(float(np.sqrt(inner.size / 400))))
    high, wide = inner.shape[0] // tile, inner.shape[1] // tile
    tiles = inner[: high * tile, : wide * tile].reshape(high, tile, wide, tile).swapaxes(1, 2).reshape(-1, tile**2)
    best = tiles.argmax(axis=1)
    number = np.arange(high * wide)
    row, column = number // wide * tile + best // tile, number % wide * tile + best % tile
    steep = tiles.max(axis=1) > max(1.5, 0.25 * float(np.quantile(tiles.max(axis=1), 0.95)))
    return np.stack([row[steep], column[steep]], axis=1) + border


def _rises(profiles: Floats) -> Floats:
    """10–90 % rises in pixels of profiles (n, samples) through an edge in their middle; unfit ones left out."""
    measured = [rise for profile in profiles if (rise := _rise(profile)) is not None]
    return np.array(measured, np.float64)


def _rise(profile: Floats) -> float | None:
    """The rise of the steepest edge within a few pixels of the middle; None for a step too low or cut off."""
    slope = np.diff(profile)
    middle, near = len(slope) // 2, 4 * FINE
    peak = middle - near + int(np.abs(slope[middle - near : middle + near + 1]).argmax())
    run = slope * np.sign(slope[peak])
    flat = run < 0.02 * run[peak]
    before, after = np.flatnonzero(flat[:peak]), np.flatnonzero(flat[peak:])
    if not len(before) or not len(after):
        return None
    low, high = before[-1] + 1, peak + after[0]
    climbed = np.concatenate([[0.0], np.cumsum(run[low:high])])
    if climbed[-1] < LEAST_STEP:
        return None
    share = climbed / climbed[-1]
    return (
        float(np.interp(0.9, share, np.arange(len(share))) - np.interp(0.1, share, np.arange(len(share)))) / FINE
    )
