"""Whether the camera or the print moved while the picture was taken, how far, and along which line.

Convention (see `conventions`): lengths in pixels, angles in degrees clockwise from x, 0–180: a movement has no
sign.

Method. A straight movement of length m blurs an edge in proportion to the cosine between the movement and the
way the edge faces; a box of that width rises from 10 to 90 % over 0.8 m, and widths of blurs add in squares. So
the squared rises over all directions follow a + b·cos 2φ + c·sin 2φ, fitted to the sharpest edges of each
direction and to the paper's own (squares of widths add exactly for variances; for 10–90 % rises nearly).
"""

from __future__ import annotations

import numpy as np
from attrs import frozen
from numpy.typing import NDArray

__all__ = ["BOX", "Motion", "motion_of"]

Floats = NDArray[np.float64]

BINS = 12
"""Directions that are told apart: 15 degrees each."""

FEWEST = 4
"""Edges that a direction must have."""

SHARPEST = 0.25
"""Quantile of a direction's rises that stands for it: what is soft in the photograph itself is left out."""

PAPER_COUNTS = 6.0
"""What the paper's own edges count against a direction of the photograph's: they are as sharp as the capture."""

BOX = 0.8
"""10–90 % rise of a box blur, in its widths."""


@frozen
class Motion:
    """`length_px` of the movement; `angle_deg` of its line, NaN where there is none."""

    length_px: float
    angle_deg: float


def motion_of(rises: Floats, facing_deg: Floats, paper: Floats) -> Motion:
    """The movement that `rises` (px) of edges facing `facing_deg`, each (n,), and those of the paper's edges tell;
    `paper` (2,) holds the rise of its edges that face up and down, and left and right, NaN where not measured."""
    angles, squares, weights = _by_direction(rises, facing_deg)
    for angle, rise in zip((90.0, 0.0), paper, strict=True):
        if not np.isnan(rise):
            angles, squares, weights = (
                np.append(angles, angle), np.append(squares, rise**2), np.append(weights, PAPER_COUNTS),
            )  # fmt: skip
    if len(angles) < FEWEST:
        return Motion(0.0, float("nan"))
    twice = np.radians(2 * angles)
    basis = np.stack([np.ones_like(twice), np.cos(twice), np.sin(twice)], axis=1)
    root = np.sqrt(weights)[:, None]
    _, cosine, sine = np.linalg.lstsq(basis * root, squares * root[:, 0], rcond=None)[0]
    length = float(np.sqrt(2 * np.hypot(cosine, sine)) / BOX)
    return Motion(length, float(np.degrees(np.arctan2(sine, cosine)) / 2 % 180))


def _by_direction(rises: Floats, facing_deg: Floats) -> tuple[Floats, Floats, Floats]:
    """The middle, the squared rise and the weight of each direction that has enough edges."""
    wide = 180 / BINS
    number = (facing_deg // wide).astype(int) % BINS
    there = [i for i in range(BINS) if np.count_nonzero(number == i) >= FEWEST]
    squares = [float(np.quantile(rises[number == i], SHARPEST)) ** 2 for i in there]
    return (np.array(there, float) + 0.5) * wide, np.array(squares), np.ones(len(there))
