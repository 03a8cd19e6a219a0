"""Rectangles in a blob: between straight lines of the few directions that its line segments share.

Convention (see `conventions`): corners in pixels of the middle copy, clockwise.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

import cv2
import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from solander.imaging.conventions import Quad
from solander.imaging.search import Scene

__all__ = ["CHANGE", "SHORTEST", "Rectangle", "rectangles"]

Mask = NDArray[np.uint8]
Floats = NDArray[np.float64]
Pixels = NDArray[np.float32]

SHORTEST = 0.085
"""Shortest side of a print that touches others, as a share of the frame's long side."""

ALONG = 13
"""Pixels along a line over which changes add up before they are judged."""

CHANGE = 0.5
"""Lab units a pixel across a line from which it is seen: the shadow of paper on paper makes about one."""


@frozen(eq=False)
class Turned:
    """The picture turned so that one direction of its lines is upright: where upright and level lines are seen
    (uint8, 0 or 1), the sums of both along the line, and the way back to the middle copy (2 × 3)."""

    upright: Mask
    level: Mask
    upright_sums: NDArray[np.int32]
    level_sums: NDArray[np.int32]
    blob_sums: NDArray[np.int32]
    back: Floats
    long_side: int


@frozen(eq=False)
class Rectangle:
    """A rectangle between four lines of one direction, its area, and how well its sides are seen (0–1)."""

    quad: Quad
    size: float
    merit: float


def rectangles(scene: Scene, blob: Mask) -> list[Rectangle]:
    """The rectangles of a blob (uint8, 0 or 1, of the middle copy's size) whose sides are seen, most promising
    first, no two alike."""
    found = [one for angle in _directions(scene, blob) for one in _between(_turned(scene, blob, angle))]
    return _distinct(found)


MOST_PARTS = 80


def _distinct(parts: list[Rectangle]) -> list[Rectangle]:
    """The most promising parts, no two alike; of a print's outline and the frame of its picture the outline."""
    kept: list[Rectangle] = []
    for one in sorted(parts, key=lambda p: -p.merit * p.size**0.25):
        if len(kept) < MOST_PARTS and not any(_within(one, k) for k in kept):
            kept.append(one)
    return kept


def _within(one: Rectangle, other: Rectangle) -> bool:
    """Whether a part is another one again, or lies a border's width within it and is borne out no better."""
    if np.abs(one.quad - other.quad).max() < 4:
        return True
    ratio = one.size / other.size
    if not 0.8 < ratio < 1.0 or one.merit > other.merit:
        return False
    inside = cv2.pointPolygonTest
    return min(inside(other.quad.astype(np.float32), (float(x), float(y)), True) for x, y in one.quad) > -2


def _directions(scene: Scene, blob: Mask) -> Iterator[float]:
    """Directions (degrees, modulo 90) that long line segments in the blob share, the commonest first."""
    x, y, w, h = cv2.boundingRect(blob)
    light = np.ascontiguousarray(cv2.cvtColor(scene.middle.rgb[y : y + h, x : x + w], cv2.COLOR_RGB2GRAY))
    detected = cv2.createLineSegmentDetector(cv2.LSD_REFINE_STD).detect(light)[0]
    if detected is None:
        return
    run = np.asarray(detected, np.float64).reshape(-1, 4)
    run = run[:, 2:] - run[:, :2]
    length, angle = np.hypot(run[:, 0], run[:, 1]), np.degrees(np.arctan2(run[:, 1], run[:, 0])) % 90
    length[length < LONG_ENOUGH] = 0
    for _ in range(MOST_DIRECTIONS):
        weights, edges = np.histogram(angle, bins=360, range=(0, 90), weights=length)
        together = weights + np.roll(weights, 1) + np.roll(weights, -1)
        peak = float(edges[together.argmax()]) + 0.125
        off = (angle - peak + 45) % 90 - 45
        near = np.abs(off) < ALIKE
        if length[near].sum() < SHORTEST * max(scene.middle.rgb.shape):
            return
        yield peak + float(np.average(off[near], weights=length[near]))
        length[near] = 0


