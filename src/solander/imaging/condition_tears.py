"""Tears in a print that gape.

Convention (see `conventions`): a `Sheet`; depths in shares of the print's diagonal, so that they hold without a
scale.

Method. What looks like the stage, begins at the outline over no paper's edge, is narrower than deep and ends at
paper is a tear. Where a piece is none, for the tear runs into a picture of the stage's colour, its parts near the
outline and nearer to the stage are looked at again.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import cv2
import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from solander.imaging.condition_light import EDGES
from solander.imaging.condition_sheet import BENEATH, LIKE, MOST_ALIKE, OPEN, Distances, Sheet, Torn

__all__ = ["tears"]

NEAR, BESIDE_PAPER = 15, 0.45
"""Beside paper that differs much from the stage, within so many pixels, this share of its distance still counts as
stage: in a narrow tear blur mixes the two, and half and half is the tear's own edge."""

ENDS = 5.0
"""Spreads from the stage that what lies around a tear has at least."""

AGAIN = ((0.03, np.inf, ENDS), (0.02, np.inf, ENDS), (0.03, 1.5, 3.5))
"""What of a piece that is no tear is looked at again, until something is one: what lies within a share of the
diagonal from the outline, for that alone tells a tear, and within so many spreads of the stage; and the spreads
that lie around it then at least."""


@frozen(eq=False)
class _Piece:
    """A part of a sheet that looks like the stage: its `shape` in a `window` of distances that begins at row `top`
    and column `left` and is `BESIDE` pixels wider; `ends` is what lies around it at least, in spreads; `cut` where
    only what lies near the outline is left of it."""

    shape: NDArray[np.bool_]
    window: Distances
    top: int
    left: int
    ends: float
    cut: bool = False


def tears(sheet: Sheet) -> Iterator[Torn]:
    """Where a print is torn, and how deep."""
    if sheet.alike() > MOST_ALIKE:
        return
    core = slice(BENEATH, -BENEATH)
    for piece in _pieces(_like_stage(sheet.inside)[core, core], (BENEATH, BENEATH), sheet, ENDS):
        yield from _tears_in(piece, sheet)


def _like_stage(inside: Distances) -> NDArray[np.uint8]:
    """255 where a sheet looks like the stage."""
    paper = np.asarray(cv2.dilate(inside, np.ones((NEAR, NEAR), np.uint8)), np.float32)
    limit = np.maximum(np.multiply(paper, BESIDE_PAPER, dtype=np.float32), np.float32(LIKE))
    return np.asarray(cv2.compare(inside, limit, cv2.CMP_LT), np.uint8)


def _tears_in(piece: _Piece, sheet: Sheet) -> Iterator[Torn]:
    """The tear that a piece is, or those that parts of it are."""
    whole = _tear(piece, sheet)
    if whole is not None:
        yield whole
        return
    for rim, within, ends in AGAIN:
        closer = piece.shape & (piece.window < within) & _near_outline(piece, sheet, rim)
        parts = _pieces(closer.astype(np.uint8), (piece.top, piece.left), sheet, ends, cut=True)
        found = [tear for part in parts if (tear := _tear(part, sheet)) is not None]
        if found:
            yield from found
            return


def _near_outline(piece: _Piece, sheet: Sheet, rim: float) -> NDArray[np.bool_]:
    """The places of a piece's window that lie within a share of the diagonal from the outline."""
    rows, columns = (
        np.minimum(at, side - 1 - at) < rim * sheet.across
        for at, side in (
            (piece.top + np.arange(piece.shape.shape[0]), sheet.size[1]),
            (piece.left + np.arange(piece.shape.shape[1]), sheet.size[0]),
        )
    )
    return np.asarray(rows[:, None] | columns[None])


def _pieces(
    like: NDArray[np.uint8], at: tuple[int, int], sheet: Sheet, ends: float, cut: bool = False
) -> Iterator[_Piece]:
    """The pieces of a mask whose first row and column are `at`, of those that begin at the outline."""
    _, labels, stats, _ = cv2.connectedComponentsWithStats(like, connectivity=8)
    (width, height), (top, left) = sheet.size, at
    x, y, wide, high, area = stats[1:].T
    begins = (x + left <= BENEATH) | (x + left + wide >= width - BENEATH)
    begins |= (y + top <= BENEATH) | (y + top + high >= height - BENEATH)
    fit = begins & (area >= SMALLEST) & (np.maximum(wide, high) >= SHORTEST)
    for number in 1 + np.flatnonzero(fit):
        column, row, across, down = (int(one) for one in stats[number, :4])
        shape = labels[row : row + down, column : column + across] == number
        yield _Piece(*_widened(shape, (row + top, column + left), sheet.inside), ends, cut)


SMALLEST, SHORTEST = 16, 8
"""Pixels of a piece: 1 mm² of a print of 15 cm; and of its longer side: 2 mm, half of what is told."""

