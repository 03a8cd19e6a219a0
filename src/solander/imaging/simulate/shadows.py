"""Lamps: the shadows that papers throw on the stage, those of other things, and what mirrors in gloss."""

from __future__ import annotations

import cv2
import numpy as np
from attrs import field, frozen

from solander.imaging.simulate.geometry import Points
from solander.imaging.simulate.light import Linear
from solander.imaging.simulate.masks import polygon_mask

__all__ = ["Cast", "Glare", "Shadow", "Slope"]

Box = tuple[slice, slice]

_COARSE = 4  # soft shadows are drawn at a quarter of the size


@frozen
class Shadow:
    """What one lamp's light leaves dark beside a paper: moved by `offset_px`, its penumbra `softness_px` wide.

    `strength` is the share of the light that is that lamp's (0–1). `contact` (0–1) is how dark the narrow gap
    right under the edge is, whatever the lamp.
    """

    offset_px: tuple[float, float] = (3.0, 4.0)
    softness_px: float = 5.0
    strength: float = 0.35
    contact: float = 0.0

    @property
    def reach_px(self) -> float:
        """How far from the paper it is still seen."""
        return 3 * self.softness_px + float(np.abs(self.offset_px).max()) + 3

    def taken(self, coverage: Linear) -> Linear:
        """The share of the light taken at each pixel, 0–1; `coverage` is that of the paper."""
        dark = np.zeros_like(coverage)
        if not coverage.size:
            return dark
        if self.strength:
            moved = _moved(_softened(coverage, self.softness_px), self.offset_px)
            dark += moved * np.float32(self.strength)
        if self.contact:
            dark += _softened(coverage, 1.5) * np.float32(self.contact)
        return np.minimum(dark, np.float32(0.97))


@frozen
class Cast:
    """The shadow of something outside the picture (a lamp's arm, a telephone): `outline` (n, 2) capture px."""

    outline: Points = field(eq=False)
    softness_px: float = 30.0
    strength: float = 0.3

    def left(self, size: tuple[int, int]) -> Linear:
        """The share of the light that is left at each pixel, (height, width); `size` is (width, height)."""
        small = (max(2, size[0] // _COARSE), max(2, size[1] // _COARSE))
        scale = np.array(small) / size
        mask = polygon_mask((self.outline + 0.5) * scale - 0.5, small) * np.float32(self.strength)
        soft = cv2.GaussianBlur(mask, (0, 0), max(0.5, self.softness_px * float(scale[0])))
        return np.asarray(1 - cv2.resize(soft, size, interpolation=cv2.INTER_LINEAR), np.float32)


@frozen
class Slope:
    """Light that lessens evenly towards a `side` (0–3, clockwise from the top): all of it at `reach_px` from the
    `centre` (capture px) on the other side, a share `lost` less at `reach_px` on this one."""

    centre: tuple[float, float]
    reach_px: float
    side: int
    lost: float

    def left(self, size: tuple[int, int]) -> Linear:
        """The share of the light that is left at each pixel, (height, width); `size` is (width, height)."""
        axis = 1 - self.side % 2
        along = (np.arange(size[axis]) - self.centre[axis]) / self.reach_px
        towards = along if self.side in (1, 2) else -along
        light = 1 - self.lost * np.clip((1 + towards) / 2, -0.2, 1.2)
        full = light[:, None] if axis else light[None]
        return np.asarray(np.broadcast_to(full, size[::-1]), np.float32)


@frozen
class Glare:
    """A lamp mirrored in the gloss of the papers, around `centre` (capture px), `radius_px` (x, y) wide.

    A round lamp fades from its middle; a `square` one, a window or a soft box, has sides a few pixels soft.
    """

    centre: tuple[float, float]
    radius_px: tuple[float, float] = (220.0, 120.0)
    strength: float = 0.35
    square: bool = False

    def added(self, box: Box) -> Linear:
        """The light added at each pixel of a box of the capture."""
        rows, columns = (np.arange(s.start, s.stop, dtype=np.float32) for s in box)
        x = (columns - self.centre[0]) / self.radius_px[0]
        y = (rows - self.centre[1]) / self.radius_px[1]
        down, across = (_sided(y), _sided(x)) if self.square else (np.exp(-(y**2)), np.exp(-(x**2)))
        return np.asarray(self.strength * np.outer(down, across), np.float32)


def _sided(away: Linear) -> Linear:
    return np.asarray(np.clip(6 * (1 - np.abs(away)) + 0.5, 0, 1), np.float32)


def _softened(coverage: Linear, softness: float) -> Linear:
    if softness < _COARSE:
        return np.asarray(
            cv2.GaussianBlur(coverage, (0, 0), max(0.3, softness), borderType=cv2.BORDER_CONSTANT), np.float32
        )
    size = coverage.shape[1::-1]
    coarse = (max(1, size[0] // _COARSE), max(1, size[1] // _COARSE))
    small = cv2.resize(coverage, coarse, interpolation=cv2.INTER_AREA)
    soft = cv2.GaussianBlur(small, (0, 0), softness / _COARSE, borderType=cv2.BORDER_CONSTANT)
    return np.asarray(cv2.resize(soft, size), np.float32)


def _moved(light: Linear, offset: tuple[float, float]) -> Linear:
    x, y = offset
    move = np.array([[1, 0, x], [0, 1, y]], float)
    return np.asarray(cv2.warpAffine(light, move, light.shape[1::-1]), np.float32)
