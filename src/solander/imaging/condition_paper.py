"""Corners that are missing and tears that gape: where the stage shows inside a print's outline.

Convention (see `conventions`): corners of an outline in pixels of the capture; depths in shares of the print's
diagonal, so that they hold without a scale.

Method. What looks like the stage and hangs together with what lies outside the outline is stage; where it reaches
inside, and ends at a hard edge there (the torn paper), paper is missing. A picture that fades into the stage's
colour has no such edge.
"""

from __future__ import annotations

from typing import Any

import cv2
import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from solander.imaging.condition_light import EDGES
from solander.imaging.conventions import Quad, Rgb
from solander.imaging.stage import TRUSTED, Lab, StageModel, smoothed, to_lab

__all__ = ["CORNERS", "Torn", "missing_paper"]

CORNERS = "top left corner", "top right corner", "bottom right corner", "bottom left corner"

SIDE = 640
"""Pixels of the print's longer side at which it is looked at, straightened."""

AROUND = 18
"""Pixels outside the outline that are looked at, too."""

LIKE = 4.0
"""Spreads within which a place counts as stage."""

NEAR, BESIDE_PAPER = 15, 0.22
"""Beside paper that differs much from the stage, within so many pixels, this share of its distance still counts as
stage: in a narrow tear blur mixes the two."""

NARROW = 3
"""Pixels inside the outline that blur and the paper's own wear take."""


Places = NDArray[Any]


@frozen
class Torn:
    """Paper that is missing at `place`, of `CORNERS` or `EDGES`; `depth` is how far that reaches in, as a share
    of the print's diagonal."""

    place: str
    depth: float


def missing_paper(picture: Rgb, corners: Quad, stage: StageModel, on_stage: Quad) -> tuple[Torn, ...]:
    """Where paper is missing, the deepest first; empty where none is, or where the stage can't be told by.

    `corners` are those of the print in the `picture` (a reduced capture), `on_stage` in the stage's copy of it.
    """
    if stage.explained < TRUSTED:
        return ()
    width, height = _size(corners)
    around = (width + 2 * AROUND, height + 2 * AROUND)
    lab = smoothed(to_lab(np.asarray(_straightened(picture, corners, (width, height), around), np.uint8)))
    distance = _distance(lab, _straightened(stage.colour, on_stage, (width, height), around), stage)
    across = float(np.hypot(width, height))
    found = [_torn(piece, (width, height), across) for piece in _reaching_in(distance, (width, height))]
    return tuple(sorted((one for one in found if one), key=lambda one: -one.depth))


def _distance(lab: Lab, colour: Lab, stage: StageModel) -> NDArray[np.float32]:
    """Spreads from the stage, lit or in the light shadow of the print: as `stage_distance`, channel by channel."""
    plain = stage.spread if stage.spread.ndim == 1 else np.median(stage.spread.reshape(-1, 3), axis=0)
    spreads = np.maximum(plain, LEAST_SPREAD).astype(np.float32)
    away = np.empty(lab.shape[:2], np.float32)
    for top in range(0, len(lab), BAND):
        rows = slice(top, top + BAND)
        seen, usual = cv2.split(lab[rows]), cv2.split(colour[rows])
        share = np.clip(seen[0] / np.maximum(usual[0], 1e-3), DARKEST_SHADOW, 1.0)
        off = [(one - light * share) / spread for one, light, spread in zip(seen, usual, spreads, strict=True)]
        away[rows] = cv2.sqrt((off[0] * off[0] + off[1] * off[1] + off[2] * off[2]) / np.float32(3))
    return away


BAND = 64
"""Rows looked at at a time: what is between stays in the cache."""

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


def _straightened(
    picture: NDArray[Any], quad: Quad, size: tuple[int, int], around: tuple[int, int]
) -> NDArray[Any]:
    """The print at that size, and what lies `AROUND` pixels around it."""
    to = (_box(*size) + AROUND - 0.5).astype(np.float32)
    onto = cv2.getPerspectiveTransform(quad.astype(np.float32), to)
    seen = cv2.warpPerspective(picture, onto, around, flags=cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE)
    return np.asarray(seen)


@frozen(eq=False)
class _Piece:
    """A piece of stage inside the outline: its `shape` in the window whose first row and column are at (`top`,
    `left`), and how far (spreads) each place of the `window` is from the stage, NaN near the outline; the window
    is wider by what lies beside the piece."""

    shape: NDArray[np.bool_]
    window: NDArray[np.float32]
    top: int
    left: int


