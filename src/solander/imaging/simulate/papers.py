"""A paper print as an object: its picture, border, edge, age and curl, rastered at any scale.

Convention: rasters are (height, width, 4) float32, linear light premultiplied by coverage, then coverage 0–1. The
paper's outer rectangle is the raster's, so the edge lies half a pixel outside the first pixel's centre.
"""

from __future__ import annotations

import cv2
import numpy as np
from attrs import evolve, field, frozen
from numpy.typing import NDArray

from solander.imaging.linear_light import linear
from solander.imaging.simulate.cutting import Cut, Wear
from solander.imaging.simulate.light import Linear, Rgb, clouds, linear_colour

__all__ = ["Frame", "Paper"]

_LUMINANCE = np.array([0.2126, 0.7152, 0.0722], np.float32)  # of linear sRGB, IEC 61966-2-1
_SEPIA = linear_colour((66, 45, 30)), linear_colour((246, 232, 206))
_WARM_GREY = linear_colour((27, 26, 26)), linear_colour((244, 243, 238))


_STRAIGHT, _NEW = Cut(), Wear()


@frozen
class Frame:
    """One of the frames around a picture: its width, and its colour in sRGB code values."""

    width_mm: float
    colour: tuple[int, int, int]


@frozen
class Paper:
    """One sheet of photographic paper.

    `picture` is (height, width, 3) uint8 sRGB; its middle is cropped to fill the sheet within `border_mm`
    (0 = none) and within `frames`, from the outermost to the innermost. `size_mm` is (width, height) of the sheet,
    `stock` the bare paper's colour in sRGB code values, `shift_mm` how far the print sits off the sheet's middle.
    `tone` is "colour", "grey" or "sepia". `fading`, `yellowing`, `texture` and `creases` run from 0 to 1.
    `cut` tells how its edges run, `wear` what became of them. `curl` is the bow of the long edges as a fraction of
    their length (> 0 the ends lift, < 0 the middle), `curl_axis_deg` how far its cylinder is turned.
    """

    picture: Rgb = field(eq=False)
    size_mm: tuple[float, float] = (90.0, 60.0)
    border_mm: float = 4.0
    stock: tuple[int, int, int] = (245, 242, 233)
    frames: tuple[Frame, ...] = ()
    shift_mm: tuple[float, float] = (0.0, 0.0)
    tone: str = "grey"
    fading: float = 0.0
    yellowing: float = 0.15
    texture: float = 0.3
    creases: float = 0.0
    cut: Cut = _STRAIGHT
    wear: Wear = _NEW
    curl: float = 0.0
    curl_axis_deg: float = 0.0
    seed: int = 0

    def turned(self) -> Paper:
        """The same sheet with its sides swapped, for a picture that stands on its short side."""
        return evolve(self, size_mm=self.size_mm[::-1])

    def corners(self) -> NDArray[np.float64] | None:
        """The sheet's true corners in mm around its middle; None when they are its rectangle's."""
        return self.cut.corners(self.size_mm)

    def raster(self, px_per_mm: float) -> Linear:
        """The sheet at that scale, shape (height, width, 4); see the module's convention."""
        size = _pixels(self.size_mm, px_per_mm)
        rng = np.random.default_rng([self.seed, 11])
        light = self._printed(size, px_per_mm)
        light *= self._surface(rng, size)
        depths = self.cut.depths(rng, size, px_per_mm)
        coverage = self.cut.coverage(depths, size, px_per_mm)
        self.wear.rub(light, depths, rng, px_per_mm)
        self.wear.bite(coverage, rng, px_per_mm)
        return np.dstack([light * coverage[..., None], coverage]).astype(np.float32, copy=False)

    def _printed(self, size: tuple[int, int], px_per_mm: float) -> Linear:
        sheet = np.empty((size[1], size[0], 3), np.float32)
        sheet[:] = linear_colour(self.stock)
        width_mm = self.border_mm
        for frame in self.frames:
            _window(sheet, width_mm, self.shift_mm, px_per_mm)[:] = linear_colour(frame.colour)
            width_mm += frame.width_mm
        window = _window(sheet, width_mm, self.shift_mm, px_per_mm)
        window[:] = self._developed(window.shape[1::-1])
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


def _pixels(size_mm: tuple[float, float], px_per_mm: float) -> tuple[int, int]:
    return max(8, round(size_mm[0] * px_per_mm)), max(8, round(size_mm[1] * px_per_mm))


def _window(sheet: Linear, width_mm: float, shift_mm: tuple[float, float], px_per_mm: float) -> Linear:
    """The part of the sheet within a frame of that width: a view of at least one pixel."""
    edges = []
    for side, shift in zip(sheet.shape[1::-1], shift_mm, strict=True):
        inset, moved = min(round(width_mm * px_per_mm), (side - 1) // 2), round(shift * px_per_mm)
        moved = int(np.clip(moved, -inset, inset))
        edges.append(slice(inset + moved, side - inset + moved))
    return sheet[edges[1], edges[0]]


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
