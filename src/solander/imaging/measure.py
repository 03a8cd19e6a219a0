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

from solander.imaging.conventions import Grey, Rgb, as_quad, require_rgb
from solander.imaging.edges import cut_strip
from solander.imaging.encode import halved

__all__ = [
    "EDGE_RISE_LIMIT",
    "FAULTS",
    "NOT_SHARP",
    "UNDER_A_HAND",
    "Measured",
    "edge_rise",
    "faults",
    "measure_view",
]

Floats = NDArray[np.float64]

REACH = 14
"""Pixels looked at on either side of an edge, which tells rises up to about 14; beyond, half the size is tried."""

HALVINGS = 2
"""How often the size is halved before a picture counts as without edges: rises up to about 50 pixels."""

BEYOND = 10.0
"""A rise told by a halved picture is believed from here on: a smaller one would have been told at full size, had
the edge the contrast for it."""

FINE = 4
"""Samples a pixel across an edge."""

BORDER = REACH // 2 + 1
"""Pixels at half the size that edges keep from the rim, so that what is looked at lies inside."""

LEAST_STEP = 20.0
"""Code values an edge must step by to be measured: five times the noise of a telephone's picture."""

FEWEST = 6
"""Edges below which a picture counts as having none."""

SHARPEST = 0.2
"""Quantile told: sharp enough to stand for what the lens could do, far enough from the single luckiest edge."""

EDGE_RISE_LIMIT = 6.0
"""Rise of the paper's edge, in pixels of the capture, from which the capture is not sharp. Of simulated captures
(grey, wood, white on white, borderless; 1600–4000 px wide) the sharp ones had 3.8 at most in 95 of 100, those
blurred by σ = 3 pixels 6.6 at least; real telephone pictures (shared/data/quads) 1.8 where sharp."""

VIEW_RISE_LIMIT = 9.0
"""The same for a view whose paper edge can't be measured: wider, for the photograph itself may be soft."""

_NO_EDGES = np.empty((0, 2), np.float32), np.empty((0, 2), np.float32)

NOT_SHARP, UNDER_A_HAND = "not sharp", "partly under a hand"

FAULTS = (NOT_SHARP, UNDER_A_HAND)
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
    grey = _grey(require_rgb(rgb))
    dark, light = int(np.count_nonzero(grey <= 2)), int(np.count_nonzero(grey >= 253))
    return Measured(_sharpness(grey), dark / grey.size, light / grey.size)


def edge_rise(capture: Rgb, corners: ArrayLike) -> float:
    """10–90 % rise in pixels of the paper's own edge in the capture; NaN where it can't be measured.

    The paper's edge is as sharp as the capture, whatever the photograph on it. Opposite sides are taken together
    and the sharper of the two counts; of the two directions the softer one, so that a shake along one of them is
    seen. `corners` as found, in pixels of `capture`.
    """
    picture, quad = require_rgb(capture), as_quad(corners)
    directions = _direction_rises(picture, quad)
    for times in range(1, HALVINGS + 1):
        if not np.isnan(directions).any() or min(picture.shape[:2]) < 4 * REACH:
            break
        picture, quad = halved(picture), (quad + 0.5) / 2 - 0.5
        wider = _direction_rises(picture, quad) * 2**times
        directions = np.fmax(directions, np.where(wider >= BEYOND, wider, np.nan))
    return float(np.fmax(*directions))


def faults(measured: Measured, edge_rise: float | None = None, *, hand: bool = False) -> tuple[str, ...]:
    """What a person should hear about the capture, of `FAULTS`; empty when nothing is wrong.

    `edge_rise` of the capture decides where it could be measured; the view's own sharpness only where not.
    `hand` tells that a hand reaches over the print's edge.
    """
    if edge_rise is None or np.isnan(edge_rise):
        soft = measured.sharpness > VIEW_RISE_LIMIT
    else:
        soft = edge_rise > EDGE_RISE_LIMIT
    return tuple(fault for fault, seen in ((NOT_SHARP, soft), (UNDER_A_HAND, hand)) if seen)


def _direction_rises(picture: Rgb, quad: Floats) -> Floats:
    """Rise of the sharper of the two sides along each direction, (2,), NaN where neither can be measured."""
    sides = np.array([_side_rise(picture, quad[i], quad[(i + 1) % 4]) for i in range(4)])
    return np.asarray(np.fmin(sides[:2], sides[2:]), np.float64)


def _sharpness(grey: NDArray[np.uint8]) -> float:
    for times in range(HALVINGS + 1):
        rises = _rises(_edge_profiles(grey))
        if len(rises) >= FEWEST:
            return float(np.quantile(rises, SHARPEST) * 2**times)
        if min(grey.shape) < 4 * REACH:
            break
        grey = halved(grey)
    return float("nan")


