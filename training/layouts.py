"""Where prints lie in a scene: one, several apart, several that touch, or none.

Convention: canvas pixels, corners (4, 2) clockwise on screen from the sheet's own top left.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray
from textures import Rng

Quad = NDArray[np.float64]


def layout(rng: Rng, canvas: tuple[int, int]) -> list[Quad]:
    """The quads of one scene, inside the canvas but for a few that its frame cuts off."""
    form = rng.choice(5, p=[0.08, 0.36, 0.18, 0.16, 0.22])
    if form == 0:
        return []
    flat = (_one, _apart, _block, _cluster)[int(form) - 1](rng, canvas)
    return _kept(_seen_askew(rng, flat, canvas), canvas, cut=form == 1 and rng.uniform() < 0.12)


def _aspect(rng: Rng) -> float:
    """Longer side over shorter, as sheets have it (common practice, no source)."""
    return float(rng.choice([1.0, 1.25, 1.33, 1.4, 1.5, 1.5, 1.6, rng.uniform(1, 2.2)]))


def _rectangle(centre: NDArray[np.float64], size: NDArray[np.float64], degrees: float) -> Quad:
    return np.array([[-1, -1], [1, -1], [1, 1], [-1, 1]]) * size / 2 @ _turn(degrees) + centre


def _turn(degrees: float) -> NDArray[np.float64]:
    angle = np.radians(degrees)
    return np.array([[np.cos(angle), np.sin(angle)], [-np.sin(angle), np.cos(angle)]])


def _angle(rng: Rng) -> float:
    """Any angle, or laid straight by hand."""
    return float(rng.uniform(-180, 180) if rng.uniform() < 0.55 else 90 * rng.integers(4) + rng.normal(0, 5))


def _one(rng: Rng, canvas: tuple[int, int]) -> list[Quad]:
    size = np.array([_aspect(rng), 1.0])[:: int(rng.choice([-1, 1]))]
    quad = _rectangle(np.zeros(2), size, _angle(rng))
    reach = np.ptp(quad, axis=0)
    largest = float((np.array(canvas) * 0.97 / reach).min())
    quad *= largest * rng.choice([rng.uniform(0.16, 1.0), rng.uniform(0.35, 0.95)])
    free = np.array(canvas) - np.ptp(quad, axis=0)
    return [quad - quad.min(axis=0) + rng.uniform(0.01, 0.99, 2) * free]


def _apart(rng: Rng, canvas: tuple[int, int]) -> list[Quad]:
    columns, rows = ((2, 1), (2, 2), (3, 2), (3, 2), (4, 2), (3, 3))[int(rng.integers(6))]
    cell = np.array(canvas) / (columns, rows)
    quads, straight, aspect = [], rng.uniform() < 0.4, _aspect(rng)
    for place in range(columns * rows):
        size = np.array([aspect if rng.uniform() < 0.5 else _aspect(rng), 1.0])
        quad = _rectangle(np.zeros(2), size, rng.normal(0, 4) + 90 * rng.integers(2) if straight else _angle(rng))
        quad *= float((cell * rng.uniform(0.55, 0.97) / np.ptp(quad, axis=0)).min())
        free = cell - np.ptp(quad, axis=0)
        at = np.array([place % columns, place // columns]) * cell + rng.uniform(0.02, 0.98, 2) * free
        quads.append(quad - quad.min(axis=0) + at)
    keep = rng.permutation(len(quads))[: int(rng.integers(2, len(quads) + 1))]
    return [quads[k] for k in keep]


def _block(rng: Rng, canvas: tuple[int, int]) -> list[Quad]:
    """A block of sheets edge to edge, or nearly, turned as one."""
    columns, rows = ((2, 1), (1, 2), (2, 2), (3, 1), (3, 2))[int(rng.integers(5))]
    same, base = rng.uniform() < 0.6, np.array([_aspect(rng), 1.0])[:: int(rng.choice([-1, 1]))]
    quads, y = [], 0.0
    for _ in range(rows):
        x, tall = 0.0, 0.0
        for _ in range(columns):
            size = base if same else base * rng.uniform(0.7, 1.2, 2)
            jitter = rng.uniform(0, 0.2) * rng.choice([0, 1])
            centre = np.array([x + size[0] / 2, y + size[1] / 2 + jitter])
            quads.append(_rectangle(centre, size, rng.choice([0, 1]) * rng.normal(0, 1.2)))
            x += size[0] + rng.choice([0.0, rng.uniform(-0.005, 0.03)])
            tall = max(tall, size[1] + jitter)
        y += tall + rng.choice([0.0, rng.uniform(-0.005, 0.03)])
    return _turned_as_one(rng, quads, canvas)


def _cluster(rng: Rng, canvas: tuple[int, int]) -> list[Quad]:
    """Sheets of different sizes, each laid against a side of one before, anywhere along it."""
    boxes: list[NDArray[np.float64]] = []
    base, number = np.array([_aspect(rng), 1.0]), int(rng.integers(2, 9))
    for _ in range(6 * number):
        size = base[:: int(rng.choice([-1, 1]))] * rng.uniform(0.7, 1.25)
        low = np.zeros(2)
        if boxes:
            beside, side = boxes[int(rng.integers(len(boxes)))], int(rng.integers(4))
            axis, gap = side % 2, rng.choice([0.0, 0.0, rng.uniform(-0.004, 0.03)])
            low[axis] = beside[1, axis] + gap if side < 2 else beside[0, axis] - size[axis] - gap
            low[1 - axis] = rng.uniform(beside[0, 1 - axis] - 0.7 * size[1 - axis], beside[1, 1 - axis] - 0.3)
        box = np.array([low, low + size])
        if all((np.minimum(box[1], b[1]) - np.maximum(box[0], b[0])).min() < 0.01 for b in boxes):
            boxes.append(box)
        if len(boxes) == number:
            break
    askew = rng.choice([0.0, 0.0, 1.0])
    quads = [_rectangle(b.mean(axis=0), b[1] - b[0], askew * rng.normal(0, 1.0)) for b in boxes]
    return _turned_as_one(rng, quads, canvas)


def _turned_as_one(rng: Rng, quads: list[Quad], canvas: tuple[int, int]) -> list[Quad]:
    whole = np.concatenate(quads) @ _turn(_angle(rng))
    whole = whole * float((np.array(canvas) * rng.uniform(0.45, 0.97) / np.ptp(whole, axis=0)).min())
    whole += rng.uniform(0.01, 0.99, 2) * (np.array(canvas) - np.ptp(whole, axis=0)) - whole.min(axis=0)
    return list(whole.reshape(-1, 4, 2))


def _seen_askew(rng: Rng, quads: list[Quad], canvas: tuple[int, int]) -> list[Quad]:
    """The plane seen from a little aside."""
    lean = rng.normal(0, rng.choice([0.0, 0.06, 0.12]), 2) / np.array(canvas)
    middle = np.array(canvas) / 2
    return [middle + (q - middle) / (1 + (q - middle) @ lean)[:, None] for q in quads]


def _kept(quads: list[Quad], canvas: tuple[int, int], *, cut: bool) -> list[Quad]:
    """Quads inside the frame; where `cut`, the scene moved so that the frame cuts through it."""
    if cut:
        middle = np.concatenate(quads).mean(axis=0)
        quads = [q + (np.array(canvas) / 2 - middle) * -0.9 for q in quads]
    whole = [q for q in quads if (q > 2).all() and (q < np.array(canvas) - 3).all()]
    return quads if cut else whole
