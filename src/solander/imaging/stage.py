"""What the stage looks like, and how far each place of a capture is from it.

Convention (see `conventions`): pictures are encoded sRGB uint8; colours here are CIELAB (D65, L 0–100) as float32,
of a reduced and slightly smoothed copy. A distance is in units of the stage's own spread, so that felt, wood and
paper are judged alike: on the stage it is about 1.
"""

from __future__ import annotations

from functools import cached_property

import cv2
import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from solander.imaging.conventions import Rgb

__all__ = [
    "Lab",
    "Reduced",
    "StageModel",
    "margin_of",
    "median_of",
    "modelled",
    "reduce",
    "shadowed",
    "smoothed",
    "spread_of",
    "stage_distance",
    "stage_from_margin",
    "to_lab",
]

Lab = NDArray[np.float32]
Distance = NDArray[np.float32]

MARGIN = 0.012
"""Width of the margin that shows stage, as a share of the frame: a print of 95 % of the frame leaves 1.25 %."""

SPREAD_FLOOR = np.array([0.8, 0.5, 0.5], np.float32)
"""Smallest spread believed, in Lab units: JPEG and 8 bits alone make this much after smoothing."""

MODE_REACH = 14.0
"""Lab units around the margin's commonest colour that start the fit."""

FITTED = 12_000
"""Places that a surface is fitted to: enough for twelve unknowns, whatever the capture's size."""


@frozen(eq=False)
class Reduced:
    """A smaller copy and the way back: full = (small + 0.5) · scale − 0.5, on each axis."""

    rgb: Rgb
    scale: float

    @cached_property
    def lab(self) -> Lab:
        """The copy in CIELAB, float32."""
        return to_lab(self.rgb)

    def to_full(self, points: NDArray[np.float64]) -> NDArray[np.float64]:
        """Points of the small copy in coordinates of the full picture."""
        return np.asarray((points + 0.5) * self.scale - 0.5, np.float64)

    def from_full(self, points: NDArray[np.float64]) -> NDArray[np.float64]:
        """Points of the full picture in coordinates of the small copy."""
        return np.asarray((points + 0.5) / self.scale - 0.5, np.float64)


@frozen(eq=False)
class StageModel:
    """The stage over the whole frame: its `colour` (Lab) at every place of the reduced copy, its `spread` per
    channel (three values, or three at every place), the `distance` of the capture from it, and the share of the
    margin that it explains (0–1)."""

    colour: Lab
    spread: NDArray[np.float32]
    distance: Distance
    explained: float

    def spread_at(self, row: NDArray[np.int_], column: NDArray[np.int_]) -> NDArray[np.float32]:
        """The spread at places of the reduced copy."""
        return self.spread if self.spread.ndim == 1 else np.asarray(self.spread[row, column], np.float32)