def _reaching_in(distance: NDArray[np.float32], size: tuple[int, int]) -> list[_Piece]:
    """Pieces of stage inside the outline that hang together with the stage outside it."""
    width, height = size
    inside = np.zeros(distance.shape, np.bool_)
    inside[AROUND : AROUND + height, AROUND : AROUND + width] = True
    paper = cv2.dilate(distance, np.ones((NEAR, NEAR), np.uint8))
    like = (distance < np.maximum(LIKE, BESIDE_PAPER * paper)).astype(np.uint8)
    stage = like | (~inside).astype(np.uint8)
    cv2.floodFill(stage, None, (0, 0), (FROM_OUTSIDE,), flags=4)
    core = inside.copy()
    core[: AROUND + NARROW] = core[-AROUND - NARROW :] = False
    core[:, : AROUND + NARROW] = core[:, -AROUND - NARROW :] = False
    reach = ((stage == FROM_OUTSIDE) & core).astype(np.uint8)
    count, pieces, stats, _ = cv2.connectedComponentsWithStats(reach, connectivity=8)
    inner = np.full_like(distance, np.nan)
    deep = slice(AROUND + NARROW + 1, -AROUND - NARROW - 1)
    inner[deep, deep] = distance[deep, deep]
    found = []
    for number in range(1, count):
        left, top, wide, high, area = (int(one) for one in stats[number])
        if area >= SMALLEST and max(wide, high) >= SHORTEST:
            window = slice(top - BESIDE, top + high + BESIDE), slice(left - BESIDE, left + wide + BESIDE)
            found.append(_Piece(pieces[window] == number, inner[window], top - BESIDE, left - BESIDE))
    return found


BESIDE = 4
"""Pixels around a piece that are looked at with it; less than `AROUND`."""


FROM_OUTSIDE = 2
"""What marks the stage that hangs together with the one outside."""

SMALLEST, SHORTEST = 16, 8
"""Pixels of a piece: 1 mm² of a print of 15 cm; and of its longer side: 2 mm, half of what is told."""


def _torn(piece: _Piece, size: tuple[int, int], across: float) -> Torn | None:
    """What a piece tells; None where it ends in no hard edge, or has not the shape of a loss."""
    if _softly_ended(piece):
        return None
    rows, columns = np.nonzero(piece.shape)
    x, y = columns + (piece.left - AROUND + 0.5), rows + (piece.top - AROUND + 0.5)
    from_sides = np.stack([y, size[0] - x, size[1] - y, x])
    corner = int(np.argmin([float(np.hypot(*_corner_away(x, y, size, i)).min()) for i in range(4)]))
    if np.hypot(*_corner_away(x, y, size, corner)).min() < AT_CORNER * across and _in_triangle(x, y, size, corner):
        depth = float(np.minimum(from_sides[corner], from_sides[corner - 1]).max() * np.sqrt(2)) / across
        filled = len(x) / ((np.ptp(x) + 1) * (np.ptp(y) + 1))
        is_triangle = THINNEST < filled < FULLEST
        return Torn(CORNERS[corner], depth) if depth < DEEPEST_CORNER and is_triangle else None
    side = int(np.argmin(from_sides.min(axis=1)))
    along = x if side % 2 == 0 else y
    depth = float(from_sides[side].max())
    if depth > DEEPEST_TEAR * across or np.ptp(along) > 0.75 * depth + 6:
        return None
    return Torn(EDGES[side], depth / across)


THINNEST, FULLEST = 0.33, 0.8
"""Share of the box around it that a corner torn off fills: a triangle fills half."""

DEEPEST_CORNER, DEEPEST_TEAR = 0.2, 0.2
AT_CORNER = 0.03
"""Shares of the diagonal: what reaches in deeper is no loss that leaves an outline to be found; and how near to
the corner a loss begins."""


def _corner_away(x: Places, y: Places, size: tuple[int, int], corner: int) -> tuple[Places, Places]:
    at_x, at_y = ((0, 0), (size[0], 0), size, (0, size[1]))[corner]
    return x - at_x, y - at_y


def _in_triangle(x: Places, y: Places, size: tuple[int, int], corner: int) -> bool:
    """Whether a piece lies in the corner, not along one of its sides."""
    dx, dy = (np.abs(part) for part in _corner_away(x, y, size, corner))
    return bool(dx.max() < 3.5 * dy.max() and dy.max() < 3.5 * dx.max())


def _softly_ended(piece: _Piece) -> bool:
    """Whether the piece goes over into the picture without an edge."""
    shape = piece.shape.astype(np.uint8)
    near, next_to = (cv2.dilate(shape, np.ones((wide, wide), np.uint8)) for wide in (5, 7))
    beside = piece.window[next_to > near]
    beside = beside[~np.isnan(beside)]
    return len(beside) == 0 or float(np.quantile(beside, SOFT)) < HARD


HARD, SOFT = 6.0, 0.35
"""Spreads that most of what lies beside a loss differs from the stage by, and the share that needn't."""
