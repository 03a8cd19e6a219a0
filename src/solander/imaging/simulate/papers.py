"""A paper print as an object: its picture, border, edge, age and curl, rastered at any scale.

Convention: rasters are (height, width, 4) float32, linear light premultiplied by coverage, then coverage 0–1. The
paper's outer rectangle is the raster's, so the edge lies half a pixel outside the first pixel's centre.
"""

from __future__ import annotations

import cv2
import numpy as np
from attrs import evolve, field, frozen
from numpy.typing import NDArray

from solander.imaging.simulate.light import Linear, Rgb, clouds, linear, linear_colour

__all__ = ["Paper"]

_LUMINANCE = np.array([0.2126, 0.7152, 0.0722], np.float32)  # of linear sRGB, IEC 61966-2-1
_SEPIA = linear_colour((66, 45, 30)), linear_colour((246, 232, 206))
_WARM_GREY = linear_colour((27, 26, 26)), linear_colour((244, 243, 238))


@frozen
class Paper:
    """One sheet of photographic paper.

    `picture` is (height, width, 3) uint8 sRGB; its middle is cropped to fill the sheet within `border_mm`
    (0 = none). `size_mm` is (width, height) of the sheet, `stock` the bare paper's colour in sRGB code values.
    `tone` is "colour", "grey" or "sepia". `fading`, `yellowing`, `texture` and `creases` run from 0 to 1.
    `deckle_mm` is the depth of a deckled edge inside the outer rectangle, `corner_mm` the radius of rounded
    corners. `curl` is the bow of the long edges as a fraction of their length (> 0 the ends lift, < 0 the middle).
    """

    picture: Rgb = field(eq=False)
    size_mm: tuple[float, float] = (90.0, 60.0)
    border_mm: float = 4.0
    stock: tuple[int, int, int] = (245, 242, 233)
    tone: str = "grey"
    fading: float = 0.0
    yellowing: float = 0.15
    texture: float = 0.3
    creases: float = 0.0
    deckle_mm: float = 0.0
    corner_mm: float = 0.0
    curl: float = 0.0
    seed: int = 0

    def turned(self) -> Paper:
        """The same sheet with its sides swapped, for a picture that stands on its short side."""
        return evolve(self, size_mm=self.size_mm[::-1])

    def raster(self, px_per_mm: float) -> Linear:
        """The sheet at that scale, shape (height, width, 4); see the module's convention."""
        size = _pixels(self.size_mm, px_per_mm)
        rng = np.random.default_rng([self.seed, 11])
        light = self._printed(size, px_per_mm)
        light *= self._surface(rng, size)
        coverage = self._coverage(rng, size, px_per_mm)
        return np.dstack([light * coverage[..., None], coverage]).astype(np.float32, copy=False)

    def _printed(self, size: tuple[int, int], px_per_mm: float) -> Linear:
        sheet = np.empty((size[1], size[0], 3), np.float32)
        sheet[:] = linear_colour(self.stock)
        inset = round(self.border_mm * px_per_mm)
        window = (size[0] - 2 * inset, size[1] - 2 * inset)
        sheet[inset : inset + window[1], inset : inset + window[0]] = self._developed(window)
        return sheet

    def _developed(self, window: tuple[int, int]) -> Linear:
        light = linear(_filled(self.picture, window))
        if self.tone != "colour":
            dark, bright = _SEPIA if self.tone == "sepia" else _WARM_GREY
            grey = cv2.transform(light, _LUMINANCE[None])[..., None]
            light = dark + grey * (bright - dark)
        return _faded(light, self.fading, colour=self.tone == "colour")

    def _surface(self, rng: np.random.Generator, size: tuple[int, int]) -> Linear:
        """What age and surface multiply the light by: a yellowing strongest near the edges, and a fine tooth."""
        x, y = (np.abs(np.linspace(-1, 1, side, dtype=np.float32)) ** 6 for side in size)
        edge = np.clip(
            0.45 + 0.4 * np.maximum(x[None], y[:, None]) + 0.15 * clouds(rng, size, cell=(90, 90)), 0, 1
        )
        lost = np.array([0.04, 0.15, 0.40], np.float32) * self.yellowing
        tooth = 1 + 0.02 * self.texture * clouds(rng, size, cell=(1.5, 1.5))
        if self.creases:
            tooth *= _creased(rng, size, self.creases)
        return np.asarray((1 - edge[..., None] * lost) * tooth[..., None], np.float32)

    def _coverage(self, rng: np.random.Generator, size: tuple[int, int], px_per_mm: float) -> Linear:
        coverage = np.ones((size[1], size[0]), np.float32)
        if self.deckle_mm:
            coverage *= _deckled(rng, size, depth=self.deckle_mm * px_per_mm, px_per_mm=px_per_mm)
        if self.corner_mm:
            coverage *= _rounded(size, radius=self.corner_mm * px_per_mm)
        return coverage


