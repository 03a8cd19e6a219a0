"""The paper border around the picture of a print: where it ends, and how dense it has become.

Convention (see `solander.imaging.conventions`): a view is uint8 sRGB, straight, cut at the paper's edge. Widths
are shares (0–1) of the view's height (top, bottom) or width (right, left). Densities are those of `deep`.

Method. From each edge inwards, rows are taken as border as long as they are plain along themselves and like those
before. A border lies on three sides at least, of one colour, and is lighter than nearly all of the picture.
"""

from __future__ import annotations

import cv2
import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from solander.imaging.conventions import Rgb, require_rgb
from solander.imaging.treatment.deep import as_deep, densities

__all__ = ["Border", "find_border"]

Triple = tuple[float, float, float]

SIDE = 480
"""Pixels of the longer side at which borders are sought: one of a 6 × 9 print, 3 mm wide, is 16 pixels wide."""

EDGE = 2
"""Pixels at the very edge that are not looked at: the cut, a shadow, wear."""

PLAIN = 0.035
"""Density by which the middle half of a row may spread and still be plain paper: silk texture and noise do so by
0.02."""

ALIKE = 0.06
"""Density by which rows of one border, and the borders of two sides, may differ: edges yellow more."""

LEAST = 0.008
"""Share of the longer side that a border is wide at least: 1 mm of 12 cm."""

MOST = 0.3
"""Share of a side beyond which what is plain is no border but a sky or a wall."""

LIGHTEST = 0.9
"""Share of the picture that must be denser than its border."""


@frozen
class Border:
    """`widths`: top, right, bottom, left, shares of the view (0 where a side has none); `density`: of the bare
    paper, red, green, blue."""

    widths: tuple[float, float, float, float]
    density: Triple

    @property
    def picture(self) -> tuple[float, float, float, float]:
        """What lies within: left, top, right, bottom as shares of the view."""
        top, right, bottom, left = self.widths
        return left, top, 1 - right, 1 - bottom


def find_border(rgb: Rgb) -> Border | None:
    """The border of a view; None where there is none that can be told from the picture."""
    require_rgb(rgb)
    scale = min(1.0, SIDE / max(rgb.shape[:2]))
    small = cv2.resize(rgb, None, fx=scale, fy=scale, interpolation=cv2.INTER_AREA) if scale < 1 else rgb
    if min(small.shape[:2]) < 40:
        return None
    density = densities(as_deep(np.asarray(small, np.uint8)))
    found = [_from_edge(np.rot90(density, turns)) for turns in (0, 1, 2, 3)]  # right comes to the top after one
    paper = _agreed([colour for colour, _ in found])
    if paper is None:
        return None
    depths = [depth if _like(colour, paper) else 0 for colour, depth in found]
    widths = [(EDGE + depth) / small.shape[side % 2] if depth else 0.0 for side, depth in enumerate(depths)]
    border = Border(
        (widths[0], widths[1], widths[2], widths[3]), (float(paper[0]), float(paper[1]), float(paper[2]))
    )
    return border if _is_lightest(density, border) else None


def _from_edge(density: NDArray[np.float32]) -> tuple[NDArray[np.float64], int]:
    """Colour and depth (rows) of what is plain from the first row on; depth 0 where it is no border."""
    rows = density[EDGE : EDGE + int(MOST * density.shape[0])]
    inset = rows.shape[1] // 20
    low, middle, high = np.percentile(rows[:, inset:-inset], (20, 50, 80), axis=1)
    plain = ((high - low) < 2 * PLAIN).all(axis=1) & (np.abs(middle - middle[:4].mean(axis=0)) < ALIKE).all(axis=1)
    depth = len(plain) if plain.all() else int(plain.argmin())
    least = LEAST * max(density.shape[:2])
    if depth < max(3, least) or depth == len(plain):
        return np.full(3, np.inf), 0
    return np.median(middle[:depth], axis=0), depth


def _agreed(colours: list[NDArray[np.float64]]) -> NDArray[np.float64] | None:
    """The colour that three sides have at least."""
    for one in colours:
        alike = [other for other in colours if _like(other, one)]
        if len(alike) >= 3:
            return np.asarray(np.mean(alike, axis=0), np.float64)
    return None


def _like(one: NDArray[np.float64], other: NDArray[np.float64]) -> bool:
    return bool(np.isfinite(one).all() and (np.abs(one - other) < ALIKE).all())


def _is_lightest(density: NDArray[np.float32], border: Border) -> bool:
    left, top, right, bottom = border.picture
    height, width = density.shape[:2]
    inside = density[
        int(top * height) + 1 : int(bottom * height) - 1, int(left * width) + 1 : int(right * width) - 1
    ]
    if inside.size == 0:
        return False
    darker = inside.mean(axis=2) > np.mean(border.density) - PLAIN
    return float(darker.mean()) >= LIGHTEST
