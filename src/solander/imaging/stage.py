"""What the stage looks like, and how far each place of a capture is from it.

Convention (see `conventions`): pictures are encoded sRGB uint8; colours here are CIELAB (D65, L 0–100) as float32,
of a reduced and slightly smoothed copy. A distance is in units of the stage's own spread, so that felt, wood and
paper are judged alike: on the stage it is about 1.
"""

from __future__ import annotations

import cv2
import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from solander.imaging.conventions import Rgb

__all__ = [
    "Reduced",
    "StageModel",
    "reduce",
    "shadowed",
    "stage_distance",
    "stage_from_empty",
    "stage_from_margin",
]

Lab = NDArray[np.float32]
Distance = NDArray[np.float32]

MARGIN = 0.012
"""Width of the margin that shows stage, as a share of the frame: a print of 95 % of the frame leaves 1.25 %."""

SPREAD_FLOOR = np.array([0.8, 0.5, 0.5], np.float32)
"""Smallest spread believed, in Lab units: JPEG and 8 bits alone make this much after smoothing."""

MODE_REACH = 14.0
"""Lab units around the margin's commonest colour that start the fit."""


@frozen(eq=False)
class Reduced:
    """A smaller copy and the way back: full = (small + 0.5) · scale − 0.5, on each axis."""

    rgb: Rgb
    lab: Lab
    scale: float

    def to_full(self, points: NDArray[np.float64]) -> NDArray[np.float64]:
        """Points of the small copy in coordinates of the full picture."""
        return np.asarray((points + 0.5) * self.scale - 0.5, np.float64)

    def from_full(self, points: NDArray[np.float64]) -> NDArray[np.float64]:
        """Points of the full picture in coordinates of the small copy."""
        return np.asarray((points + 0.5) / self.scale - 0.5, np.float64)


@frozen(eq=False)
class StageModel:
    """The stage over the whole frame: its `colour` (Lab) at every place of the reduced copy, its `spread` per
    channel, the `distance` of the capture from it, and the share of the margin that it explains (0–1)."""

    colour: Lab
    spread: NDArray[np.float32]
    distance: Distance
    explained: float


def reduce(rgb: Rgb, long_side: int) -> Reduced:
    """A copy whose longer side is at most `long_side` pixels, by area averaging."""
    scale = max(1.0, max(rgb.shape[:2]) / long_side)
    small = rgb
    if scale > 1:
        size = (max(1, round(rgb.shape[1] / scale)), max(1, round(rgb.shape[0] / scale)))
        small = np.asarray(cv2.resize(rgb, size, interpolation=cv2.INTER_AREA), np.uint8)
    return Reduced(small, _lab(small), scale)


def stage_from_margin(reduced: Reduced) -> StageModel:
    """The stage as the margin of the capture shows it.

    From the commonest colour of the margin, a smooth surface (second order in L, first in a and b) is fitted to
    what agrees with it: light falls off, hands and neighbours reach in.
    """
    lab = _smoothed(reduced.lab)
    margin = _margin(lab.shape[0], lab.shape[1])
    inside = margin & _near_mode(lab, margin)
    return _model(lab, *_fit_surface(lab, inside))


def stage_from_empty(reduced: Reduced, empty: Rgb) -> StageModel:
    """The stage as a capture of it without prints shows it, brought to the same exposure.

    The two must have been taken from the same place; `empty` may have another size of the same shape.
    """
    size = (reduced.rgb.shape[1], reduced.rgb.shape[0])
    lab = _smoothed(reduced.lab)
    stage = _smoothed(_lab(np.asarray(cv2.resize(empty, size, interpolation=cv2.INTER_AREA), np.uint8)))
    margin = _margin(lab.shape[0], lab.shape[1])
    shift = np.median((lab - stage)[margin], axis=0)
    residual = np.abs(lab - stage - shift)[margin]
    spread = np.maximum(1.4826 * np.median(residual, axis=0), SPREAD_FLOOR)
    return _model(lab, stage + shift.astype(np.float32), spread)


def _model(lab: Lab, colour: Lab, spread: NDArray[np.float32]) -> StageModel:
    distance = stage_distance(lab, colour, spread)
    margin = _margin(lab.shape[0], lab.shape[1])
    return StageModel(colour, spread, distance, float((distance[margin] < STAGE_LIKE).mean()))


