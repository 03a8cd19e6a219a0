"""A print laid straight, with how far every place in it and around it is from the stage that it lies on.

Convention (see `conventions`): corners of an outline in pixels of the capture; distances in the stage's own
spreads (see `stage`), seen at a size at which the print's longer side has `SIDE` pixels.
"""

from __future__ import annotations

from typing import Any

import cv2
import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from solander.imaging.conventions import Quad, Rgb
from solander.imaging.edges import LINEAR_OF
from solander.imaging.stage import Lab, StageModel

__all__ = ["BENEATH", "LIKE", "MOST_ALIKE", "OPEN", "Distances", "Sheet", "Torn", "sheet_on"]

Distances = NDArray[np.float32]

SIDE = 640
"""Pixels of the print's longer side at which it is looked at, straightened."""

AROUND = 18
"""Pixels outside the outline that are straightened, too."""

SMOOTH = 1.0
"""Pixels of the Gaussian blur that takes the finest noise."""

LIKE = 4.0
"""Spreads within which a place counts as stage."""

BENEATH, BESIDE = 3, 2
"""Pixels inside the outline that blur and the paper's own wear take, and outside it."""

MOST_ALIKE = 0.1
"""Share of the rim beside a loss that may look like the stage: of a print of the stage's own colour nothing can be
told."""

OPEN = 2.0
"""Spreads from the stage within which the way in is open: it leads over no paper's edge, rubbed white or in its
own shadow."""


@frozen
class Torn:
    """Paper that is missing at `place`, a corner or an edge in words; `depth` is how far that reaches in, as a
    share of the print's diagonal."""

    place: str
    depth: float


@frozen(eq=False)
class Sheet:
    """How far (spreads) a print's places are from the stage: `inside` its outline (rows, columns), and along each
    side, clockwise from the top, the worst place on the way in across the outline (`mouths`). `usual` is what the
    stage around it has itself."""

    inside: Distances
    mouths: tuple[Distances, ...]
    usual: float

    @property
    def size(self) -> tuple[int, int]:
        """Width and height of the outline in pixels."""
        return self.inside.shape[1], self.inside.shape[0]

    def alike(self) -> float:
        """Share (0–1) of the rim just inside the outline that looks like the stage."""
        rim = slice(BENEATH + 1, BENEATH + 4)
        sides = [np.rot90(self.inside, side)[rim].min(axis=0) for side in range(4)]
        return float((np.concatenate(sides) < LIKE).mean())

    @property
    def across(self) -> float:
        """The diagonal in pixels."""
        return float(np.hypot(*self.size))


def sheet_on(stage: StageModel, on_stage: Quad, picture: Rgb, corners: Quad) -> Sheet:
    """The print with these `corners` in the `picture` (a reduced capture), `on_stage` in the stage's copy of
    it."""
    size = _size(corners)
    seen = cv2.GaussianBlur(_straightened(picture, corners, size), (0, 0), SMOOTH)
    distance = _distance(np.asarray(seen), _straightened(stage.colour, on_stage, size, COARSE), stage)
    inner = slice(AROUND, -AROUND)
    rim = [np.rot90(distance, side)[: AROUND // 2] for side in range(4)]
    mouths = tuple(_way_in(np.rot90(distance, side)[AROUND - BESIDE :, inner]) for side in range(4))
    usual = float(np.median(np.concatenate([one.ravel()[::2] for one in rim])))
    return Sheet(np.ascontiguousarray(distance[inner, inner]), mouths, usual)


def _way_in(from_outside: Distances) -> Distances:
    """The worst place on the way in at each place of a side; it may lead a pixel aslant."""
    strip = np.ascontiguousarray(from_outside[: BESIDE + BENEATH + 1])
    return np.asarray(cv2.erode(strip, np.ones((1, 3), np.uint8)).max(axis=0))


def _distance(seen: Rgb, colour: Lab, stage: StageModel) -> Distances:
    """Spreads from the stage, lit or in the light shadow of the print: as `stage_distance`, channel by channel;
    `colour` is the stage's at a `COARSE`th of the size."""
    plain = stage.spread if stage.spread.ndim == 1 else np.median(stage.spread.reshape(-1, 3), axis=0)
    spreads = np.maximum(plain, LEAST_SPREAD).astype(np.float32)
    away = np.empty(seen.shape[:2], np.float32)
    for top in range(0, len(seen), BAND):
        rows = slice(top, top + BAND)
        lab = cv2.split(cv2.cvtColor(cv2.LUT(seen[rows], LINEAR_OF), cv2.COLOR_LRGB2Lab))
        usual = cv2.split(_finer(colour[top // COARSE : (top + BAND) // COARSE], lab[0].shape))
        share = np.clip(lab[0] / np.maximum(usual[0], 1e-3), DARKEST_SHADOW, 1.0)
        off = [(one - light * share) / spread for one, light, spread in zip(lab, usual, spreads, strict=True)]
        away[rows] = cv2.sqrt((off[0] * off[0] + off[1] * off[1] + off[2] * off[2]) / np.float32(3))
    return away


def _finer(colour: Lab, shape: tuple[int, ...]) -> Lab:
    """`COARSE` times as many rows and columns, as many of them as needed."""
    size = COARSE * colour.shape[1], COARSE * colour.shape[0]
    return np.asarray(cv2.resize(colour, size, interpolation=cv2.INTER_LINEAR)[: shape[0], : shape[1]], np.float32)


COARSE = 4
"""How much coarser the stage's colour is laid straight than the print: it is smooth."""

BAND = 64
"""Rows looked at at a time, a multiple of `COARSE`: what is between stays in the cache."""

LEAST_SPREAD = np.full(3, 1.2, np.float32)
"""Lab units that the stage spreads at least."""

DARKEST_SHADOW = 0.8
"""Lightness left of the stage in a print's shadow, at least: half, as elsewhere, would make stage of every
grey."""


def _box(width: float, height: float) -> Quad:
    return np.array([[0, 0], [width, 0], [width, height], [0, height]], float)


def _size(quad: Quad) -> tuple[int, int]:
    """Width and height at which the print is looked at."""
    top, right, bottom, left = np.linalg.norm(np.roll(quad, -1, axis=0) - quad, axis=1)
    scale = SIDE / max(top + bottom, left + right)
    return max(2, round((top + bottom) * scale)), max(2, round((left + right) * scale))


def _straightened(picture: NDArray[Any], quad: Quad, size: tuple[int, int], coarser: int = 1) -> NDArray[Any]:
    """The print at that size, and what lies `AROUND` pixels around it; or that at a whole part of the size."""
    to = ((_box(*size) + AROUND) / coarser - 0.5).astype(np.float32)
    onto = cv2.getPerspectiveTransform(quad.astype(np.float32), to)
    wide, high = (-(-(side + 2 * AROUND) // coarser) for side in size)
    seen = cv2.warpPerspective(
        picture, onto, (wide, high), flags=cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE
    )
    return np.asarray(seen)
