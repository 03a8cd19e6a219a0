"""What else is in the picture: tables' edges, boards under the prints, things beside them, fingers over them."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import cv2
import numpy as np
from layouts import Quad
from textures import Floats, Rng, colour

Cut = Callable[[], Floats]
Box = tuple[slice, slice]


class Canvas:
    """The scene so far, encoded sRGB, and where a thing lies that might be called a print or not (0 or 1)."""

    def __init__(self, ground: Floats, size: tuple[int, int]) -> None:
        self.rgb = ground
        self.size = size
        self.unsure = np.zeros((size[1], size[0]), np.float32)

    def shade(self, rng: Rng, alpha: Floats, *, thick: float = 1.0) -> None:
        """The shadow of a thing that is about to be laid: moved a little, soft or hard."""
        if rng.uniform() < 0.12:
            return
        far = float(thick * rng.choice([rng.uniform(0, 3), rng.uniform(1, 9)]))
        angle, spread = rng.uniform(0, 2 * np.pi), 0.5 + far * rng.uniform(0.1, 0.8)
        box = around(alpha, margin=int(far + 3 * spread) + 2)
        move = np.array([[1, 0, far * np.cos(angle)], [0, 1, far * np.sin(angle)]])
        part = alpha[box]
        soft = cv2.GaussianBlur(cv2.warpAffine(part, move, part.shape[::-1]), (0, 0), spread)
        self.rgb[box] *= (1 - np.float32(rng.uniform(0.1, 0.75)) * soft)[..., None]

    def put(self, rng: Rng, shape: Floats, filling: Floats, *, thick: float = 1.0, unsure: bool = False) -> None:
        """Lay a thing of any shape, (height, width) from 0 to 1, with its shadow; `filling` may be one colour."""
        self.shade(rng, shape, thick=thick)
        box = around(shape)
        part = shape[box][..., None]
        tone = filling[box] if filling.shape[0] > 1 else filling
        self.rgb[box] += part * (tone - self.rgb[box])
        self.unsure[box] = np.where(part[..., 0] > 0.5, np.float32(unsure), self.unsure[box])


def around(shape: Floats, *, margin: int = 0) -> Box:
    """The rows and columns in which a shape is, and a margin; inside the frame."""
    rows, columns = np.flatnonzero(shape.max(axis=1)), np.flatnonzero(shape.max(axis=0))
    if not len(rows):
        return slice(0, 1), slice(0, 1)
    top, left = max(0, int(rows[0]) - margin), max(0, int(columns[0]) - margin)
    return slice(top, int(rows[-1]) + 1 + margin), slice(left, int(columns[-1]) + 1 + margin)


def furnish(rng: Rng, canvas: Canvas, quads: Sequence[Quad], cut: Cut) -> None:
    """Put what lies under and beside the prints into the scene."""
    if rng.uniform() < 0.22:
        _second_ground(rng, canvas, cut)
    if quads and rng.uniform() < 0.2:
        _board(rng, canvas, quads, cut)
    if rng.uniform() < 0.5:
        for _ in range(int(rng.integers(1, 7))):
            things = (_disc, _blot, _stick, _blot, _box, _corner_of_a_sheet)
            things[int(rng.integers(len(things)))](rng, canvas, cut)


def _drawn(canvas: Canvas, points: Floats, soft: float = 0.7) -> Floats:
    shape = np.zeros((canvas.size[1], canvas.size[0]), np.float32)
    cv2.fillPoly(shape, [points.astype(np.int32)], 1.0)
    return np.asarray(cv2.GaussianBlur(shape, (0, 0), soft), np.float32)


def _filling(rng: Rng, cut: Cut) -> Floats:
    return cut() if rng.uniform() < 0.5 else np.asarray(colour(rng)[None, None], np.float32)


def _anywhere(rng: Rng, canvas: Canvas) -> Floats:
    return np.asarray(rng.uniform(-0.05, 1.05, 2) * canvas.size, np.float32)


def _second_ground(rng: Rng, canvas: Canvas, cut: Cut) -> None:
    """The stage ends: another surface beyond a straight line, or beyond a corner."""
    angle = rng.uniform(0, 2 * np.pi)
    normal, along = np.array([np.cos(angle), np.sin(angle)]), np.array([-np.sin(angle), np.cos(angle)])
    start = np.array(canvas.size) / 2 + normal * rng.uniform(0.15, 0.5) * min(canvas.size)
    side = along * 1200
    corner = start if rng.uniform() < 0.3 else start - side
    shape = _drawn(canvas, np.array([corner, start + side, start + side + normal * 1200, corner + normal * 1200]))
    canvas.put(rng, shape, cut(), thick=3.0)


def _board(rng: Rng, canvas: Canvas, quads: Sequence[Quad], cut: Cut) -> None:
    """An album page, a mat or a sheet on which the prints lie: no print itself."""
    hull = np.concatenate(quads).astype(np.float32)
    middle, size, angle = cv2.minAreaRect(hull)
    size = np.array(size) * rng.uniform(1.08, 1.9, 2) + 12
    points = cv2.boxPoints((middle, tuple(float(s) for s in size), float(angle + rng.normal(0, 4))))
    canvas.put(rng, _drawn(canvas, points), _filling(rng, cut))


def _disc(rng: Rng, canvas: Canvas, cut: Cut) -> None:
    """Plates, cups, lids: ellipses, mostly with another inside."""
    centre, radii = _anywhere(rng, canvas), rng.uniform(12, 150) * rng.uniform(0.6, 1, 2)
    for share in (1.0, rng.uniform(0.4, 0.95))[: int(rng.integers(1, 3))]:
        shape = np.zeros((canvas.size[1], canvas.size[0]), np.float32)
        box = (
            tuple(float(c) for c in centre),
            tuple(float(2 * r * share) for r in radii),
            float(rng.uniform(0, 180)),
        )
        cv2.ellipse(shape, box, 1.0, -1, cv2.LINE_AA)
        canvas.put(rng, shape, _filling(rng, cut), thick=rng.uniform(0.3, 4))


def _blot(rng: Rng, canvas: Canvas, cut: Cut) -> None:
    """Cloths, bags, crumpled paper: an outline that wanders."""
    turns = np.linspace(0, 2 * np.pi, 90, endpoint=False)
    reach = 1 + sum(rng.normal(0, 0.3 / k) * np.cos(k * turns + rng.uniform(0, 6)) for k in range(2, 8))
    away = np.stack([np.cos(turns), np.sin(turns)], axis=1) * reach[:, None] * rng.uniform(15, 170)
    points = _anywhere(rng, canvas) + away * rng.uniform(0.4, 1, 2)
    canvas.put(rng, _drawn(canvas, points, rng.uniform(0.6, 3)), _filling(rng, cut), thick=rng.uniform(0.3, 4))


def _stick(rng: Rng, canvas: Canvas, cut: Cut) -> None:
    """Pens, cables, rulers, straps."""
    shape = np.zeros((canvas.size[1], canvas.size[0]), np.float32)
    start, step = _anywhere(rng, canvas), rng.normal(0, 40, 2)
    bend = rng.choice([0.0, rng.uniform(0, 0.4)])
    points = [start]
    for _ in range(int(rng.integers(4, 16))):
        turn = rng.normal(0, bend)
        step = np.array([[np.cos(turn), -np.sin(turn)], [np.sin(turn), np.cos(turn)]]) @ step
        points.append(points[-1] + step)
    cv2.polylines(shape, [np.array(points).astype(np.int32)], False, 1.0, int(rng.integers(2, 26)), cv2.LINE_AA)
    canvas.put(rng, shape, _filling(rng, cut), thick=rng.uniform(0.3, 3))


def _box(rng: Rng, canvas: Canvas, cut: Cut) -> None:
    """Books, cases, boxes: a rectangle with a side that shows; may be called a print or not."""
    centre, size = _anywhere(rng, canvas), rng.uniform(40, 240, 2)
    points = cv2.boxPoints(
        (tuple(float(c) for c in centre), tuple(float(s) for s in size), float(rng.uniform(0, 180)))
    )
    rise = rng.normal(0, 12, 2)
    hull = cv2.convexHull(np.concatenate([points, points + rise]).astype(np.float32))
    canvas.put(rng, _drawn(canvas, hull), np.asarray(colour(rng)[None, None]), thick=3.0, unsure=True)
    canvas.put(rng, _drawn(canvas, points), _filling(rng, cut), thick=0.2, unsure=True)


def _corner_of_a_sheet(rng: Rng, canvas: Canvas, cut: Cut) -> None:
    """Something straight that the frame cuts off: may be called a print or not."""
    size = np.array(canvas.size, float)
    angle = rng.uniform(0, 2 * np.pi)
    centre = size / 2 + np.array([np.cos(angle), np.sin(angle)]) * size * rng.uniform(0.5, 0.7)
    points = cv2.boxPoints(
        (
            tuple(float(c) for c in centre),
            tuple(float(s) for s in rng.uniform(80, 420, 2)),
            float(rng.uniform(0, 180)),
        )
    )
    canvas.put(rng, _drawn(canvas, points), _filling(rng, cut), thick=rng.uniform(0.5, 3), unsure=True)


def cover(rng: Rng, canvas: Canvas, quads: Sequence[Quad]) -> None:
    """Fingers and thin things over a print's edge; what they hide still counts as print."""
    if not quads:
        return
    if rng.uniform() < 0.14:
        _fingers(rng, canvas, quads)
    if rng.uniform() < 0.08:
        _stick(rng, canvas, lambda: np.asarray(colour(rng)[None, None], np.float32))


