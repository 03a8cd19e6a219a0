"""What turns, straightens and crops a view: all of it in one map, resampled once or not at all.

Convention (see `solander.imaging.conventions`): places are shares (x, y) of the picture, 0–1 from edge to edge;
angles in degrees, clockwise as seen. `corners` are of the view; a box (left, top, right, bottom) is of the
straightened and turned picture; quarter turns come last.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import cv2
import numpy as np
from numpy.typing import NDArray

from solander.imaging.conventions import WrongPicture, as_quad, is_convex, whole_frame

__all__ = ["MOST_DEGREES", "framed", "placed"]

Picture = NDArray[Any]
"""(height, width, 3), 8 or 16 bits; what comes out has as many."""

MOST_DEGREES = 15.0
"""Degrees of a fine turn; beyond, it takes a quarter turn first."""


def framed(
    picture: Picture,
    *,
    corners: Sequence[Sequence[float]] | None = None,
    angle_deg: float = 0.0,
    box: Sequence[float] | None = None,
    turns: int = 0,
) -> Picture:
    """The picture inside `corners`, turned by a small angle, cut to a box, turned by quarters clockwise.

    A turned picture is enlarged until its frame is filled, so that no corner is invented. Without corners and
    angle no pixel is resampled: the box goes to whole pixels.

    Raises
    ------
    WrongPicture
        When the corners bound no convex outline or the box holds nothing.
    """
    left, top, right, bottom = box or (0.0, 0.0, 1.0, 1.0)
    if not (0 <= left < right <= 1 and 0 <= top < bottom <= 1):
        raise WrongPicture("a box goes from left to right and from top to bottom, 0 to 1")
    height, width = picture.shape[:2]
    if corners is None and angle_deg == 0:
        rows, columns = _whole(top, bottom, height), _whole(left, right, width)
        return np.ascontiguousarray(np.rot90(picture[rows, columns], -turns))
    matrix, out = _onto_view((width, height), corners, angle_deg, (left, top, right, bottom))
    flags = cv2.INTER_CUBIC | cv2.WARP_INVERSE_MAP
    straight = cv2.warpPerspective(picture, matrix, out, flags=flags, borderMode=cv2.BORDER_REPLICATE)
    return np.ascontiguousarray(np.rot90(np.asarray(straight, picture.dtype), -turns))


def placed(
    places: NDArray[np.float64],
    size: tuple[int, int],
    *,
    corners: Sequence[Sequence[float]] | None = None,
    angle_deg: float = 0.0,
    box: Sequence[float] | None = None,
    turns: int = 0,
) -> NDArray[np.float64]:
    """Where places (n, 2) of a view of that size (width, height) lie in what `framed` makes of it: shares of
    either, outside 0–1 for what was cut off."""
    matrix, out = _onto_view(size, corners, angle_deg, box or (0.0, 0.0, 1.0, 1.0))
    pixels = np.column_stack([places * np.array(size) - 0.5, np.ones(len(places))]) @ np.linalg.inv(matrix).T
    there = (pixels[:, :2] / pixels[:, 2:] + 0.5) / np.array(out)
    for _ in range(turns % 4):
        there = np.column_stack([1 - there[:, 1], there[:, 0]])
    return np.asarray(there, np.float64)


def _onto_view(
    size: tuple[int, int], corners: Sequence[Sequence[float]] | None, angle_deg: float, box: Sequence[float]
) -> tuple[NDArray[np.float64], tuple[int, int]]:
    """The homography from pixels of the framed picture, before any quarter turn, to those of the view, and its
    size."""
    straight, onto_view = _straight(corners, size)
    left, top, right, bottom = box
    rows, columns = _whole(top, bottom, straight[1]), _whole(left, right, straight[0])
    cut = np.array([[1.0, 0, columns.start], [0, 1, rows.start], [0, 0, 1]])
    matrix = onto_view @ _turned(angle_deg, straight) @ cut
    return matrix, (columns.stop - columns.start, rows.stop - rows.start)


def _whole(start: float, end: float, length: int) -> slice:
    first = min(round(start * length), length - 1)
    return slice(first, max(first + 1, round(end * length)))


def _straight(
    corners: Sequence[Sequence[float]] | None, size: tuple[int, int]
) -> tuple[tuple[int, int], NDArray[np.float64]]:
    """Size of the straightened picture, and the homography from it to the view."""
    if corners is None:
        return size, np.eye(3)
    quad = as_quad(corners) * np.array(size) - 0.5
    if not is_convex(quad):
        raise WrongPicture("corners bound no convex outline")
    sides = np.linalg.norm(np.roll(quad, -1, axis=0) - quad, axis=1)
    wide, high = (max(1, round(float(sides[at] + sides[at + 2]) / 2)) for at in (0, 1))
    onto = cv2.getPerspectiveTransform(whole_frame(wide, high).astype(np.float32), quad.astype(np.float32))
    return (wide, high), np.asarray(onto, np.float64)


def _turned(angle_deg: float, size: tuple[int, int]) -> NDArray[np.float64]:
    """From a picture turned clockwise about its middle, enlarged to fill its frame, to the one before."""
    if angle_deg == 0:
        return np.eye(3)
    angle = np.deg2rad(angle_deg)
    cos, sin = np.cos(angle), np.sin(angle)
    ratio = max(size[0] / size[1], size[1] / size[0])
    enlarged = cos + abs(sin) * ratio
    middle = (np.array(size) - 1) / 2
    linear = np.array([[cos, sin], [-sin, cos]]) / enlarged
    back = np.eye(3)
    back[:2, :2], back[:2, 2] = linear, middle - linear @ middle
    return back
