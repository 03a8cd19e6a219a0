"""How evenly the stage is lit, from a blank sheet or the empty stage, and the flat field that evens it out.

Convention (see `conventions`): light is linear; places of a flat field are counted from the frame's middle in half
long sides of the frame, x right, y down, so that a field holds for every size of its pictures.
"""

from __future__ import annotations

import cv2
import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from solander.imaging.conventions import Rgb, require_rgb
from solander.imaging.linear_light import linear

__all__ = ["MOST_GAIN", "Blank", "Flat", "flat_of", "read_blank"]

Floats = NDArray[np.float64]

CELLS = 48
"""Cells along the frame's longer side."""

DEGREE = 4
"""Of the surface fitted to the light: enough for a lens's fall-off (cos⁴) and for lamps at the sides."""

TEXTURE = 0.10
"""Spread of light inside a cell, as a share of its mean, above which a cell is not blank."""

STEP = 0.12
"""Difference between neighbouring cells, as a share, above which something begins or ends there."""

LEAST = 0.5
"""Share of the frame that must be blank for a picture to count as one of a blank sheet."""

MOST_GAIN = 2.0
"""A place that got less than half of the light is evened out to a half only: noise grows with the gain."""

LOWEST, HIGHEST = 0.03, 0.955
"""Light between which a cell is believed: darker is no sheet, lighter is near the end of the scale (code 250)."""

_POWERS = tuple((i, total - i) for total in range(DEGREE + 1) for i in range(total, -1, -1))


@frozen(eq=False)
class Blank:
    """What a picture of a blank sheet shows: `cells` (rows, columns, 3) of mean linear light, NaN where there is
    none of it; `share` of the frame that it fills; `frame` (width, height)."""

    cells: Floats
    share: float
    frame: tuple[int, int]

    @property
    def luminance(self) -> Floats:
        """Y of each cell, NaN where there is none."""
        return np.asarray(self.cells @ np.array([0.2126, 0.7152, 0.0722]), np.float64)

    @property
    def unevenness(self) -> float:
        """100 (Ymax − Ymin) / Ymax over the cells, smoothed by 3 × 3, in %: of the brightest cell."""
        smooth = _smoothed(self.luminance)
        return float(100 * (1 - np.nanmin(smooth) / np.nanmax(smooth)))

    @property
    def darkest(self) -> tuple[float, float]:
        """Where the least light falls, from the middle in half sides of the frame, (x, y), each −1 to 1."""
        smooth = _smoothed(self.luminance)
        row, column = np.unravel_index(np.nanargmin(smooth), smooth.shape)
        rows, columns = smooth.shape
        return float((2 * column + 1) / columns - 1), float((2 * row + 1) / rows - 1)


@frozen
class Flat:
    """A smooth surface of light for each channel: 15 coefficients of x^i y^j, i + j ≤ 4, the lower orders first,
    relative to the brightest place; `box` (left, top, right, bottom) is where it was seen, and what lies outside
    counts as its rim."""

    red: tuple[float, ...]
    green: tuple[float, ...]
    blue: tuple[float, ...]
    box: tuple[float, float, float, float]

    def light_at(self, captured: Floats, frame: tuple[int, int]) -> Floats:
        """Share of light, (…, 3), at places (…, 2) of a capture, never below 1 / `MOST_GAIN`, never above 1."""
        places = (captured - (np.array(frame) - 1) / 2) / (max(frame) / 2)
        places = np.clip(places, self.box[:2], self.box[2:])
        terms = _terms(places)
        surface = terms @ np.array([self.red, self.green, self.blue]).T
        return np.asarray(np.clip(surface, 1 / MOST_GAIN, 1.0), np.float64)

    def turned(self, quarters: int) -> Flat:
        """The same field for the same capture turned clockwise by `quarters` quarter turns."""
        flat = self
        for _ in range(quarters % 4):
            left, top, right, bottom = flat.box
            red, green, blue = (_turned(one) for one in (flat.red, flat.green, flat.blue))
            flat = Flat(red, green, blue, (-bottom, left, -top, right))
        return flat


