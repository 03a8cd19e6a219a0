"""Captures for the segmenter to learn from, drawn by chance at low resolution: thousands a minute.

A scene is laid out on a canvas of 640 × 480 pixels, lit, and seen by a bad camera. Its truths are in `truths`.
"""

from __future__ import annotations

from collections.abc import Sequence

import cv2
import numpy as np
from clutter import Canvas, around, cover, furnish
from layouts import Quad, layout
from numpy.typing import NDArray
from sheets import Bytes, Sheet, Style, sheet
from textures import Floats, Rng, colour, noise, surface
from truths import PRINT, UNSURE, Truths

CANVAS = (640, 480)


class Painter:
    """Draws scenes one after another from a few surfaces at a time, renewing them as it goes."""

    def __init__(self, seed: int, photographs: Sequence[Bytes], *, surfaces: int = 32) -> None:
        self.rng = np.random.default_rng(seed)
        self.photographs = photographs
        self.surfaces = [surface(self.rng) for _ in range(surfaces)]
        self.grain = self.rng.standard_normal((2 * CANVAS[1], 2 * CANVAS[0], 3), np.float32)

    def scene(self) -> tuple[Bytes, Bytes]:
        """A capture (480, 640, 3) and its truths (480, 640, 7), both 0–255."""
        rng = self.rng
        if rng.uniform() < 0.05:
            self.surfaces[int(rng.integers(len(self.surfaces)))] = surface(rng)
        quads = layout(rng, CANVAS)
        style = Style.of(rng) if rng.uniform() < 0.5 else None
        sheets = [sheet(rng, self.photographs, _size(q), style) for q in quads]
        canvas = Canvas(self._ground(sheets).copy(), CANVAS)
        furnish(rng, canvas, quads, self._cut)
        truths = Truths(CANVAS)
        for quad, paper in zip(quads, sheets, strict=True):
            _lay(rng, canvas, truths, quad, paper)
        told = truths.layers
        told[..., UNSURE] = np.maximum(told[..., UNSURE], canvas.unsure * (told[..., PRINT] < 0.5))
        cover(rng, canvas, quads)
        return _photographed(rng, _lit(rng, canvas.rgb, told[..., PRINT]), self.grain), truths.as_bytes()

    def _ground(self, sheets: Sequence[Sheet]) -> Floats:
        """What the prints lie on; now and then of nearly their own colour."""
        ground = self._cut()
        if sheets and self.rng.uniform() < 0.13:
            paper, _ = sheets[0]
            rim = np.median(np.concatenate([paper[0], paper[-1], paper[:, 0], paper[:, -1]]), axis=0)
            ground = 1 + (ground - ground.mean((0, 1))) * self.rng.uniform(0, 0.3)
            ground = np.clip(ground * (rim + self.rng.normal(0, 0.04, 3)), 0.01, 1)
        return np.asarray(ground, np.float32)

    def _cut(self) -> Floats:
        """A piece of a surface or, seldom, of a photograph, at any angle and scale, as large as the canvas."""
        rng = self.rng
        whole = self.surfaces[int(rng.integers(len(self.surfaces)))]
        if rng.uniform() < 0.12:
            photograph = self.photographs[int(rng.integers(len(self.photographs)))]
            soft = cv2.GaussianBlur(photograph, (0, 0), rng.uniform(0.3, 4))
            whole = cv2.resize(soft, (720, 720), interpolation=cv2.INTER_LINEAR).astype(np.float32) / 255
        angle = rng.choice([0.0, 90.0, rng.uniform(0, 360), rng.uniform(0, 360)])
        turn = cv2.getRotationMatrix2D((360, 360), float(angle), rng.uniform(0.8, 2.2))
        turn[:, 2] += np.array(CANVAS) / 2 - 360 + rng.uniform(-60, 60, 2)
        lean = np.vstack([turn, [*rng.normal(0, 2e-4, 2), 1]])
        lean[2, 2] = 1 - lean[2, 0] * CANVAS[0] / 2 - lean[2, 1] * CANVAS[1] / 2
        cut = cv2.warpPerspective(whole, lean, CANVAS, borderMode=cv2.BORDER_REFLECT)
        return np.asarray(cut * rng.uniform(0.7, 1.2) ** rng.choice([0, 1]), np.float32)


