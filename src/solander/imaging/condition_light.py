"""The light of a capture: how much is lost at the ends of the scale, and how unevenly it falls on a print.

Convention (see `conventions`): pictures encoded sRGB; unevenness is in linear light.
"""

from __future__ import annotations

import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from solander.imaging.conventions import Quad
from solander.imaging.stage import TRUSTED, StageModel

__all__ = ["EDGES", "Uneven", "clipped_shares", "unevenness"]

EDGES = "top edge", "right edge", "bottom edge", "left edge"

BLACK, WHITE = 2, 253
"""Code values of luma that are at the ends of the scale: two are left for noise and JPEG (our choice)."""

DARKEST_STAGE = 0.004
"""Linear light below which a stage tells nothing of the lamps: black felt has 0.010."""

GRID = 9
"""Places a side at which the light over a print is looked at."""


@frozen
class Uneven:
    """`share` is (brightest − darkest) / brightest light over the print, 0–1, NaN where nothing tells it;
    `darkest` the edge, of `EDGES`, at which there is least."""

    share: float
    darkest: str = ""


def clipped_shares(luma: NDArray[np.uint8]) -> tuple[float, float]:
    """Shares of pixels (0–1) in black and in white."""
    bands = [luma[top : top + BAND] for top in range(0, len(luma), BAND)]
    dark = sum(int(np.count_nonzero(band <= BLACK)) for band in bands)
    light = sum(int(np.count_nonzero(band >= WHITE)) for band in bands)
    return dark / luma.size, light / luma.size


BAND = 128
"""Rows looked at at a time: what is between stays in the cache."""


def unevenness(stage: StageModel, corners: Quad) -> Uneven:
    """How unevenly the light falls on a print, as the stage around it tells; `corners` in pixels of the stage's
    copy.

    The stage is one colour, so what varies over it is light: the smooth surface that was fitted to it, under the
    print, brought to linear light; (Ymax − Ymin) / Ymax. The standards differ in what they divide by.
    """
    if stage.explained < TRUSTED:
        return Uneven(float("nan"))
    light = _light_under(stage, corners)
    brightest = float(light.max())
    if brightest < DARKEST_STAGE:
        return Uneven(float("nan"))
    sides = [light[0].mean(), light[:, -1].mean(), light[-1].mean(), light[:, 0].mean()]
    return Uneven(1 - float(light.min()) / brightest, EDGES[int(np.argmin(sides))])


def _light_under(stage: StageModel, quad: Quad) -> NDArray[np.float64]:
    """Relative luminance of the stage at a grid of places under the print, (GRID, GRID), from its top left on."""
    share = np.linspace(0, 1, GRID)
    u, v = np.meshgrid(share, share)
    weights = np.stack([(1 - u) * (1 - v), u * (1 - v), u * v, (1 - u) * v], axis=-1)
    places = np.rint(weights @ quad).astype(int)
    height, width = stage.colour.shape[:2]
    rows, columns = np.clip(places[..., 1], 0, height - 1), np.clip(places[..., 0], 0, width - 1)
    lightness = stage.colour[rows, columns, 0].astype(np.float64)
    return np.asarray(((np.maximum(lightness, 0) + 16) / 116) ** 3)
