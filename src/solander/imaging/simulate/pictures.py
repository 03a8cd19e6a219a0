"""Pictures to print, drawn by code: landscapes and townscapes that look like small old photographs.

They hold what makes a print's edge hard to find: skies as bright as the paper, ground as dark as the stage, both
reaching the picture's edge, and doors, windows and sails, rectangles inside the rectangle.
"""

from __future__ import annotations

import cv2
import numpy as np
from numpy.typing import NDArray

from solander.imaging.simulate.light import Linear, Rgb, clouds

__all__ = ["drawn_picture"]

_Colour = tuple[float, float, float]
_STYLES = ("town", "hills", "harbour")


def drawn_picture(seed: int, size: tuple[int, int] = (900, 600), *, style: str | None = None) -> Rgb:
    """A drawn picture, (height, width, 3) uint8 sRGB; `size` is (width, height).

    `style` is "town", "hills" or "harbour"; None lets the seed choose. The same seed gives the same bytes.
    """
    rng = np.random.default_rng([seed, 7])
    chosen = style or str(rng.choice(_STYLES))
    canvas = _sky(rng, size)
    horizon = int(size[1] * rng.uniform(0.4, 0.58))
    _ranges(canvas, rng, horizon)
    if chosen == "harbour":
        _sea(canvas, rng, horizon)
        _boats(canvas, rng, horizon)
    else:
        _ground(canvas, rng, horizon)
        if chosen == "town":
            _street(canvas, rng, horizon)
        _trees(canvas, rng, horizon, count=3 if chosen == "town" else 9)
    return _photographed(canvas, rng)


def _sky(rng: np.random.Generator, size: tuple[int, int]) -> Linear:
    down = np.linspace(0, 1, size[1], dtype=np.float32)[:, None, None]
    top, low = np.array([0.46, 0.6, 0.78], np.float32), np.array([0.88, 0.9, 0.9], np.float32)
    sky = np.repeat(top + (low - top) * down**0.7, size[0], axis=1)
    w, h = size
    puffs = (
        clouds(rng, size, cell=(w / 4, h / 7))
        + 0.6 * clouds(rng, size, cell=(w / 9, h / 15))
        + 0.3 * clouds(rng, size, cell=(w / 24, h / 36))
    )
    white = np.clip((puffs - rng.uniform(0, 0.9)) * 0.8, 0, 1)[..., None]
    return np.asarray(sky + (0.97 - sky) * white, np.float32)


def _ridge(rng: np.random.Generator, width: int, *, level: float, height: float) -> NDArray[np.float32]:
    ridge = sum(clouds(rng, (width, 2), cell=(width / n, 2))[0] / n**0.8 for n in (2, 5, 12, 31))
    return np.asarray(level - height * ridge, np.float32)


def _ranges(canvas: Linear, rng: np.random.Generator, horizon: int) -> None:
    """Three ranges of hills, the farther the paler."""
    height, width = canvas.shape[:2]
    rows = np.arange(height, dtype=np.float32)[:, None]
    for haze in (0.75, 0.5, 0.2):
        line = _ridge(rng, width, level=horizon - haze * height * 0.12, height=height * 0.05 * (0.5 + haze))
        mask = np.clip(rows - line[None], 0, 1)[..., None]
        tone = (
            np.array([0.24, 0.32, 0.24], np.float32) * (1 - haze) + np.array([0.66, 0.72, 0.78], np.float32) * haze
        )
        grain = 1 + 0.12 * (1 - haze) * clouds(rng, (width, height), cell=(7, 5))[..., None]
        canvas += (tone * grain - canvas) * mask


def _ground(canvas: Linear, rng: np.random.Generator, horizon: int) -> None:
    width = canvas.shape[1]
    field = canvas[horizon:]
    near = np.linspace(0, 1, len(field), dtype=np.float32)[:, None]
    tone = 0.46 - 0.2 * near + 0.09 * clouds(rng, (width, len(field)), cell=(width / 6, 14))
    tone += 0.05 * (0.3 + near) * clouds(rng, (width, len(field)), cell=(4, 3))
    field[:] = np.clip(tone, 0.03, 1)[..., None] * np.array([0.95, 1.0, 0.62], np.float32)
    _path(field, rng)


def _path(field: Linear, rng: np.random.Generator) -> None:
    height, width = field.shape[:2]
    start, end = rng.uniform(0.35, 0.65), rng.uniform(0.2, 0.8)
    down = np.linspace(0, 1, height)
    middle = width * (start + (end - start) * down**1.4 + 0.04 * np.sin(5 * down))
    half = width * (0.004 + 0.12 * down**1.3)
    outline = np.concatenate(
        [
            np.column_stack([middle - half, np.arange(height)]),
            np.column_stack([middle + half, np.arange(height)])[::-1],
        ]
    )
    cv2.fillPoly(field, [np.rint(outline).astype(np.int32)], (0.74, 0.7, 0.6), cv2.LINE_AA)