def _side_rise(capture: Rgb, start: Floats, end: Floats) -> float:
    """Median rise along one side, of places `BESIDE` pixels long: a deckled edge hardly moves within one."""
    rows = max(8, round(float(np.linalg.norm(end - start)) / BESIDE))
    strip = cut_strip(capture, (start, end), inward=REACH, outward_px=REACH, rows=rows, ends=0.08, density=1.0)
    chosen = strip.pixels[:: max(1, rows // MOST_PLACES)]
    grey = chosen @ np.array([0.299, 0.587, 0.114], np.float32)
    fine = cv2.resize(grey, (FINE * grey.shape[1], len(grey)), interpolation=cv2.INTER_CUBIC)
    rises = _rises(fine.astype(np.float64))
    return float(np.median(rises)) if len(rises) >= len(grey) / 4 else float("nan")


BESIDE = 4
"""Pixels along the edge that are averaged: with 12 a deckled edge of the made-up box smeared to a rise of 6.2,
with 4 it shows 3.0."""

MOST_PLACES = 64


def _grey(rgb: Rgb) -> NDArray[np.uint8]:
    return np.asarray(cv2.cvtColor(rgb, cv2.COLOR_RGB2GRAY), np.uint8)


def _edge_profiles(grey: NDArray[np.uint8]) -> Floats:
    """Luma across the strongest edge of each tile, (n, samples), `FINE` samples a pixel along the gradient.

    Edges are looked for at half the size, a quarter of the work; their profiles come from the full size.
    """
    places, across = _strongest(halved(grey)) if min(grey.shape) >= 4 * REACH else _NO_EDGES
    steps = np.arange(-REACH * FINE, REACH * FINE + 1, dtype=np.float32) / FINE
    # Five neighbours along the edge are averaged against noise.
    beside = np.arange(-2, 3, dtype=np.float32)[:, None]
    x, y = places.T[..., None, None] * 2 + np.float32(0.5)  # the middle of the four pixels
    dx, dy = across.T[..., None, None]
    return np.asarray(_between(grey, x + dx * steps - dy * beside, y + dy * steps + dx * beside).mean(axis=1))


def _between(grey: NDArray[np.uint8], x: Grey, y: Grey) -> Floats:
    """Bilinear values, unrounded, at places inside the picture; a remap would need all of it as floats (3 ms)."""
    column, row = x.astype(np.intp), y.astype(np.intp)
    right, down = x - column, y - row
    above = (1 - right) * grey[row, column] + right * grey[row, column + 1]
    below = (1 - right) * grey[row + 1, column] + right * grey[row + 1, column + 1]
    return np.asarray((1 - down) * above + down * below, np.float64)


def _strongest(half: NDArray[np.uint8]) -> tuple[Grey, Grey]:
    """The steepest place (x, y) of each of about 400 tiles, where it is steep enough, and the direction across it.

    Both (n, 2), for a picture at half its size; slopes are in code values a pixel of the full size. One row of
    tiles at a time stays in the cache: 4 ms less of 16 on 9 megapixels.
    """
    inside = np.array(half.shape) - 2 * BORDER
    tile = max(8, round(float(np.sqrt(inside.prod() / 400))))
    high, wide = inside // tile
    rows = [_steepest(half, BORDER + i * tile, tile=tile, wide=wide) for i in range(high)]
    if not rows or not wide:
        return _NO_EDGES
    places, slopes = (np.concatenate(part) for part in zip(*rows, strict=True))
    steepness = np.linalg.norm(slopes, axis=1)
    fit = steepness > max(1.5, 0.25 * float(np.quantile(steepness, 0.95)))
    return places[fit], slopes[fit] / steepness[fit, None]


def _steepest(half: NDArray[np.uint8], top: int, *, tile: int, wide: int) -> tuple[Grey, Grey]:
    """Place (x, y) and slope (dx, dy) of the steepest pixel of each tile of the row that begins at `top`."""
    band = half[top - 1 : top + tile + 1, BORDER - 1 : BORDER + wide * tile + 1]
    slopes = [cv2.Sobel(band, cv2.CV_32F, *order, scale=1 / 16)[1:-1, 1:-1] for order in ((1, 0), (0, 1))]
    dx, dy = (slope.reshape(tile, wide, tile).swapaxes(0, 1).reshape(wide, -1) for slope in slopes)
    best = (dx * dx + dy * dy).argmax(axis=1)
    number = np.arange(wide)
    place = np.stack([BORDER + number * tile + best % tile, top + best // tile], axis=1)
    return place.astype(np.float32), np.stack([dx[number, best], dy[number, best]], axis=1)


def _rises(profiles: Floats) -> Floats:
    """10–90 % rises in pixels of the steepest edge within a few pixels of each profile's middle, (n, samples).

    Profiles whose step is too low, or is cut off by an end, are left out.
    """
    slope = np.diff(profiles, axis=1)
    middle, near = slope.shape[1] // 2, 4 * FINE
    peak = middle - near + np.abs(slope[:, middle - near : middle + near + 1]).argmax(axis=1)[:, None]
    top = np.take_along_axis(slope, peak, axis=1)
    run = slope * np.sign(top)
    number = np.arange(run.shape[1])
    flat = run < 0.02 * np.abs(top)
    low = np.where(flat & (number < peak), number, -1).max(axis=1, keepdims=True)
    high = np.where(flat & (number >= peak), number, run.shape[1]).min(axis=1, keepdims=True)
    climbed = np.where((number > low) & (number < high), run, 0.0).cumsum(axis=1)
    fit = (low >= 0) & (high < run.shape[1]) & (climbed[:, -1:] >= LEAST_STEP)
    share = climbed[fit[:, 0]] / climbed[fit[:, 0], -1:]
    return (_crossing(share, 0.9) - _crossing(share, 0.1)) / FINE


def _crossing(share: Floats, level: float) -> Floats:
    """Where each climb (n, samples) from 0 to 1 reaches a level, in samples, linear between two."""
    after = (share < level).sum(axis=1)
    row = np.arange(len(share))
    there = share[row, after]
    before = np.where(after > 0, share[row, after - 1], 0.0)
    return np.asarray(after - (there - level) / (there - before), np.float64)
