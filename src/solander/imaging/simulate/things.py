"""What lies on a stage beside prints: a ruler, a pencil. Rasters are as those of `papers`."""

from __future__ import annotations

import numpy as np
from attrs import frozen

from solander.imaging.simulate.light import Linear, clouds, linear_colour
from solander.imaging.simulate.masks import polygon_mask

__all__ = ["Pencil", "Ruler"]


@frozen
class Ruler:
    """A ruler with a line a millimetre along one side, longer ones every five and ten."""

    size_mm: tuple[float, float] = (310.0, 30.0)
    colour: tuple[int, int, int] = (214, 196, 140)
    ink: tuple[int, int, int] = (30, 28, 26)

    def raster(self, px_per_mm: float) -> Linear:
        """The ruler at that scale, (height, width, 4)."""
        width, height = (max(4, round(side * px_per_mm)) for side in self.size_mm)
        light = np.empty((height, width, 3), np.float32)
        light[:] = linear_colour(self.colour)
        light *= 1 + 0.03 * clouds(np.random.default_rng(41), (width, height), cell=(60, 3))[..., None]
        for mm in range(5, int(self.size_mm[0]) - 4):
            long = 7.0 if mm % 10 == 5 else 5.0 if mm % 5 == 0 else 3.0
            at = mm * px_per_mm
            line = slice(int(at), int(at + max(1.0, 0.2 * px_per_mm)))
            light[: round(long * px_per_mm), line] = linear_colour(self.ink)
        return np.dstack([light, np.ones((height, width), np.float32)])


@frozen
class Pencil:
    """A six-sided pencil, painted, sharpened."""

    size_mm: tuple[float, float] = (175.0, 7.2)
    colour: tuple[int, int, int] = (190, 150, 30)

    def raster(self, px_per_mm: float) -> Linear:
        """The pencil at that scale, (height, width, 4)."""
        width, height = (max(4, round(side * px_per_mm)) for side in self.size_mm)
        down = np.arange(height) / height
        faces = np.select([down < 0.28, down < 0.72], [1.15, 0.85], 0.5)
        light = np.empty((height, width, 3), np.float32)
        light[:] = linear_colour(self.colour)
        light[:, : round(0.11 * width)] = linear_colour((205, 170, 120))
        light[:, : round(0.02 * width)] = linear_colour((40, 40, 42))
        light *= faces.astype(np.float32)[:, None, None]
        outline = np.array([[0, 0.5], [0.11, 0], [1, 0], [1, 1], [0.11, 1]]) * [width, height] - 0.5
        coverage = polygon_mask(outline, (width, height))
        return np.dstack([light * coverage[..., None], coverage])