BESIDE = 4
"""Pixels around a piece that are looked at with it."""


def _widened(
    shape: NDArray[np.bool_], at: tuple[int, int], inside: Distances
) -> tuple[NDArray[np.bool_], Distances, int, int]:
    """A shape that begins `at` a row and a column, with what lies beside it as far as there is something."""
    top, left = (max(0, one - BESIDE) for one in at)
    window = inside[top : at[0] + shape.shape[0] + BESIDE, left : at[1] + shape.shape[1] + BESIDE]
    wider = np.zeros(window.shape, np.bool_)
    wider[at[0] - top :, at[1] - left :][: shape.shape[0], : shape.shape[1]] = shape
    return wider, window, top, left


def _tear(piece: _Piece, sheet: Sheet) -> Torn | None:
    """How deep a piece reaches in, and from where; None where it hasn't the shape of a tear, or isn't all stage,
    or where paper lies across its way in or none around it."""
    if max(piece.shape.shape) - 2 * BESIDE > DEEPEST * sheet.across + SLACK:
        return None
    width, height = sheet.size
    rows, columns = np.nonzero(piece.shape)
    x, y = columns + (piece.left + 0.5), rows + (piece.top + 0.5)
    from_sides = np.stack([y, width - x, height - y, x])
    side = int(np.argmin(from_sides.min(axis=1)))
    along, inwards = (x, y, width - x, height - y)[side], from_sides[side]
    depth = float(inwards.max())
    if depth > DEEPEST * sheet.across:
        return None
    if not _is_narrow(along, inwards, depth, piece.cut) or _in_corner(from_sides, sheet.across):
        return None
    around = _around(piece, sheet)
    way_in = float(sheet.mouths[side][along[inwards < inwards.min() + 1].astype(int)].min())
    open_to = max(OPEN, BLURRED * around)
    if around < piece.ends or way_in > open_to or not _is_stage(piece, sheet.usual):
        return None
    return Torn(EDGES[side], depth / sheet.across)


DEEPEST = 0.2
"""Share of the diagonal: what reaches in deeper is no tear that leaves an outline to be found."""

ASLANT, SLACK, WIDE = 0.75, 6, 0.3
"""How far a tear runs along the edge in its depths, at most, and pixels more; how much of the square of its depth
it takes: a wedge that opens as wide as a third of its depth takes a sixth."""

CUT = 1.5, 1.0
"""The same of a piece of which only what lies near the outline is left: a deep tear is wide there."""

BLURRED = 0.15
"""Share of the paper's distance from the stage that blur leaves in the middle of a narrow tear."""

BY_CORNER, UNEQUAL = 0.03, 3.5
"""Share of the diagonal within which a piece begins at a corner, and how much further it reaches along one side
than along the other at most to lie in it."""


def _is_narrow(along: NDArray[Any], inwards: NDArray[Any], depth: float, cut: bool) -> bool:
    aslant, wide = CUT if cut else (ASLANT, WIDE)
    return np.ptp(along) <= aslant * depth + SLACK and len(inwards) <= wide * depth**2 + 20


def _in_corner(from_sides: NDArray[Any], across: float) -> bool:
    """Whether a piece lies in a corner, which `condition_corners` looks at, not along one of its sides."""
    for one, other in zip(from_sides, np.roll(from_sides, 1, axis=0), strict=True):
        reach = sorted((float(one.max()), float(other.max())))
        if float(np.hypot(one, other).min()) < BY_CORNER * across and reach[1] < UNEQUAL * reach[0]:
            return True
    return False


def _around(piece: _Piece, sheet: Sheet) -> float:
    """How far from the stage most of what lies around a piece is at least, past its own blurred edge."""
    shape = piece.shape.astype(np.uint8)
    near, next_to = (cv2.dilate(shape, np.ones((wide, wide), np.uint8)) for wide in (5, 7))
    row, column = np.nonzero(next_to > near)
    width, height = sheet.size
    deep = (row + piece.top > BENEATH) & (row + piece.top < height - BENEATH - 1)
    deep &= (column + piece.left > BENEATH) & (column + piece.left < width - BENEATH - 1)
    beside = piece.window[row[deep], column[deep]]
    return float(np.quantile(beside, MOST)) if len(beside) else 0.0


MOST = 0.2
"""Share of what lies around a tear that may be nearer to the stage."""


def _is_stage(piece: _Piece, usual: float) -> bool:
    """Whether a piece is as near to the stage as the stage itself, where it is wide enough to be looked into."""
    core = cv2.erode(piece.shape.astype(np.uint8), np.ones((7, 7), np.uint8)) > 0
    inner = piece.window[core]
    return len(inner) < FEWEST or float(np.median(inner)) <= max(AS_STAGE, 2 * usual)


FEWEST, AS_STAGE = 9, 0.4
"""Pixels below which nothing can be looked into; spreads that are stage whatever is usual."""