def _size(quad: Quad) -> tuple[int, int]:
    """Width and height in pixels of the sheet that a quad shows."""
    sides = np.linalg.norm(np.roll(quad, -1, axis=0) - quad, axis=1)
    return max(12, round((sides[0] + sides[2]) / 2)), max(12, round((sides[1] + sides[3]) / 2))


MARGIN = 16
"""Transparent pixels around a sheet, so that its edges come out soft and may bow."""


def _lay(rng: Rng, canvas: Canvas, truths: Truths, quad: Quad, paper: Sheet) -> None:
    """Lay one sheet into the scene, with its shadow, and write down where it lies."""
    rgb = cv2.copyMakeBorder(paper[0], *[MARGIN] * 4, cv2.BORDER_REPLICATE)
    inside = cv2.copyMakeBorder(paper[1], *[MARGIN] * 4, cv2.BORDER_CONSTANT, value=0.0)
    whole = np.dstack([rgb * inside[..., None], inside]).astype(np.float32)
    if rng.uniform() < 0.2:
        whole = _bowed(rng, whole)
    width, height = paper[1].shape[1], paper[1].shape[0]
    flat = np.array([[0, 0], [width, 0], [width, height], [0, height]], np.float32) + (MARGIN - 0.5)
    onto = cv2.getPerspectiveTransform(flat, quad.astype(np.float32))
    warped = cv2.warpPerspective(whole, onto, CANVAS, flags=cv2.INTER_LINEAR)
    canvas.shade(rng, warped[..., 3])
    box = around(warped[..., 3], margin=4)
    canvas.rgb[box] *= 1 - warped[box][..., 3:]
    canvas.rgb[box] += warped[box][..., :3]
    contours = truths.lay(warped[box][..., 3], box, cut_off=_cut_off(quad))
    if rng.uniform() < 0.25:
        _line_the_edge(rng, canvas.rgb[box], contours)


def _bowed(rng: Rng, whole: Floats) -> Floats:
    """The sheet with two opposite sides bowed the same way, its corners where they were."""
    height, width = whole.shape[:2]
    axis = int(rng.integers(2))
    length = (width, height)[axis]
    most = min(MARGIN - 3.0, 0.025 * length)
    along = np.linspace(-1, 1, length, dtype=np.float32)
    bend = np.float32(rng.uniform(-most, most)) * (1 - along**2)
    y, x = np.mgrid[0:height, 0:width].astype(np.float32)
    x, y = (x, y + bend[None, :]) if axis == 0 else (x + bend[:, None], y)
    return np.asarray(cv2.remap(whole, x, y, cv2.INTER_LINEAR), np.float32)


def _cut_off(quad: Quad) -> bool:
    return bool((quad < 0).any() or (quad > np.array(CANVAS) - 1).any())


def _line_the_edge(rng: Rng, rgb: Floats, contours: Sequence[NDArray[np.int32]]) -> None:
    """The paper's thickness as a thin line, light or dark."""
    line = rgb.copy()
    cv2.drawContours(line, contours, -1, tuple(float(v) for v in colour(rng, saturation=0.2)), 1)
    rgb += np.float32(rng.uniform(0.1, 0.7)) * (line - rgb)


