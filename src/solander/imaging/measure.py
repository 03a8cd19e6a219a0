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

from solander.imaging.conventions import Rgb, as_quad, require_rgb
from solander.imaging.edge_profiles import FINE, REACH, facing_deg, rises_of, steepest_profiles
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
    "paper_rises",
    "sharpness_of",
    "view_edges",
]

Floats = NDArray[np.float64]

HALVINGS = 2
"""How often the size is halved before a picture counts as without edges: rises up to about 50 pixels."""

BEYOND = 10.0
"""A rise told by a halved picture is believed from here on: a smaller one would have been told at full size, had
the edge the contrast for it."""

FEWEST = 6
"""Edges below which a picture counts as having none."""

SHARPEST = 0.2
"""Quantile told: sharp enough to stand for what the lens could do, far enough from the single luckiest edge."""

EDGE_RISE_LIMIT = 5.2
"""Rise of the paper's edge, in pixels of the capture, from which the capture is not sharp. Of simulated captures
(grey, wood, white on white, borderless; 1600–4000 px wide) the sharp ones had 3.8 at most in 95 of 100, those
blurred by σ = 3 pixels 6.6 at least; out of focus by a disc of 5 pixels 5.4 at least; real telephone pictures
(shared/data/quads) 1.8 where sharp."""

VIEW_RISE_LIMIT = 9.0
"""The same for a view whose paper edge can't be measured: wider, for the photograph itself may be soft."""

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
    return Measured(sharpness_of(view_edges(grey)[0]), dark / grey.size, light / grey.size)


def edge_rise(capture: Rgb, corners: ArrayLike) -> float:
    """10–90 % rise in pixels of the paper's own edge in the capture; NaN where it can't be measured.

    Of the two directions the softer one, so that a shake along one of them is seen; see `paper_rises`.
    """
    return float(np.fmax(*paper_rises(capture, corners)))


def paper_rises(capture: Rgb, corners: ArrayLike) -> Floats:
    """10–90 % rises in pixels of the paper's edges: of the first and third side together, and of the second and
    fourth, (2,); NaN where they can't be measured.

    The paper's edge is as sharp as the capture, whatever the photograph on it. Of two opposite sides the sharper
    counts. `corners` as found, in pixels of `capture`.
    """
    picture, quad = require_rgb(capture), as_quad(corners)
    directions = _direction_rises(picture, quad)
    for times in range(1, HALVINGS + 1):
        if not np.isnan(directions).any() or min(picture.shape[:2]) < 4 * REACH:
            break
        picture, quad = halved(picture), (quad + 0.5) / 2 - 0.5
        wider = _direction_rises(picture, quad) * 2**times
        directions = np.fmax(directions, np.where(wider >= BEYOND, wider, np.nan))
    return directions


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


def view_edges(grey: NDArray[np.uint8]) -> tuple[Floats, Floats]:
    """Rises in pixels of the steepest edges of a picture, of each of about 400 tiles one, and the way they face in
    degrees, each (n,); empty where there are fewer than `FEWEST`."""
    for times in range(HALVINGS + 1):
        profiles, across = steepest_profiles(grey)
        rises, chosen = rises_of(profiles)
        if len(rises) >= FEWEST:
            return rises * 2**times, facing_deg(across[chosen])
        if min(grey.shape) < 4 * REACH:
            break
        grey = halved(grey)
    return np.empty(0), np.empty(0)


def sharpness_of(rises: Floats) -> float:
    """The rise that stands for a view, of those of its edges; NaN where it has too few."""
    return float(np.quantile(rises, SHARPEST)) if len(rises) else float("nan")


def _side_rise(capture: Rgb, start: Floats, end: Floats) -> float:
    """Median rise along one side, of places `BESIDE` pixels long: a deckled edge hardly moves within one."""
    rows = max(8, round(float(np.linalg.norm(end - start)) / BESIDE))
    strip = cut_strip(capture, (start, end), inward=REACH, outward_px=REACH, rows=rows, ends=0.08, density=1.0)
    chosen = strip.pixels[:: max(1, rows // MOST_PLACES)]
    grey = chosen @ np.array([0.299, 0.587, 0.114], np.float32)
    fine = cv2.resize(grey, (FINE * grey.shape[1], len(grey)), interpolation=cv2.INTER_CUBIC)
    rises, _chosen = rises_of(fine.astype(np.float64))
    return float(np.median(rises)) if len(rises) >= len(grey) / 4 else float("nan")


BESIDE = 4
"""Pixels along the edge that are averaged: with 12 a deckled edge of the made-up box smeared to a rise of 6.2,
with 4 it shows 3.0."""

MOST_PLACES = 64


def _grey(rgb: Rgb) -> NDArray[np.uint8]:
    return np.asarray(cv2.cvtColor(rgb, cv2.COLOR_RGB2GRAY), np.uint8)
