"""Surfaces that prints may lie on, drawn by chance: none is a picture of a real one.

Convention: (height, width, 3) float32, encoded sRGB from 0 to 1. Every surface is drawn around a random scale and
coloured at random, mostly in the colours that its material has.
"""

from __future__ import annotations

from collections.abc import Callable

import cv2
import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float32]
Rng = np.random.Generator

SIDE = 720
"""Pixels a side of a drawn surface: enough to cut a scene from at any angle and scale."""


def surface(rng: Rng) -> Floats:
    """One surface of any material."""
    materials = list(MATERIALS)
    weights = np.array([MATERIALS[m] for m in materials], float)
    return np.clip(materials[int(rng.choice(len(materials), p=weights / weights.sum()))](rng), 0, 1)


def noise(rng: Rng, scale: float, *, stretch: float = 1.0) -> Floats:
    """Smooth noise of unit spread with features of about `scale` pixels, `stretch` times longer than wide."""
    rows, columns = (max(3, round(SIDE / (scale * s))) for s in (1.0, stretch))
    small = rng.standard_normal((min(rows, SIDE), min(columns, SIDE)), np.float32)
    return np.asarray(cv2.resize(small, (SIDE, SIDE), interpolation=cv2.INTER_CUBIC), np.float32)


def octaves(rng: Rng, scale: float, *, number: int = 4, fall: float = 0.6, stretch: float = 1.0) -> Floats:
    """Noise of several scales, each half of the one before and `fall` times as strong."""
    total = sum(fall**i * noise(rng, max(1.0, scale / 2**i), stretch=stretch) for i in range(number))
    return np.asarray(total / np.sqrt(sum(fall ** (2 * i) for i in range(number))), np.float32)


def colour(
    rng: Rng, hues: tuple[float, float] = (0, 360), saturation: float = 0.6, value: float | None = None
) -> Floats:
    """A colour of the given range of hues, mostly dull."""
    hue = rng.uniform(*hues) % 360
    value = rng.uniform(0.06, 0.97) if value is None else value
    hsv = np.array([[[hue, saturation * rng.uniform(0, 1) ** 1.5, value]]], np.float32)
    return np.asarray(cv2.cvtColor(hsv, cv2.COLOR_HSV2RGB)[0, 0], np.float32)


def tinted(rng: Rng, field: Floats, base: Floats, contrast: float) -> Floats:
    """`base` lightened and darkened by a field of unit spread, its hue drifting a little with it."""
    gain = np.exp(contrast * field)[..., None]
    drift = 1 + 0.15 * contrast * field[..., None] * rng.standard_normal(3).astype(np.float32)
    return np.asarray(base * gain * drift, np.float32)


def warm(rng: Rng) -> Floats:
    """Browns, beiges, greys: what floors and tables are mostly."""
    return colour(rng, (10, 55), 0.75) if rng.uniform() < 0.7 else colour(rng)


def embossed(field: Floats, rng: Rng, depth: float = 1.0) -> Floats:
    """A field as a low light from one side shows it."""
    angle, step = rng.uniform(0, 2 * np.pi), rng.uniform(1.0, 2.5)
    move = np.array([[1, 0, step * np.cos(angle)], [0, 1, step * np.sin(angle)]])
    moved = cv2.warpAffine(field, move, (SIDE, SIDE), borderMode=cv2.BORDER_REFLECT)
    return np.asarray(field + depth * (field - moved), np.float32)


def plain(rng: Rng) -> Floats:
    """Paper, board, felt, paint: one colour, a little unevenness and grain."""
    value = rng.choice([rng.uniform(0.02, 0.2), rng.uniform(0.2, 0.8), rng.uniform(0.8, 0.98)])
    field = rng.uniform(0, 0.06) * noise(rng, rng.uniform(80, 400))
    field += rng.choice([0.0, rng.uniform(0, 0.12)]) * noise(rng, rng.uniform(1, 3))
    return tinted(rng, field, colour(rng, value=float(value)), 1.0)


def carpet(rng: Rng) -> Floats:
    """Tufts: round features, lit from one side, darker between."""
    tuft = rng.uniform(2, 14)
    field = embossed(octaves(rng, tuft, number=3, fall=0.8), rng, rng.uniform(0, 1.5))
    field = np.where(field < 0, field * rng.uniform(1, 2), field * rng.uniform(0.4, 1)).astype(np.float32)
    field += rng.uniform(0, 0.6) * noise(rng, rng.uniform(60, 240))
    return tinted(rng, field, warm(rng), rng.uniform(0.08, 0.42))


def _ramps() -> tuple[Floats, Floats]:
    y, x = np.mgrid[0:SIDE, 0:SIDE].astype(np.float32)
    return x, y


def woven(rng: Rng) -> Floats:
    """Cloth and canvas: two families of threads, creased at random."""
    x, y = _ramps()
    pitch = rng.uniform(2.5, 14)
    bend = rng.uniform(0, 2) * noise(rng, 60)
    threads = np.sin(2 * np.pi * (x + bend) / pitch) * np.sin(
        2 * np.pi * (y + bend) / (pitch * rng.uniform(0.7, 1.4))
    )
    field = rng.uniform(0.02, 0.25) * threads + rng.uniform(0, 0.15) * noise(rng, pitch, stretch=rng.uniform(1, 6))
    return tinted(rng, field + _folds(rng), colour(rng), 1.0)


def cloth(rng: Rng) -> Floats:
    """A thin cloth thrown down: folds, often dark."""
    value = rng.uniform(0.05, 0.3) if rng.uniform() < 0.5 else None
    field = _folds(rng) * rng.uniform(1, 2) + rng.uniform(0, 0.12) * noise(rng, rng.uniform(1, 3))
    return tinted(rng, field, colour(rng, value=value), 1.0)