def _pixels(size_mm: tuple[float, float], px_per_mm: float) -> tuple[int, int]:
    return max(8, round(size_mm[0] * px_per_mm)), max(8, round(size_mm[1] * px_per_mm))


def _filled(picture: Rgb, window: tuple[int, int]) -> Rgb:
    """The middle of the picture in the window's proportions, sampled by area when it shrinks."""
    height, width = picture.shape[:2]
    scale = max(window[0] / width, window[1] / height)
    crop_w, crop_h = min(width, round(window[0] / scale)), min(height, round(window[1] / scale))
    left, top = (width - crop_w) // 2, (height - crop_h) // 2
    crop = picture[top : top + crop_h, left : left + crop_w]
    return np.asarray(cv2.resize(crop, window, interpolation=cv2.INTER_AREA if scale < 1 else cv2.INTER_CUBIC))


def _faded(light: Linear, fading: float, *, colour: bool) -> Linear:
    """Blacks lift and contrast goes; in colour prints the cyan dye goes first, so they turn warm."""
    if not fading:
        return light
    veil = linear_colour((214, 170, 140) if colour else (206, 190, 160))
    kept = np.array([0.62, 0.8, 0.86] if colour else [0.75, 0.75, 0.78], np.float32)
    share = fading * (1 - kept)
    return np.asarray(light * (1 - share - 0.1 * fading) + veil * (share + 0.03 * fading), np.float32)


def _creased(rng: np.random.Generator, size: tuple[int, int], strength: float) -> Linear:
    """A fold across one corner: a pale line with a dark side."""
    mask = np.zeros((size[1], size[0]), np.float32)
    corner = np.array([rng.choice([0, size[0]]), rng.choice([0, size[1]])])
    reach = rng.uniform(0.1, 0.25, 2) * min(size) * np.where(corner > 0, -1, 1)
    ends = [(int(corner[0] + reach[0]), int(corner[1])), (int(corner[0]), int(corner[1] + reach[1]))]
    cv2.line(mask, ends[0], ends[1], 1.0, max(1, round(min(size) / 450)), cv2.LINE_AA)
    soft = cv2.GaussianBlur(mask, (0, 0), max(1.0, min(size) / 300))
    return np.asarray(1 + strength * (0.5 * mask - 0.35 * np.roll(soft, 2, axis=0)), np.float32)


def _deckled(rng: np.random.Generator, size: tuple[int, int], *, depth: float, px_per_mm: float) -> Linear:
    """Coverage of a sheet cut with a wavy knife; its crests touch the outer rectangle."""
    rows, columns = (np.arange(side, dtype=np.float32)[:, None] + 0.5 for side in (size[1], size[0]))
    sides = [_wave(rng, side, depth=depth, px_per_mm=px_per_mm) for side in (size[0], size[0], size[1], size[1])]
    upright = np.clip(rows - sides[0] + 0.5, 0, 1) * np.clip(size[1] - rows - sides[1] + 0.5, 0, 1)
    across = np.clip(columns - sides[2] + 0.5, 0, 1) * np.clip(size[0] - columns - sides[3] + 0.5, 0, 1)
    return np.asarray(upright * across.T, np.float32)


def _wave(rng: np.random.Generator, side: int, *, depth: float, px_per_mm: float) -> Linear:
    """How far the edge lies inside the rectangle at each pixel, 0 at the crests to `depth`; shape (1, side)."""
    along = np.arange(side, dtype=np.float32) / px_per_mm
    phase = along / 2.6 + 0.12 * clouds(rng, (side, 2), cell=(6 * px_per_mm, 2))[0]
    scallop = np.abs(np.sin(np.pi * phase)) ** 1.5
    uneven = 0.75 + 0.2 * np.clip(clouds(rng, (side, 2), cell=(4 * px_per_mm, 2))[0], -1, 1)
    return np.asarray(depth * scallop * uneven, np.float32)[None]


def _rounded(size: tuple[int, int], *, radius: float) -> Linear:
    """Coverage of a sheet with rounded corners."""
    half = np.array(size, np.float32) / 2
    x, y = (np.abs(np.arange(side, dtype=np.float32) + 0.5 - side / 2) for side in size)
    outside = np.hypot(
        np.maximum(x - half[0] + radius, 0)[None], np.maximum(y - half[1] + radius, 0)[:, None]
    ).astype(np.float32)
    near: NDArray[np.float32] = np.clip(radius - outside + 0.5, 0, 1)
    return np.asarray(np.where(outside > 0, near, 1), np.float32)