LONG_ENOUGH = 30.0
"""Pixels from which a segment tells a direction: shorter ones are the picture's."""

ALIKE = 0.4
"""Degrees within which directions are one."""

MOST_DIRECTIONS = 7


def _turned(scene: Scene, blob: Mask, angle_deg: float) -> Turned:
    """The blob's surroundings turned by `angle_deg` against the clock, and the lines seen in them."""
    x, y, w, h = cv2.boundingRect(blob)
    middle, reach = (x + w / 2, y + h / 2), float(np.hypot(w, h)) / 2 + 12
    turn = cv2.getRotationMatrix2D(middle, angle_deg, 1.0)
    ys, xs = np.nonzero(blob[y : y + h, x : x + w])
    corners = np.stack([xs[::7] + x, ys[::7] + y, np.ones(len(xs[::7]))]).T @ turn.T
    low = np.maximum(corners.min(axis=0), np.array(middle) - reach) - 12
    size = np.ceil(np.minimum(corners.max(axis=0), np.array(middle) + reach) + 12 - low).astype(int)
    turn[:, 2] -= low
    to = (int(size[0]), int(size[1]))
    lab = cv2.warpAffine(scene.middle.lab, turn, to, flags=cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE)
    inside = np.asarray(cv2.warpAffine(blob, turn, to, flags=cv2.INTER_NEAREST), np.uint8)
    upright, level = _seen(np.asarray(lab, np.float32)), _seen(np.ascontiguousarray(lab.transpose(1, 0, 2))).T
    return Turned(
        upright,
        np.ascontiguousarray(level),
        _sums(upright, axis=0),
        _sums(level, axis=1),
        np.asarray(cv2.integral(inside), np.int32),
        np.asarray(cv2.invertAffineTransform(turn), np.float64),
        max(scene.middle.rgb.shape),
    )


SLOPE = np.array([-2, -1, 0, 1, 2], np.float32) / 10
"""Derivative of a parabola through five columns."""


def _seen(lab: Pixels) -> Mask:
    """Where an upright line is seen: change across it, coherent along it, on a crest; widened by a pixel."""
    change = cv2.sepFilter2D(lab, cv2.CV_32F, SLOPE, np.full(ALONG, 1 / ALONG, np.float32))
    strength = np.sqrt(np.einsum("ijk,ijk->ij", change, change))
    crest = strength >= cv2.dilate(strength, np.ones((1, 5), np.uint8))
    return np.asarray(cv2.dilate((crest & (strength > CHANGE)).astype(np.uint8), np.ones((1, 3), np.uint8)))


def _sums(mask: Mask, *, axis: int) -> NDArray[np.int32]:
    first = np.zeros_like(mask, np.int32, shape=(1, mask.shape[1]) if axis == 0 else (mask.shape[0], 1))
    return np.concatenate([first, np.cumsum(mask, axis=axis, dtype=np.int32)], axis=axis)


def _between(turned: Turned) -> list[Rectangle]:
    """The rectangles between lines of one direction that may be prints."""
    shortest = round(SHORTEST * turned.long_side)
    xs, ys = _lines(turned.upright, shortest), _lines(np.ascontiguousarray(turned.level.T), shortest)
    table = _table(turned, xs, ys, shortest)
    parts = []
    for key in table:
        x0, x1, y0, y1 = xs[key[0]], xs[key[1]], ys[key[2]], ys[key[3]]
        box = np.array([[x0, y0], [x1, y0], [x1, y1], [x0, y1]], np.float64)
        parts.append(Rectangle(box @ turned.back[:, :2].T + turned.back[:, 2], (x1 - x0) * (y1 - y0), table[key]))
    return parts


MOST_LINES = 36


def _lines(seen: Mask, shortest: int) -> list[int]:
    """Columns where an upright line goes on for the shortest side at least, ascending."""
    runs = cv2.morphologyEx(seen, cv2.MORPH_CLOSE, np.ones((3, 1), np.uint8))
    runs = cv2.morphologyEx(runs, cv2.MORPH_OPEN, np.ones((int(0.9 * shortest), 1), np.uint8))
    total = runs.sum(axis=0, dtype=np.int64) * 8 + seen.sum(axis=0, dtype=np.int64)
    total[runs.max(axis=0) == 0] = 0
    lines: list[int] = []
    while len(lines) < MOST_LINES and total.max() > 0:
        best = total == total.max()
        column = round(float(np.nonzero(best)[0][: _first_run(best)].mean()))
        lines.append(column)
        total[max(0, column - 2) : column + 3] = 0
    return sorted(lines)


