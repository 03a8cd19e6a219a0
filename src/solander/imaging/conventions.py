"""What the numbers mean in every picture function of this folder. One page; all other docstrings lean on it.

Pictures
    A picture is a numpy array of shape (height, width, 3), channels red, green, blue, dtype uint8. Its values are
    sRGB as files carry it: *encoded* (not linear in light), full range 0–255. A function that works in linear
    light or in CIELAB says so and converts by itself. uint16 pictures of a scanner are brought to uint8 by
    `decode` for finding and for views; nothing here accepts them. A float picture is float32, in the same encoded
    0–255 unless its function says otherwise. Nothing here uses OpenCV's blue-green-red order outside a function.

Axes
    Arrays are indexed [row, column] = [y, x]. Points are (x, y): x to the right, y down, in pixels of the picture
    after EXIF orientation. A size is (width, height).

Origin
    (0, 0) is the *centre* of the first pixel. The first pixel therefore covers −0.5 to 0.5, and the outer edge of
    a picture of width w lies at x = −0.5 and x = w − 0.5. Coordinates are continuous: a print that fills columns
    10 to 109 has its left edge at 9.5 and its right edge at 109.5, and is 100 pixels wide.

Outlines
    Four corners, float64 array of shape (4, 2), clockwise as seen on the picture: top left, top right, bottom
    right, bottom left of the print when "up" is known, else from the corner nearest the picture's top left. The
    corner of a deckled print is that of the outer rectangle, of a rounded one where the edges would meet, of a
    curled one the real corner.

Failure
    A thing that can't be found is an empty tuple, None or NaN, as each docstring says: an expected answer. An
    impossible argument (wrong shape or dtype) raises `WrongPicture`.
"""

from __future__ import annotations

from collections.abc import Sequence

import cv2
import numpy as np
from numpy.typing import ArrayLike, NDArray

__all__ = [
    "Grey",
    "Quad",
    "Rgb",
    "WrongPicture",
    "area",
    "as_quad",
    "clockwise_from_top_left",
    "corner_error",
    "diagonal",
    "iou",
    "is_convex",
    "luma",
    "require_rgb",
    "whole_frame",
]

Rgb = NDArray[np.uint8]
"""(height, width, 3), encoded sRGB, 0–255."""

Grey = NDArray[np.float32]
"""(height, width), encoded luma, 0–255."""

Quad = NDArray[np.float64]
"""(4, 2) corners (x, y), clockwise."""


class WrongPicture(ValueError):
    """An argument that no picture function can work on: the caller's mistake, never the photograph's."""


def require_rgb(rgb: Rgb) -> Rgb:
    """The picture itself, or `WrongPicture` when it isn't (height, width, 3) of uint8."""
    if rgb.ndim != 3 or rgb.shape[2] != 3 or rgb.dtype != np.uint8 or 0 in rgb.shape:
        raise WrongPicture(f"needs uint8 (height, width, 3), got {rgb.dtype} {rgb.shape}")
    return rgb


def as_quad(corners: ArrayLike | Sequence[Sequence[float]]) -> Quad:
    """Four corners as a float64 array (4, 2); `WrongPicture` for any other shape or a value that isn't finite."""
    quad = np.asarray(corners, np.float64)
    if quad.shape != (4, 2) or not np.isfinite(quad).all():
        raise WrongPicture(f"needs four finite (x, y) corners, got shape {quad.shape}")
    return quad


def whole_frame(width: int, height: int) -> Quad:
    """The outline that holds a whole picture: its outer pixel edges, half a pixel beyond the outer centres."""
    right, bottom = width - 0.5, height - 0.5
    return np.array([[-0.5, -0.5], [right, -0.5], [right, bottom], [-0.5, bottom]])