STAGE_LIKE = 3.5
"""Spreads within which a place counts as stage: beyond three, of what is normally distributed, 0.3 % lie."""


def shadowed(lab: Lab, colour: Lab) -> Lab:
    """The stage's colour darkened to the lightness seen, where that is lower by up to half: stage in a shadow.

    Lightness and chroma fall together under less of the same light (both go with its cube root).
    """
    share = np.clip(lab[..., :1] / np.maximum(colour[..., :1], 1e-3), 0.5, 1.0)
    return np.asarray(colour * share, np.float32)


def stage_distance(lab: Lab, stage: Lab, spread: NDArray[np.float32]) -> Distance:
    """How many spreads each place differs from the stage, over the three channels together (root mean square)."""
    normed = (lab - stage) / spread
    return np.asarray(np.sqrt(np.einsum("ijk,ijk->ij", normed, normed) / 3), np.float32)


def _smoothed(lab: Lab) -> Lab:
    return np.asarray(cv2.GaussianBlur(lab, (0, 0), 1.0), np.float32)


def _lab(rgb: Rgb) -> Lab:
    scaled = rgb.astype(np.float32)
    scaled *= 1 / 255
    return np.asarray(cv2.cvtColor(scaled, cv2.COLOR_RGB2Lab), np.float32)


def _margin(height: int, width: int) -> NDArray[np.bool_]:
    wide = max(3, round(MARGIN * max(height, width)))
    margin = np.ones((height, width), np.bool_)
    margin[wide:-wide, wide:-wide] = False
    return margin


def _near_mode(lab: Lab, margin: NDArray[np.bool_]) -> NDArray[np.bool_]:
    """Places whose colour is near the commonest of the margin (three-dimensional histogram, then mean shift)."""
    colours = lab[margin]
    cells = np.round(colours / 6).astype(np.int64) + 40
    keys = (cells[:, 0] * 128 + cells[:, 1]) * 128 + cells[:, 2]
    values, counts = np.unique(keys, return_counts=True)
    centre = colours[keys == values[counts.argmax()]].mean(axis=0)
    for _ in range(5):
        centre = colours[np.linalg.norm(colours - centre, axis=1) < MODE_REACH].mean(axis=0)
    return np.asarray(np.linalg.norm(lab - centre, axis=2) < MODE_REACH * 1.4)


def _fit_surface(lab: Lab, inside: NDArray[np.bool_]) -> tuple[Lab, NDArray[np.float32]]:
    """The smooth stage colour over the whole frame and its spread per channel, by trimmed least squares."""
    terms = _terms(lab.shape[0], lab.shape[1])
    basis, colours = terms[inside].astype(np.float64), lab[inside].astype(np.float64)
    weight = np.ones(len(basis))
    for _ in range(4):
        light = _solve(basis, colours[:, 0], weight)
        hue = [_solve(basis[:, :3], colours[:, c], weight) for c in (1, 2)]
        fitted = np.stack([basis @ light, basis[:, :3] @ hue[0], basis[:, :3] @ hue[1]], axis=1)
        residual = np.abs(colours - fitted)
        spread = np.maximum(1.4826 * np.median(residual[weight > 0], axis=0), SPREAD_FLOOR)
        weight = ((residual / spread).max(axis=1) < 3.5).astype(np.float64)
    surface = np.stack([terms @ light, terms[..., :3] @ hue[0], terms[..., :3] @ hue[1]], axis=-1)
    return surface.astype(np.float32), spread.astype(np.float32)


def _terms(height: int, width: int) -> NDArray[np.float32]:
    y, x = np.mgrid[0:height, 0:width].astype(np.float32)
    x, y = x / width - 0.5, y / height - 0.5
    return np.stack([np.ones_like(x), x, y, x * x, x * y, y * y], axis=-1)


def _solve(
    basis: NDArray[np.float64], values: NDArray[np.float64], weight: NDArray[np.float64]
) -> NDArray[np.float64]:
    """Weighted least squares with a little ridge, so that a margin of one side only stays solvable."""
    weighted = basis * weight[:, None]
    normal = weighted.T @ basis + 1e-3 * len(basis) * np.diag([0.0, *[1e-3] * (basis.shape[1] - 1)])
    return np.asarray(np.linalg.lstsq(normal, weighted.T @ values, rcond=None)[0])