def _sea(canvas: Linear, rng: np.random.Generator, horizon: int) -> None:
    height, width = canvas.shape[:2]
    water = canvas[horizon:]
    near = np.linspace(0, 1, len(water), dtype=np.float32)[:, None]
    waves = clouds(rng, (width, len(water)), cell=(26, 4)) * (0.25 + near) + clouds(
        rng, (width, len(water)), cell=(width / 5, 30)
    )
    tone = 0.62 - 0.3 * near + 0.055 * waves
    water[:] = np.clip(tone, 0.04, 1)[..., None] * np.array([0.78, 0.92, 1.0], np.float32)
    quay = np.array([[0, 0.86], [0.3, 0.82], [0.42, 1.0], [0, 1.0]]) * [width, height]
    cv2.fillPoly(canvas, [quay.astype(np.int32)], (0.2, 0.19, 0.18), cv2.LINE_AA)


def _boats(canvas: Linear, rng: np.random.Generator, horizon: int) -> None:
    height, width = canvas.shape[:2]
    for depth in np.sort(rng.uniform(0.08, 0.75, 4)):
        at = np.array([rng.uniform(0.1, 0.9) * width, horizon + depth * (height - horizon) * 0.8])
        _boat(canvas, at, (0.05 + 0.13 * depth) * width, sail=float(rng.uniform(0.72, 0.95)))


def _boat(canvas: Linear, at: NDArray[np.float64], length: float, *, sail: float) -> None:
    hull = np.array([[-0.5, -0.1], [0.55, -0.16], [0.38, 0.06], [-0.36, 0.06]])
    main = np.array([[0.02, -0.2], [0.02, -1.15], [-0.45, -0.24]])
    jib = np.array([[0.06, -0.2], [0.06, -1.0], [0.42, -0.22]])
    mirrored = hull * [1, -1.4] + [0, 0.05]
    _polygon(canvas, at + mirrored * length, (0.24, 0.28, 0.3))
    _polygon(canvas, at + main * length, (sail, sail * 0.97, sail * 0.88))
    _polygon(canvas, at + jib * length, (sail * 0.86, sail * 0.84, sail * 0.78))
    _polygon(canvas, at + hull * length, (0.17, 0.12, 0.1))
    mast = (at + np.array([[0.04, -0.1], [0.04, -1.2]]) * length).astype(int)
    cv2.line(canvas, mast[0].tolist(), mast[1].tolist(), (0.1, 0.09, 0.08), max(1, int(length / 60)), cv2.LINE_AA)


def _street(canvas: Linear, rng: np.random.Generator, horizon: int) -> None:
    """A row of gabled houses with doors and windows, the last ones cut by the picture's edge."""
    height, width = canvas.shape[:2]
    left, foot = -rng.uniform(0, 0.1) * width, horizon + rng.uniform(0.1, 0.2) * height
    while left < width:
        wide, tall = rng.uniform(0.16, 0.28) * width, rng.uniform(0.24, 0.42) * height
        if rng.uniform() < 0.85:
            _house(canvas, rng, box=(left, foot - tall, wide, tall))
        left += wide * rng.uniform(1.0, 1.12)


def _house(canvas: Linear, rng: np.random.Generator, *, box: tuple[float, float, float, float]) -> None:
    left, top, wide, tall = box
    wall = np.array([(0.86, 0.82, 0.74), (0.5, 0.24, 0.18), (0.72, 0.62, 0.4), (0.4, 0.42, 0.4)])[rng.integers(4)]
    roof = np.array([(0.16, 0.13, 0.13), (0.34, 0.17, 0.13), (0.24, 0.25, 0.27)])[rng.integers(3)]
    gable = np.array([[-0.05, 0], [0.5, -0.38 * rng.uniform(0.7, 1.2)], [1.05, 0]]) * [wide, tall] + [left, top]
    shadow = np.array([[0, 0.98], [1.25, 1.06], [1.2, 1.1], [0, 1.04]]) * [wide, tall] + [left, top]
    _polygon(canvas, shadow, (0.16, 0.16, 0.13))
    _rectangle(canvas, (left, top, wide, tall), tuple(wall))
    _rectangle(canvas, (left + 0.82 * wide, top, 0.18 * wide, tall), tuple(wall * 0.8))
    _polygon(canvas, gable, tuple(roof))
    _rectangle(canvas, (left + 0.7 * wide, top - 0.36 * tall, 0.09 * wide, 0.3 * tall), tuple(wall * 0.6))
    _openings(canvas, rng, box)


