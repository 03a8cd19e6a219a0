"""A hand that reaches into the picture: fingers with nails, a palm, a wrist, perhaps a sleeve, drawn by code.

Convention: points are mm from the top left of the hand's rectangle, x right, y down; fingers point upwards and the
foremost fingertip lies at `TIP`. Rasters are as those of `papers`.
"""

from __future__ import annotations

import cv2
import numpy as np
from attrs import field, frozen

from solander.imaging.simulate.geometry import Placement
from solander.imaging.simulate.light import Linear, clouds, linear_colour
from solander.imaging.simulate.masks import line_mask
from solander.imaging.simulate.shadows import Box, Shadow

__all__ = ["SKINS", "Hand"]

# Skin from light to dark beside white paper, sRGB, by eye (no source).
SKINS = (
    (226, 182, 156), (214, 166, 136), (200, 150, 118), (184, 132, 98), (164, 112, 80),
    (140, 92, 64), (116, 74, 52), (92, 58, 42), (72, 46, 36), (54, 36, 30),
)  # fmt: skip

WIDTH_MM = 150.0
TIP = (WIDTH_MM / 2, 4.0)

# A hand is nearer to the lens than the paper and out of focus there: this scale (px per mm) loses nothing.
_FINEST = 4.0
_Point = tuple[float, float]


@frozen
class Hand:
    """One hand: `fingers` (1–4) are stretched out, or with 0 the thumb; `skin` and `sleeve` are sRGB code values.

    `length_mm` is how much of hand and arm there is, from the fingertips; `cuff_mm` where the sleeve begins (None:
    a bare arm); `scale` 1 is a grown woman's or a slight man's hand. Sizes of fingers: common practice, no source.
    """

    fingers: int = 1
    skin: tuple[int, int, int] = SKINS[3]
    sleeve: tuple[int, int, int] = (60, 70, 90)
    length_mm: float = 300.0
    cuff_mm: float | None = 170.0
    scale: float = 1.0
    lift_mm: float = 9.0
    seed: int = field(default=0)

    @property
    def size_mm(self) -> tuple[float, float]:
        """(width, height) of the rectangle around it."""
        return WIDTH_MM, self.length_mm

    def shadow(self, at: Placement) -> Shadow:
        """The shadow it throws when laid there: farther off and softer than a paper's."""
        rng = np.random.default_rng([self.seed, 31])
        angle, lift = rng.uniform(0, 2 * np.pi), self.lift_mm * at.px_per_mm
        offset = (0.5 * lift * float(np.cos(angle)), 0.5 * lift * float(np.sin(angle)))
        return Shadow(offset, softness_px=0.3 * lift, strength=float(rng.uniform(0.2, 0.6)))

    def raster(self, px_per_mm: float) -> Linear:
        """The hand, (height, width, 4): premultiplied light and coverage; coarser than `px_per_mm` above 4."""
        fine = min(px_per_mm, _FINEST)
        rng = np.random.default_rng([self.seed, 29])
        size = (round(WIDTH_MM * fine), round(self.length_mm * fine))
        flesh = _Flesh(size, fine)
        tips = self._pose(flesh, rng)
        light = flesh.shaded(linear_colour(self.skin), rng)
        for tip, below, radius in tips:
            _nail(light, tip, below, radius, fine)
        coverage = np.clip(flesh.depth * fine + 0.5, 0, 1)
        if self.cuff_mm is not None:
            self._dress(light, coverage, rng, fine)
        return np.dstack([np.clip(light, 0, 1) * coverage[..., None], coverage]).astype(np.float32, copy=False)

    def _pose(self, flesh: _Flesh, rng: np.random.Generator) -> list[tuple[_Point, _Point, float]]:
        """Draw all parts; tell tip, the joint below it and the tip's radius of each stretched finger."""
        x, s = TIP[0], self.scale
        thumb = self.fingers == 0
        length, radius = (58 * s, 10.0 * s) if thumb else (76 * s, 8.0 * s)
        tips = []
        for index in range(max(1, self.fingers)):
            aside = (index - (max(1, self.fingers) - 1) / 2) * 19 * s
            tip = (x + 1.2 * aside + rng.uniform(-2, 2), TIP[1] + radius + 0.3 * abs(aside) + rng.uniform(0, 5))
            root = (x + aside, TIP[1] + length + 0.15 * abs(aside))
            bend = rng.uniform(-3, 3)
            first, second = _between(tip, root, 0.36, bend), _between(tip, root, 0.66, bend)
            flesh.add(tip, first, radius, 1.12 * radius)
            flesh.add(first, second, 1.12 * radius, 1.2 * radius)
            flesh.add(second, root, 1.2 * radius, 1.3 * radius)
            flesh.crease(first, 0.8 * radius)
            flesh.crease(second, 0.9 * radius)
            tips.append((tip, first, radius))
        self._palm(flesh, x, TIP[1] + length, thumb=thumb)
        return tips

    def _palm(self, flesh: _Flesh, x: float, top: float, *, thumb: bool) -> None:
        s = self.scale
        if self.fingers <= 1:  # the other fingers are drawn in
            for aside in (-36, -18, 18) if thumb else (18, 36, -18):
                flesh.add((x + aside * s, top + 6 * s), (x + 0.9 * aside * s, top + 30 * s), 10.5 * s, 11.5 * s)
        flesh.add((x - 18 * s, top + 30 * s), (x + 18 * s, top + 30 * s), 24 * s, 24 * s)
        flesh.add((x, top + 45 * s), (x, top + 80 * s), 36 * s, 29 * s)
        flesh.add((x, top + 80 * s), (x, self.length_mm + 60), 28 * s, 38 * s)

    def _dress(self, light: Linear, coverage: Linear, rng: np.random.Generator, fine: float) -> None:
        height, width = coverage.shape
        begin = min(height, round((self.cuff_mm or 0) * fine))
        if begin == height:
            return
        half = 44 * self.scale * fine
        x = np.abs(np.arange(width, dtype=np.float32) + 0.5 - width / 2)
        folds = 1 + 0.16 * clouds(rng, (width, height - begin), cell=(14 * fine, 9 * fine))
        folds *= np.sqrt(np.clip(1 - (x / half) ** 2, 0.08, 1))
        light[begin:] = linear_colour(self.sleeve) * folds[..., None]
        light[begin : begin + max(1, round(1.2 * fine))] *= 0.75
        coverage[begin:] = np.clip(half - x + 0.5, 0, 1)