def _lit(rng: Rng, rgb: Floats, papers: Floats) -> Floats:
    """The scene in uneven light, in the shadows of things outside, with lamps mirrored in it."""
    y, x = np.mgrid[0 : CANVAS[1], 0 : CANVAS[0]].astype(np.float32)
    x, y = x / CANVAS[0] - 0.5, y / CANVAS[1] - 0.5
    light = np.exp(rng.normal(0, 0.25) * x + rng.normal(0, 0.25) * y - rng.uniform(0, 0.5) * (x * x + y * y))
    tint = np.ones(3, np.float32)
    for _ in range(int(rng.choice([0, 0, 1, 2]))):
        light = light * _cast(rng, rng.uniform(0.25, 0.9))
    if rng.uniform() < 0.2:
        middle, turn = rng.uniform(-0.4, 0.4, 2), rng.uniform(0, np.pi)
        u = (x - middle[0]) * np.cos(turn) + (y - middle[1]) * np.sin(turn)
        v = (y - middle[1]) * np.cos(turn) - (x - middle[0]) * np.sin(turn)
        shine = np.exp(
            -(((u / rng.uniform(0.05, 0.4)) ** 2 + (v / rng.uniform(0.03, 0.2)) ** 2) ** rng.choice([1, 4]))
        )
        gloss = papers if rng.uniform() < 0.7 else np.float32(0.7)
        rgb = rgb + (rng.uniform(0.1, 0.9) * shine * gloss)[..., None] * tint
    return np.asarray(rgb * light[..., None].astype(np.float32), np.float32)


def _cast(rng: Rng, left: float) -> Floats:
    """How much light a thing outside the frame leaves: a straight edge, a blot, or a pattern of leaves."""
    shape = np.zeros((CANVAS[1], CANVAS[0]), np.float32)
    form = rng.integers(3)
    if form == 0:
        far = (rng.uniform(-0.3, 1.3, (4, 2)) * CANVAS).astype(np.int32)
        cv2.fillConvexPoly(shape, cv2.convexHull(far), 1.0)
    elif form == 1:
        points = np.array(CANVAS) * rng.uniform(-0.3, 1.3, 2) + rng.normal(0, 160, (int(rng.integers(4, 9)), 2))
        cv2.fillPoly(shape, [points.astype(np.int32)], 1.0)
    else:
        shape = (noise(rng, rng.uniform(20, 160))[: CANVAS[1], : CANVAS[0]] > rng.uniform(0, 1)).astype(np.float32)
    soft = cv2.GaussianBlur(shape, (0, 0), rng.choice([rng.uniform(0.6, 3), rng.uniform(3, 25)]))
    return np.asarray(1 - (1 - left) * soft, np.float32)


def _photographed(rng: Rng, rgb: Floats, grain: Floats) -> Bytes:
    """What a camera makes of it: cast, exposure, blur, few pixels, noise, JPEG; then reduced as the tool does."""
    level = rng.choice([rng.uniform(0.3, 0.65), rng.uniform(0.08, 0.9)], p=[0.75, 0.25]) / (rgb.mean() + 0.02)
    gain = np.clip(level, 0.6, 2.0) * (1 + rng.normal(0, 0.07, 3) * rng.choice([0, 1]))
    seen = np.clip(rgb * gain.astype(np.float32), 0, 1) ** np.float32(rng.uniform(0.75, 1.35))
    if rng.uniform() < 0.08:
        seen = np.repeat(seen.mean(axis=2, keepdims=True), 3, axis=2)
    if rng.uniform() < 0.5:
        seen = cv2.GaussianBlur(seen, (0, 0), rng.uniform(0.4, 2.2))
    wide = int(rng.choice([400, 480, 560, 640, 640, 640, 640]))
    seen = cv2.resize(seen, (wide, wide * 3 // 4), interpolation=cv2.INTER_AREA)
    if rng.uniform() < 0.6:
        top, left = (int(rng.integers(0, s)) for s in CANVAS[::-1])
        seen += np.float32(rng.uniform(0, 0.035)) * grain[top : top + len(seen), left : left + wide]
    bytes_ = np.rint(255 * np.clip(seen, 0, 1)).astype(np.uint8)
    if rng.uniform() < 0.5:
        _, packed = cv2.imencode(".jpg", bytes_, [cv2.IMWRITE_JPEG_QUALITY, int(rng.integers(35, 96))])
        bytes_ = cv2.imdecode(packed, cv2.IMREAD_COLOR)
    return np.asarray(cv2.resize(bytes_, CANVAS, interpolation=cv2.INTER_LINEAR), np.uint8)
