"""Doors, windows and framed pictures within a picture: large rectangles that are not the print's edge."""

from __future__ import annotations

import cv2
import numpy as np

from solander.imaging.simulate.geometry import Points
from solander.imaging.simulate.light import Rgb
from solander.imaging.simulate.masks import polygon_mask

__all__ = ["with_opening"]


def with_opening(picture: Rgb, rng: np.random.Generator) -> Rgb:
    """A copy of the picture with a door, a window or a framed picture drawn over much of it."""
    height, width = picture.shape[:2]
    canvas = picture.astype(np.float32)
    outer = _leaning(rng, width, height)
    bright, dark = rng.uniform(190, 245), rng.uniform(15, 70)
    jamb, field = (bright, dark) if rng.uniform() < 0.6 else (dark, bright)
    _fill(canvas, outer, jamb)
    inner = _shrunk(outer, rng.uniform(0.04, 0.12))
    kind = rng.choice(["door", "window", "picture"])
    if kind == "picture":
        _insert(canvas, picture, inner)
    else:
        _fill(canvas, inner, field)
        columns, rows = (1, 2) if kind == "door" else (int(rng.integers(2, 4)), int(rng.integers(2, 4)))
        for pane in _panes(inner, columns, rows):
            _fill(canvas, pane, 0.6 * field + 0.4 * jamb if kind == "door" else field + rng.uniform(-20, 20))
    return np.asarray(np.clip(cv2.GaussianBlur(canvas, (0, 0), max(0.6, width / 1200)), 0, 255), np.uint8)


def _leaning(rng: np.random.Generator, width: int, height: int) -> Points:
    """A rectangle of 35–90 % of each side, seen a little from the side."""
    wide, tall = rng.uniform(0.35, 0.9) * width, rng.uniform(0.45, 0.92) * height
    left, top = rng.uniform(0.02, 0.98) * (width - wide), rng.uniform(0.02, 0.98) * (height - tall)
    square = np.array([[0, 0], [1, 0], [1, 1], [0, 1]]) * [wide, tall] + [left, top]
    return np.asarray(square + rng.normal(0, 0.012, (4, 2)) * min(width, height))


def _shrunk(outline: Points, share: float) -> Points:
    middle = outline.mean(axis=0)
    return np.asarray(middle + (outline - middle) * (1 - share))


def _panes(outline: Points, columns: int, rows: int) -> list[Points]:
    def at(x: float, y: float) -> Points:
        top, low = outline[0] + (outline[1] - outline[0]) * x, outline[3] + (outline[2] - outline[3]) * x
        return np.asarray(top + (low - top) * y)

    panes = []
    for column in range(columns):
        for row in range(rows):
            x0, x1 = (column + 0.12) / columns, (column + 0.88) / columns
            y0, y1 = (row + 0.1) / rows, (row + 0.9) / rows
            panes.append(np.array([at(x0, y0), at(x1, y0), at(x1, y1), at(x0, y1)]))
    return panes


def _fill(canvas: np.typing.NDArray[np.float32], outline: Points, tone: float) -> None:
    mask = polygon_mask(outline, (canvas.shape[1], canvas.shape[0]))[..., None]
    canvas += (np.float32(tone) - canvas) * mask


def _insert(canvas: np.typing.NDArray[np.float32], picture: Rgb, outline: Points) -> None:
    height, width = picture.shape[:2]
    corners = np.array([[0, 0], [width, 0], [width, height], [0, height]], np.float32)
    onto = cv2.getPerspectiveTransform(corners, outline.astype(np.float32))
    warped = cv2.warpPerspective(picture.astype(np.float32), onto, (width, height))
    mask = polygon_mask(outline, (width, height))[..., None]
    canvas += (warped - canvas) * mask