def area(quad: Quad) -> float:
    """Signed area in square pixels; positive when the corners run clockwise on the picture (y down)."""
    x, y = quad[:, 0], quad[:, 1]
    around = x[:-1] @ y[1:] - x[1:] @ y[:-1]
    return float(around + x[-1] * y[0] - x[0] * y[-1]) / 2


def diagonal(quad: Quad) -> float:
    """Mean length of the two diagonals, in pixels."""
    return float((np.linalg.norm(quad[2] - quad[0]) + np.linalg.norm(quad[3] - quad[1])) / 2)


def is_convex(quad: Quad) -> bool:
    """Whether the corners, in this order, bound a convex shape of some area."""
    ahead = np.diff(np.concatenate([quad, quad[:2]]), axis=0)
    turn = ahead[:-1, 0] * ahead[1:, 1] - ahead[:-1, 1] * ahead[1:, 0]
    return bool((turn > 0).all() or (turn < 0).all())


def clockwise_from_top_left(quad: ArrayLike) -> Quad:
    """The same corners in our order: clockwise (y down), from the one nearest the picture's top left.

    Nearest means the smallest x + y, so that it does not depend on where the picture's corner lies; of equals the
    upper one.
    """
    corners = as_quad(quad)
    offset = corners - corners.mean(axis=0)
    ordered = corners[np.argsort(np.arctan2(offset[:, 1], offset[:, 0]), kind="stable")]
    first = min(range(4), key=lambda i: (round(ordered[i].sum(), 6), ordered[i][1]))
    return np.roll(ordered, -first, axis=0)


def iou(quad_a: ArrayLike, quad_b: ArrayLike) -> float:
    """Overlap of two convex outlines: area of the intersection over area of the union, 0–1, exact polygons.

    Also called the Jaccard index. Outlines without area overlap nothing.
    """
    a, b = as_quad(quad_a), as_quad(quad_b)
    shared = max(0.0, _intersection_area(a, b))  # slivers of rounding may count below nothing
    union = abs(area(a)) + abs(area(b)) - shared
    return float(shared / union) if union > 0 else 0.0


def corner_error(found: ArrayLike, truth: ArrayLike) -> float:
    """Mean distance of the four corners from their true places, in % of the truth's mean diagonal.

    The best of the four cyclic shifts counts: which corner comes first is another question.
    """
    a, b = as_quad(found), as_quad(truth)
    errors = [float(np.linalg.norm(np.roll(a, shift, axis=0) - b, axis=1).mean()) for shift in range(4)]
    return 100.0 * min(errors) / diagonal(b)


def _intersection_area(a: Quad, b: Quad) -> float:
    """Sutherland and Hodgman, 1974: `a` cut by each side of `b` in turn, in float64."""
    clip = b if area(b) > 0 else b[::-1]
    left = a if area(a) > 0 else a[::-1]
    for start, end in zip(clip, np.roll(clip, -1, axis=0), strict=True):
        left = _cut(left, start, end)
        if len(left) < 3:
            return 0.0
    return area(left)


def _cut(polygon: Quad, start: NDArray[np.float64], end: NDArray[np.float64]) -> Quad:
    """What of a polygon lies to the right of the line from `start` to `end` (inside, clockwise, y down)."""
    along = end - start
    side = along[0] * (polygon[:, 1] - start[1]) - along[1] * (polygon[:, 0] - start[0])
    kept: list[NDArray[np.float64]] = []
    for i, here in enumerate(side):
        there = side[i - 1]
        if (here >= 0) != (there >= 0):
            kept.append(polygon[i - 1] + (polygon[i] - polygon[i - 1]) * (there / (there - here)))
        if here >= 0:
            kept.append(polygon[i])
    return np.array(kept).reshape(-1, 2)


def luma(rgb: Rgb) -> Grey:
    """Encoded luma (ITU-R BT.601 weights, as OpenCV has them), float32 0–255."""
    return np.asarray(cv2.cvtColor(rgb, cv2.COLOR_RGB2GRAY), np.float32)