def _first_run(best: NDArray[np.bool_]) -> int:
    """How many of the true places are next to the first one."""
    places = np.nonzero(best)[0]
    gaps = np.nonzero(np.diff(places) > 1)[0]
    return int(gaps[0]) + 1 if len(gaps) else len(places)


Key = tuple[int, int, int, int]


def _table(turned: Turned, xs: list[int], ys: list[int], shortest: int) -> dict[Key, float]:
    """Merit of every rectangle between two columns and two rows that holds blob and whose sides are seen."""
    pairs_x = [(i, j) for i, j in combinations(range(len(xs)), 2) if xs[j] - xs[i] >= shortest]
    pairs_y = [(i, j) for i, j in combinations(range(len(ys)), 2) if ys[j] - ys[i] >= shortest]
    if not pairs_x or not pairs_y:
        return {}
    px, py = np.array(pairs_x), np.array(pairs_y)
    x0, x1 = (np.array(xs)[px[:, i]][:, None] for i in (0, 1))
    y0, y1 = (np.array(ys)[py[:, i]][None] for i in (0, 1))
    b = turned.blob_sums
    filled = (b[y1, x1] - b[y0, x1] - b[y1, x0] + b[y0, x0]) / ((x1 - x0) * (y1 - y0))
    up, level = turned.upright_sums, turned.level_sums
    sides = np.stack(
        [_seen_share(up, y0, y1, x0), _seen_share(up, y0, y1, x1),
         _seen_share(level.T, x0, x1, y0), _seen_share(level.T, x0, x1, y1)]
    )  # fmt: skip
    merit = (0.5 * sides.min(axis=0) + 0.5 * sides.mean(axis=0)) * _usual(x1 - x0, y1 - y0)
    good = (filled > FILLED) & (sides.min(axis=0) > LEAST_SIDE)
    return {(*pairs_x[i], *pairs_y[j]): float(merit[i, j]) for i, j in np.argwhere(good)}


FILLED = 0.95
LEAST_SIDE = 0.62


def _seen_share(
    sums: NDArray[np.int32], start: NDArray[np.int64], end: NDArray[np.int64], at: NDArray[np.int64]
) -> Floats:
    """Share of a side on which an edge is seen: of its whole length or its two ends, whichever is less."""
    length = end - start
    inset = np.minimum(2, length // 8)
    tip = np.maximum(6, length // 9)
    whole = (sums[end - inset, at] - sums[start + inset, at]) / (length - 2 * inset)
    first = (sums[start + inset + tip, at] - sums[start + inset, at]) / tip
    last = (sums[end - inset, at] - sums[end - inset - tip, at]) / tip
    return np.asarray(np.minimum(whole, 0.5 * whole + 0.25 * (first + last)), np.float64)


RATIOS = np.array([1.0, 4 / 5, 3.5 / 5, 5 / 7, 9 / 13, 2 / 3, 3 / 4, 13 / 18, 6 / 9, 6.3 / 10.4, 10.8 / 16.5])
"""Short side over long side: squares, 8×10, 3½×5, 5×7 in, 9×13 cm, 4×6 in, 6×8, 13×18, 6×9 cm, carte de visite,
cabinet card (common practice, no source)."""


def _usual(width: NDArray[np.int64], height: NDArray[np.int64]) -> Floats:
    """How usual the proportions are: 1 for common ones, falling to 0.6 for a strip."""
    ratio = np.minimum(width, height) / np.maximum(width, height)
    off = np.abs(ratio[..., None] - RATIOS).min(axis=-1)
    return np.asarray(np.clip(1.0 - 1.2 * np.maximum(off - 0.02, 0), 0.6, 1.0), np.float64)