def _fingers(rng: Rng, canvas: Canvas, quads: Sequence[Quad]) -> None:
    """One to four fingers that hold a print by its edge, from outside it."""
    quad = quads[int(rng.integers(len(quads)))]
    side, share = int(rng.integers(4)), rng.uniform(0.1, 0.9)
    on_edge = quad[side] * (1 - share) + quad[(side + 1) % 4] * share
    away = on_edge - quad.mean(axis=0)
    away = away / (np.linalg.norm(away) + 1e-6)
    aside = np.array([-away[1], away[0]])
    wide = float(rng.uniform(10, 34))
    skin = colour(rng, (6, 30), 0.7, float(rng.uniform(0.25, 0.95)))
    for finger in range(int(rng.integers(1, 5))):
        tip = on_edge - away * rng.uniform(-0.2, 1.2) * wide + aside * finger * wide * 1.05
        root = tip + (away + rng.normal(0, 0.25, 2)) * rng.uniform(200, 700)
        shape = np.zeros((canvas.size[1], canvas.size[0]), np.float32)
        cv2.line(shape, [int(v) for v in tip], [int(v) for v in root], 1.0, int(wide), cv2.LINE_AA)
        round_ = cv2.GaussianBlur(shape, (0, 0), wide / 4)
        canvas.put(rng, shape, skin * (0.55 + 0.5 * round_[..., None]), thick=2.0)
        nail = [int(v) for v in tip - away * wide * 0.05]
        if rng.uniform() < 0.5:
            spot = np.zeros_like(shape)
            cv2.circle(spot, nail, max(2, int(wide / 3.4)), 0.6, -1, cv2.LINE_AA)
            canvas.rgb += spot[..., None] * (np.minimum(1, skin * np.float32(1.25)) - canvas.rgb)