def reduce(rgb: Rgb, long_side: int) -> Reduced:
    """A copy whose longer side is about `long_side` pixels, by area averaging.

    From one and a half times that size on the step is a whole number of pixels, which is many times faster; what
    is then left over at the right and the bottom (less than a pixel of the copy) is not looked at.
    """
    scale = max(rgb.shape[:2]) / long_side
    if scale < WHOLE:
        return _reduced_to(rgb, long_side) if scale > 1 else Reduced(rgb, 1.0)
    step = round(scale)
    height, width = (side // step for side in rgb.shape[:2])
    whole = rgb[: height * step, : width * step]
    return Reduced(np.asarray(cv2.resize(whole, (width, height), interpolation=cv2.INTER_AREA), np.uint8), step)


WHOLE = 1.5
"""Pixels from which a step is rounded to whole ones: a frame of 1920 then comes to 960 in 0.5 ms instead of 11."""


def _reduced_to(rgb: Rgb, long_side: int) -> Reduced:
    scale = max(rgb.shape[:2]) / long_side
    size = (max(1, round(rgb.shape[1] / scale)), max(1, round(rgb.shape[0] / scale)))
    return Reduced(np.asarray(cv2.resize(rgb, size, interpolation=cv2.INTER_AREA), np.uint8), scale)


def to_lab(rgb: Rgb | NDArray[np.float32]) -> Lab:
    """CIELAB of encoded values 0–255 (fractions allowed), same shape."""
    scaled = rgb.astype(np.float32)
    scaled *= 1 / 255
    return np.asarray(cv2.cvtColor(scaled, cv2.COLOR_RGB2Lab), np.float32)


def stage_from_margin(reduced: Reduced) -> StageModel:
    """The stage as the margin of the capture shows it.

    From the commonest colour of the margin, a smooth surface (second order in L, first in a and b) is fitted to
    what agrees with it: light falls off, hands and neighbours reach in.
    """
    lab = smoothed(reduced.lab)
    margin = margin_of(*lab.shape[:2])
    return modelled(lab, *_fit_surface(lab, _near_mode(lab, margin), margin))


def modelled(lab: Lab, colour: Lab, spread: NDArray[np.float32]) -> StageModel:
    """The model of a stage of that colour and spread, under a capture's `lab` (smoothed)."""
    distance = stage_distance(lab, colour, spread)
    margin = margin_of(*lab.shape[:2])
    return StageModel(colour, spread, distance, float((distance[margin] < STAGE_LIKE).mean()))


STAGE_LIKE = 3.5
"""Spreads within which a place counts as stage: beyond three, of what is normally distributed, 0.3 % lie."""


TRUSTED = 0.6
"""Share of the margin that the stage must explain to be believed."""


def shadowed(lab: Lab, colour: Lab) -> Lab:
    """The stage's colour darkened to the lightness seen, where that is lower by up to half: stage in a shadow.

    Lightness and chroma fall together under less of the same light (both go with its cube root).
    """
    share = np.clip(lab[..., :1] / np.maximum(colour[..., :1], 1e-3), 0.5, 1.0)
    return np.asarray(colour * share, np.float32)


def stage_distance(lab: Lab, stage: Lab, spread: NDArray[np.float32]) -> Distance:
    """How many spreads each place differs from the stage, over the three channels together (root mean square)."""
    normed = (lab - stage) / (_side_by_side(spread, lab) if spread.ndim == 1 else spread)
    return np.asarray(np.sqrt(_square(normed) / 3), np.float32)


def _side_by_side(colour: NDArray[np.float32], pixels: NDArray[np.float32]) -> NDArray[np.float32]:
    """One colour (3,) as often as a row of (..., width, 3) needs it: numpy is slow along an axis of three."""
    return np.tile(colour, (pixels.shape[-2], 1))


def _square(colours: NDArray[np.float32]) -> NDArray[np.float32]:
    """Squared length of each of (..., 3)."""
    squares = (colours * colours).reshape(-1, 1, 3)
    return np.asarray(cv2.transform(squares, np.ones((1, 3), np.float32)), np.float32).reshape(colours.shape[:-1])


def smoothed(lab: Lab) -> Lab:
    """The copy without its finest noise, so that a distance is that of a place and not of a pixel."""
    return np.asarray(cv2.GaussianBlur(lab, (0, 0), 1.0), np.float32)


def spread_of(residual: NDArray[np.float32]) -> NDArray[np.float32]:
    """Robust standard deviation of residuals (n, 3) per channel, but never below what the coding makes alone."""
    return np.asarray(np.maximum(1.4826 * median_of(np.abs(residual)), SPREAD_FLOOR), np.float32)


def median_of(values: NDArray[np.float32]) -> NDArray[np.float32]:
    """The median down each column of (n, k), without the checks that make numpy's slow on few values; of
    none NaN."""
    half = len(values) // 2
    if not len(values):
        return np.full(values.shape[1], np.nan, np.float32)
    columns = np.ascontiguousarray(values.T)
    if len(values) % 2:
        return np.asarray(np.partition(columns, half, axis=1)[:, half])
    middle = np.partition(columns, (half - 1, half), axis=1)[:, half - 1 : half + 1]
    return np.asarray((middle[:, 0] + middle[:, 1]) / 2)


def margin_of(height: int, width: int) -> NDArray[np.bool_]:
    """The places along the frame's edge."""
    wide = max(3, round(MARGIN * max(height, width)))
    margin = np.ones((height, width), np.bool_)
    margin[wide:-wide, wide:-wide] = False
    return margin


def _near_mode(lab: Lab, margin: NDArray[np.bool_]) -> NDArray[np.bool_]:
    """Places whose colour is near the commonest of the margin (three-dimensional histogram, then mean shift)."""
    colours = np.take(lab.reshape(-1, 3), np.flatnonzero(margin), axis=0)
    cells = np.round(colours / 6).astype(np.int64) + 40
    keys = (cells[:, 0] * 128 + cells[:, 1]) * 128 + cells[:, 2]
    values, counts = np.unique(keys, return_counts=True)
    centre = _mean_of(colours, keys == values[counts.argmax()])
    for _ in range(5):
        centre = _mean_of(colours, _square(colours - centre) < MODE_REACH**2)
    return np.asarray(_square(lab - _side_by_side(centre, lab)) < (MODE_REACH * 1.4) ** 2)


def _mean_of(colours: NDArray[np.float32], chosen: NDArray[np.bool_]) -> NDArray[np.float32]:
    """The mean of those chosen of (n, 3)."""
    return np.asarray(chosen.astype(np.float32) @ colours / np.float32(chosen.sum()), np.float32)


def _fit_surface(
    lab: Lab, inside: NDArray[np.bool_], margin: NDArray[np.bool_]
) -> tuple[Lab, NDArray[np.float32]]:
    """The smooth stage colour over the whole frame and its spread per channel, by trimmed least squares.

    The margin begins and tells the spread: were it told by all places, a large print of nearly the stage's colour
    would become stage.
    """
    rim, middle = np.flatnonzero(inside & margin), np.flatnonzero(inside & ~margin)
    chosen = np.concatenate([rim, middle[:: max(1, len(middle) // FITTED)]])
    height, width = inside.shape
    x, y = (chosen % width / width - 0.5).astype(np.float32), (chosen // width / height - 0.5).astype(np.float32)
    basis, colours = _terms(x, y), np.take(lab.reshape(-1, 3), chosen, axis=0).T.copy()
    weight = (np.arange(len(chosen)) < len(rim)).astype(np.float32)
    for reach in (1.6, 1.3, 1.0, 1.0):
        surface = _solve(basis, colours, weight)
        residual = np.abs(colours - surface.T @ basis)
        spread = spread_of(np.compress(weight[: len(rim)] > 0, residual[:, : len(rim)], axis=1).T)
        weight = ((residual / spread[:, None]).max(axis=0) < reach * STAGE_LIKE).astype(np.float32)
    return _spanned(surface, height, width), spread


def _terms(x: NDArray[np.float32], y: NDArray[np.float32]) -> NDArray[np.float32]:
    return np.stack([np.ones_like(x), x, y, x * x, x * y, y * y])


def _spanned(surface: NDArray[np.float32], height: int, width: int) -> Lab:
    """The surface's colour at every place, row by row: at a row it is a parabola along x."""
    x, y = np.arange(width, dtype=np.float32) / width - 0.5, np.arange(height, dtype=np.float32) / height - 0.5
    along_y = np.stack([np.ones_like(y), y, y * y], axis=-1)
    level, slope = along_y @ surface[[0, 2, 5]], along_y[:, :2] @ surface[[1, 4]]
    planes = [level[:, None, k] + slope[:, None, k] * x + surface[3, k] * (x * x) for k in range(3)]
    return np.asarray(cv2.merge(planes), np.float32)


def _solve(
    basis: NDArray[np.float32], colours: NDArray[np.float32], weight: NDArray[np.float32]
) -> NDArray[np.float32]:
    """Coefficients (6, 3) by weighted least squares, of a `basis` (6, n) and `colours` (3, n): all six terms for
    L, the first three for a and b; with a little ridge, so that a margin of one side only stays solvable."""
    weighted = basis * weight
    normal, wanted = (weighted @ basis.T).astype(np.float64), (weighted @ colours.T).astype(np.float64)
    ridge = 1e-6 * basis.shape[1] * np.diag([0.0, 1, 1, 1, 1, 1])
    found = np.zeros((6, 3))
    found[:, 0] = np.linalg.lstsq(normal + ridge, wanted[:, 0], rcond=None)[0]
    found[:3, 1:] = np.linalg.lstsq((normal + ridge)[:3, :3], wanted[:3, 1:], rcond=None)[0]
    return found.astype(np.float32)