class _Flesh:
    """Round limbs grown into one: how deep (mm) each pixel lies inside, and how round the limb is there."""

    def __init__(self, size: tuple[int, int], fine: float) -> None:
        self._fine = fine
        self.depth = np.full((size[1], size[0]), -1e3, np.float32)
        self._rise = np.zeros_like(self.depth)
        self._creases = np.zeros_like(self.depth)

    def add(self, a: _Point, b: _Point, radius_a: float, radius_b: float) -> None:
        """A limb from `a` to `b`, round at both ends, of those radii."""
        box, x, y = self._around(a, b, max(radius_a, radius_b) + 2)
        run = np.array([b[0] - a[0], b[1] - a[1]])
        along = np.clip(((x - a[0]) * run[0] + (y - a[1]) * run[1]) / max(1e-6, float(run @ run)), 0, 1)
        radius = radius_a + (radius_b - radius_a) * along
        depth = radius - np.hypot(x - a[0] - along * run[0], y - a[1] - along * run[1])
        np.maximum(self.depth[box], depth, out=self.depth[box])
        rise = radius * np.sqrt(np.clip(1 - (1 - np.clip(depth, 0, None) / radius) ** 2, 0, 1))
        np.maximum(self._rise[box], rise, out=self._rise[box])

    def crease(self, at: _Point, half: float) -> None:
        """Lines across a joint."""
        for down in (-1.4, 0.0, 1.2):
            ends = np.array([(at[0] - half, at[1] + down), (at[0] + half, at[1] + down)]) * self._fine
            self._creases += line_mask(ends, self.depth.shape[1::-1], 1)

    def shaded(self, skin: Linear, rng: np.random.Generator) -> Linear:
        """The light of the skin: lit from one side, darker round the limb, blotched, creased at the joints."""
        size = self.depth.shape[1::-1]
        rise = cv2.GaussianBlur(self._rise, (0, 0), 1.2 * self._fine)
        angle = rng.uniform(0, 2 * np.pi)
        slope = cv2.Sobel(rise, -1, 1, 0, scale=0.125) * np.cos(angle)
        slope += cv2.Sobel(rise, -1, 0, 1, scale=0.125) * np.sin(angle)
        gain = 0.72 + 0.28 * np.clip(self._rise / 6, 0, 1) + 0.9 * np.clip(slope, -0.25, 0.25)
        gain *= 1 + 0.03 * clouds(rng, size, cell=(2, 2)) + 0.05 * clouds(rng, size, cell=(8 * self._fine,) * 2)
        gain *= 1 - 0.22 * cv2.GaussianBlur(self._creases, (0, 0), max(0.4, 0.25 * self._fine))
        return np.asarray(skin * gain[..., None], np.float32)

    def _around(self, a: _Point, b: _Point, margin: float) -> tuple[Box, Linear, Linear]:
        slices = []
        for axis, steps in ((1, self.depth.shape[0]), (0, self.depth.shape[1])):
            low, high = min(a[axis], b[axis]) - margin, max(a[axis], b[axis]) + margin
            slices.append(slice(max(0, int(low * self._fine)), max(0, min(steps, int(high * self._fine) + 1))))
        rows, columns = slices
        y, x = (
            ((np.arange(part.start, part.stop, dtype=np.float32) + 0.5) / self._fine) for part in (rows, columns)
        )
        return (rows, columns), x[None], y[:, None]


def _nail(light: Linear, tip: _Point, below: _Point, radius: float, fine: float) -> None:
    """A nail on the back of the fingertip: paler, with a darker rim."""
    run = np.array([below[0] - tip[0], below[1] - tip[1]])
    run /= np.hypot(*run)
    middle = (tip[0] + run[0] * 0.1 * radius, tip[1] + run[1] * 0.1 * radius)
    axes = (max(1, round(0.58 * radius * fine)), max(1, round(0.78 * radius * fine)))
    angle = float(np.degrees(np.arctan2(-run[0], run[1])))
    nail = np.zeros(light.shape[:2], np.float32)
    cv2.ellipse(nail, _pixel(middle, fine), axes, angle, 0, 360, (1.0,), -1, cv2.LINE_AA)
    rim = nail - cv2.erode(nail, np.ones((3, 3), np.uint8))
    pale = np.array([0.78, 0.52, 0.46], np.float32)
    light += (pale - light) * (0.35 * nail)[..., None]
    light *= 1 - 0.25 * rim[..., None]


def _between(a: _Point, b: _Point, share: float, aside: float) -> _Point:
    return a[0] + (b[0] - a[0]) * share + aside, a[1] + (b[1] - a[1]) * share


def _pixel(point: _Point, fine: float) -> tuple[int, int]:
    return round(point[0] * fine - 0.5), round(point[1] * fine - 0.5)