def _folds(rng: Rng) -> Floats:
    size = rng.uniform(60, 300)
    relief = noise(rng, size, stretch=rng.uniform(1, 3)) + 0.5 * noise(rng, size / 2)
    ridges = 1 - np.abs(relief) ** rng.uniform(0.4, 1)
    return rng.choice([0.0, rng.uniform(0.05, 0.35)]) * embossed(
        ridges.astype(np.float32), rng, rng.uniform(2, 12)
    )


def wood(rng: Rng) -> Floats:
    """Boards: grain along them, rings, gaps between boards, knots of noise."""
    _, y = _ramps()
    grain = octaves(rng, rng.uniform(2, 6), number=3, stretch=rng.uniform(8, 30))
    rings = np.sin((y + rng.uniform(2, 25) * noise(rng, 90, stretch=4)) * 2 * np.pi / rng.uniform(8, 50))
    field = rng.uniform(0.03, 0.22) * grain + rng.uniform(0, 0.12) * rings
    board = rng.uniform(60, 500)
    if rng.uniform() < 0.6:
        tones = rng.normal(0, rng.uniform(0, 0.15), SIDE).astype(np.float32)
        field += tones[(y / board).astype(int)]
        field -= rng.uniform(0.2, 2.5) * (np.mod(y, board) < rng.uniform(1, 7))
    return tinted(rng, field.astype(np.float32), colour(rng, (8, 42), 0.9), 1.0)


def tiles(rng: Rng) -> Floats:
    """Tiles with joints, each tile a little different."""
    x, y = _ramps()
    wide, high = rng.uniform(50, 320) * np.array([1, rng.choice([1, 1, 0.5, rng.uniform(0.3, 1)])])
    joint = rng.uniform(1, 10)
    shift = np.mod(np.floor(y / high), 2) * wide * rng.choice([0, 0, 0.5])
    tone = rng.normal(0, rng.uniform(0, 0.12), (64, 64)).astype(np.float32)
    field = tone[(y / high).astype(int) % 64, ((x + shift) / wide).astype(int) % 64]
    field = field + rng.uniform(0.01, 0.12) * octaves(rng, rng.uniform(10, 80))
    between = (np.mod(x + shift, wide) < joint) | (np.mod(y, high) < joint)
    soft = cv2.GaussianBlur(between.astype(np.float32), (0, 0), rng.uniform(0.5, 1.5))[..., None]
    tile, fill = tinted(rng, field.astype(np.float32), warm(rng), 1.0), warm(rng)
    return np.asarray(tile * (1 - soft) + fill * np.exp(0.1 * noise(rng, 2))[..., None] * soft, np.float32)


def stone(rng: Rng) -> Floats:
    """Marble, concrete, terrazzo: veins, clouds and speckles."""
    veins = np.abs(octaves(rng, rng.uniform(60, 300), number=5)) ** rng.uniform(0.3, 1)
    field = -rng.uniform(0, 0.5) * np.exp(-6 * veins) + rng.uniform(0.02, 0.2) * octaves(rng, rng.uniform(20, 200))
    speckle = (noise(rng, rng.uniform(1.5, 6)) > rng.uniform(1, 2)).astype(np.float32)
    field += rng.uniform(-0.4, 0.4) * speckle + rng.uniform(0, 0.15) * noise(rng, 1.2)
    return tinted(rng, field.astype(np.float32), warm(rng), 1.0)


def patterned(rng: Rng) -> Floats:
    """Printed cloth, oilcloth, wrapping paper: a small drawing repeated, stripes or checks."""
    size = int(rng.integers(16, 160))
    piece = np.empty((size, size, 3), np.float32)
    piece[:] = colour(rng)
    for _ in range(int(rng.integers(1, 6))):
        points = rng.integers(-size // 3, size + size // 3, (int(rng.integers(3, 6)), 1, 2)).astype(np.int32)
        tone = tuple(float(c) for c in colour(rng))
        match rng.integers(3):
            case 0:
                cv2.fillPoly(piece, [points], tone)
            case 1:
                cv2.circle(piece, [int(v) for v in points[0, 0]], int(rng.integers(2, size // 2)), tone, -1)
            case _:
                cv2.rectangle(piece, (0, int(points[0, 0, 1])), (size, int(points[1, 0, 1])), tone, -1)
    whole = np.tile(piece, (SIDE // size + 1, SIDE // size + 1, 1))[:SIDE, :SIDE]
    soft = cv2.GaussianBlur(whole, (0, 0), rng.uniform(0.4, 1.5))
    return tinted(rng, _folds(rng) + rng.uniform(0, 0.1) * noise(rng, 2), np.float32(1), 1.0) * soft


def clouded(rng: Rng) -> Floats:
    """Anything else: noise of any scale in two colours."""
    share = 1 / (1 + np.exp(-rng.uniform(0.5, 6) * octaves(rng, rng.uniform(3, 300), stretch=rng.uniform(1, 8))))
    return np.asarray(colour(rng) * share[..., None] + colour(rng) * (1 - share[..., None]), np.float32)


MATERIALS: dict[Callable[[Rng], Floats], float] = {
    plain: 3.0,
    carpet: 3.0,
    woven: 1.5,
    cloth: 1.5,
    wood: 2.5,
    tiles: 1.5,
    stone: 1.5,
    patterned: 0.7,
    clouded: 1.0,
}
"""Materials and how often each is drawn."""