def read_blank(rgb: Rgb) -> Blank | None:
    """The blank sheet or plain empty stage that fills most of a picture; None where there is none.

    Cells of the frame with little texture, that join without a step: the largest such region counts, its rim
    left out.
    """
    height, width = require_rgb(rgb).shape[:2]
    columns = max(4, round(CELLS * width / max(width, height)))
    rows = max(4, round(CELLS * height / max(width, height)))
    small = cv2.resize(rgb, (columns * 8, rows * 8), interpolation=cv2.INTER_AREA)
    light = linear(np.asarray(small, np.uint8)).astype(np.float64).reshape(rows, 8, columns, 8, 3)
    cells = light.mean(axis=(1, 3))
    luminance = light @ np.array([0.2126, 0.7152, 0.0722])
    mean = luminance.mean(axis=(1, 3))
    texture = luminance.std(axis=(1, 3)) / np.maximum(mean, 1e-4)
    plain = (texture < TEXTURE) & (mean > LOWEST) & (cells.max(axis=-1) < HIGHEST)
    region = _largest(plain, mean)
    share = float(region.mean())
    if share < LEAST:
        return None
    return Blank(np.where(region[..., None], cells, np.nan), share, (width, height))


def flat_of(blank: Blank) -> Flat:
    """The smooth surface of light that fits a blank sheet's cells best, channel by channel (least squares)."""
    rows, columns = blank.cells.shape[:2]
    width, height = blank.frame
    x = ((np.arange(columns) + 0.5) / columns - 0.5) * width / (max(width, height) / 2)
    y = ((np.arange(rows) + 0.5) / rows - 0.5) * height / (max(width, height) / 2)
    known = np.isfinite(blank.cells[..., 0])
    places = np.stack(np.meshgrid(x, y), axis=-1)[known]
    terms = _terms(places)
    found, *_ = np.linalg.lstsq(terms, blank.cells[known], rcond=None)
    found = found / (terms @ found).max(axis=0)
    half = np.array([x[1] - x[0], y[1] - y[0]]) / 2
    (left, top), (right, bottom) = places.min(axis=0) - half, places.max(axis=0) + half
    red, green, blue = (tuple(round(float(v), 5) for v in one) for one in found.T)
    box = tuple(round(float(v), 4) for v in (left, top, right, bottom))
    return Flat(red, green, blue, (box[0], box[1], box[2], box[3]))


def _largest(plain: NDArray[np.bool_], mean: Floats) -> NDArray[np.bool_]:
    """The largest region of plain cells between which the light does not step; cells beside another are left out,
    except at the frame's rim."""
    joined = plain.copy()
    for axis in (0, 1):
        here, there = (slice(None),) * axis + (slice(None, -1),), (slice(None),) * axis + (slice(1, None),)
        step = np.abs(mean[there] - mean[here]) > STEP * np.maximum(mean[here], mean[there])
        joined[here] &= ~step
        joined[there] &= ~step
    number, labels = cv2.connectedComponents(joined.astype(np.uint8), connectivity=4)
    if number < 2:
        return np.zeros_like(plain)
    sizes = np.bincount(labels.ravel())[1:]
    return np.asarray(labels == 1 + int(np.argmax(sizes)))


def _smoothed(luminance: Floats) -> Floats:
    """The mean of each cell and its known neighbours."""
    known = np.isfinite(luminance).astype(np.float64)
    total, count = (
        np.asarray(cv2.boxFilter(one, -1, (3, 3), normalize=False, borderType=cv2.BORDER_CONSTANT), np.float64)
        for one in (np.nan_to_num(luminance), known)
    )
    return np.where(known > 0, total / np.maximum(count, 1), np.nan)


def _terms(places: Floats) -> Floats:
    x, y = places[..., 0], places[..., 1]
    return np.stack([x**i * y**j for i, j in _POWERS], axis=-1)


def _turned(coefficients: tuple[float, ...]) -> tuple[float, ...]:
    """A clockwise quarter turn brings (x, y) to (−y, x): so x was the new y, and y the new −x."""
    new = dict.fromkeys(_POWERS, 0.0)
    for (i, j), value in zip(_POWERS, coefficients, strict=True):
        new[(j, i)] = value * (-1) ** j
    return tuple(new[power] for power in _POWERS)