def _openings(canvas: Linear, rng: np.random.Generator, box: tuple[float, float, float, float]) -> None:
    left, top, wide, tall = box
    columns = int(rng.integers(2, 4))
    door = int(rng.integers(columns))
    for column in range(columns):
        x = left + wide * (column + 0.5) / columns - 0.085 * wide
        _window(canvas, (x, top + 0.14 * tall, 0.17 * wide, 0.24 * tall))
        if column == door:
            _rectangle(canvas, (x, top + 0.55 * tall, 0.17 * wide, 0.45 * tall), (0.12, 0.14, 0.12))
        else:
            _window(canvas, (x, top + 0.56 * tall, 0.17 * wide, 0.26 * tall))


def _window(canvas: Linear, box: tuple[float, float, float, float]) -> None:
    left, top, wide, tall = box
    _rectangle(canvas, (left - 0.1 * wide, top - 0.1 * tall, 1.2 * wide, 1.2 * tall), (0.9, 0.89, 0.85))
    for x in (0.0, 0.54):
        for y in (0.0, 0.54):
            pane = (left + x * wide, top + y * tall, 0.46 * wide, 0.46 * tall)
            _rectangle(canvas, pane, (0.1, 0.12, 0.15) if x + y < 1 else (0.2, 0.24, 0.28))


def _trees(canvas: Linear, rng: np.random.Generator, horizon: int, *, count: int) -> None:
    height, width = canvas.shape[:2]
    for depth in np.sort(rng.uniform(0.02, 0.6, count)):
        foot = np.array([rng.uniform(-0.02, 1.02) * width, horizon + depth * (height - horizon)])
        _tree(canvas, rng, foot, tall=(0.1 + 0.4 * depth) * height)


def _tree(canvas: Linear, rng: np.random.Generator, foot: NDArray[np.float64], *, tall: float) -> None:
    top, crown = foot - [0, tall * 0.5], foot - [0, tall * 0.72]
    shadow = foot + np.array([0.2, 0]) * tall
    cv2.ellipse(canvas, _whole(shadow), _whole((0.35 * tall, 0.05 * tall)), 0, 0, 360, (0.12, 0.14, 0.09), -1)
    cv2.line(canvas, _whole(foot), _whole(top), (0.11, 0.09, 0.07), max(1, int(tall / 14)), cv2.LINE_AA)
    for share in np.linspace(0, 1, 110):
        # Leaves from the dark inside and below to the lit ones above; a disc, so that none flies off.
        angle, reach = rng.uniform(0, 2 * np.pi), np.sqrt(rng.uniform(0, 1))
        away = np.array([0.27 * np.cos(angle), 0.3 * np.sin(angle)]) * reach * tall
        lit = 0.07 + 0.16 * share * np.clip(0.7 - away[1] / (0.45 * tall) - away[0] / (0.7 * tall), 0, 1.5)
        radius = max(1, int(tall * rng.uniform(0.02, 0.055)))
        cv2.circle(canvas, _whole(crown + away), radius, (lit * 0.9, lit, lit * 0.55), -1, cv2.LINE_AA)


def _whole(values: NDArray[np.float64] | tuple[float, float]) -> tuple[int, int]:
    return int(values[0]), int(values[1])


def _rectangle(canvas: Linear, box: tuple[float, float, float, float], colour: _Colour) -> None:
    left, top, wide, tall = box
    _polygon(
        canvas, np.array([[left, top], [left + wide, top], [left + wide, top + tall], [left, top + tall]]), colour
    )


def _polygon(canvas: Linear, points: NDArray[np.float64], colour: _Colour) -> None:
    # Four bits of sub-pixel position; outlines drawn to whole pixels make windows jump.
    outline = np.rint(points * 16).astype(np.int32)
    cv2.fillPoly(canvas, [outline], tuple(float(part) for part in colour), cv2.LINE_AA, 4)


def _photographed(canvas: Linear, rng: np.random.Generator) -> Rgb:
    """Through an old lens on to film: soft towards the corners, darker there, a contrast curve, grain."""
    height, width = canvas.shape[:2]
    fine = width / 900
    sharp, soft = (cv2.GaussianBlur(canvas, (0, 0), sigma * fine) for sigma in (1.1, 3.2))
    y, x = np.mgrid[-1 : 1 : height * 1j, -1 : 1 : width * 1j].astype(np.float32)
    away = ((x**2 + y**2) / 2)[..., None]
    light = (sharp + (soft - sharp) * away) * (1 - 0.3 * away)
    grain = 0.022 * clouds(rng, (width, height), cell=(1.7 * fine, 1.7 * fine))[..., None]
    curve = np.clip(light + grain, 0, 1)
    curve = curve + 0.25 * (curve * curve * (3 - 2 * curve) - curve)
    return np.asarray(np.rint(curve * 255), np.uint8)
