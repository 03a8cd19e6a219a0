"""How a sheet's edge runs inside its outer rectangle: cut by machine or hand, deckled, rounded, dented, worn.

Convention: sides come in the order top, bottom, left, right; along top and bottom x grows, along left and right y.
An edge is told by how far it lies inside the outer rectangle at each pixel along the side.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

import numpy as np
from attrs import field, frozen
from attrs.validators import in_
from numpy.typing import NDArray

from solander.imaging.simulate.light import Linear, clouds

__all__ = ["KNIVES", "Cut", "Wear"]

_Ends = tuple[float, float]


@frozen
class Cut:
    """Where the four sides run, in mm inside the sheet's outer rectangle (0 or more).

    `ends` holds for each side its depth at both ends, `bows` how much deeper its middle lies (a flat arc; < 0 less
    deep). `knife` is the pattern of a deckled edge, `deckle_mm` its depth: its crests touch the side. `corner_mm`
    is the radius of rounded corners.
    """

    ends: tuple[_Ends, _Ends, _Ends, _Ends] = ((0, 0), (0, 0), (0, 0), (0, 0))
    bows: tuple[float, float, float, float] = (0, 0, 0, 0)
    knife: str = field(default="scallop", validator=in_(("scallop", "wave", "zigzag", "long and short", "torn")))
    deckle_mm: float = 0.0
    corner_mm: float = 0.0

    def corners(self, size_mm: tuple[float, float]) -> NDArray[np.float64] | None:
        """Where the four sides meet, mm around the middle, clockwise from top left; None: the rectangle's own."""
        if not any(depth for ends in self.ends for depth in ends):
            return None
        x, y = size_mm[0] / 2, size_mm[1] / 2
        top, bottom, left, right = self.ends
        lines = [
            _line((-x, -y + top[0]), (x, -y + top[1])),
            _line((x - right[0], -y), (x - right[1], y)),
            _line((-x, y - bottom[0]), (x, y - bottom[1])),
            _line((-x + left[0], -y), (-x + left[1], y)),
        ]
        met = [np.cross(lines[side - 1], lines[side]) for side in range(4)]
        return np.array([point[:2] / point[2] for point in met])

    def depths(self, rng: np.random.Generator, size: tuple[int, int], px_per_mm: float) -> list[Linear]:
        """How deep (px) the edge lies at each pixel along the four sides of a raster of `size` (width, height)."""
        depths = []
        for (start, end), bow, side in zip(self.ends, self.bows, _lengths(size), strict=True):
            along = (np.arange(side, dtype=np.float32) + 0.5) / side
            depth = (start + (end - start) * along + 4 * bow * along * (1 - along)) * px_per_mm
            if self.deckle_mm:
                depth = depth + self.deckle_mm * px_per_mm * KNIVES[self.knife](rng, side, px_per_mm)
            depths.append(np.asarray(depth, np.float32))
        return depths

    def coverage(self, depths: list[Linear], size: tuple[int, int], px_per_mm: float) -> Linear:
        """The share of each pixel that the sheet covers, (height, width); `depths` as from `depths`."""
        coverage = np.ones((size[1], size[0]), np.float32)
        for strip, depth in _strips(coverage, depths):
            strip *= np.clip(_rows(strip) - depth + 0.5, 0, 1)
        if self.corner_mm:
            coverage *= _rounded(size, radius=self.corner_mm * px_per_mm)
        return coverage


@frozen
class Wear:
    """What hands have done to a sheet's edges; every strength from 0 to 1.

    `rim` rubs the edges white, `dents` takes bits off the corners, `tears` off the sides. `bevel` is how much
    brighter (> 0) or darker (< 0) each side's cut edge is than the face, as the lamp hits it or not.
    """

    rim: float = 0.0
    dents: float = 0.0
    tears: float = 0.0
    bevel: tuple[float, float, float, float] = (0, 0, 0, 0)

    def rub(self, light: Linear, depths: list[Linear], rng: np.random.Generator, px_per_mm: float) -> None:
        """Lay the light of worn and bevelled edges over the sheet's, in place; `light` is (height, width, 3)."""
        for (strip, depth), gain in zip(_strips(light, depths, more=0.9 * px_per_mm), self.bevel, strict=True):
            inside = _rows(strip) - depth
            if self.rim:
                cover = np.clip(_rubbed(rng, strip.shape[1], px_per_mm) * self.rim - inside + 0.5, 0, 1)
                strip += (np.float32(0.8) - strip) * (0.75 * cover)[..., None]
            if gain:
                strip *= 1 + gain * np.clip(0.12 * px_per_mm - inside + 0.5, 0, 1)[..., None]

    def bite(self, coverage: Linear, rng: np.random.Generator, px_per_mm: float) -> None:
        """Take dents and tears out of the sheet's coverage, in place."""
        for corner in (coverage, coverage[:, ::-1], coverage[::-1], coverage[::-1, ::-1]):
            if rng.uniform() < self.dents:
                _dent(corner, rng.uniform(0.4, 0.8 + 1.8 * self.dents) * px_per_mm, rng)
        for side in (coverage, coverage[::-1], coverage.T, coverage[:, ::-1].T):
            if rng.uniform() < 0.4 * self.tears:
                _tear(side, rng.uniform(0.8, 1 + 3 * self.tears) * px_per_mm, rng)


def _line(a: _Ends, b: _Ends) -> NDArray[np.float64]:
    return np.cross([*a, 1.0], [*b, 1.0])


def _lengths(size: tuple[int, int]) -> tuple[int, int, int, int]:
    return size[0], size[0], size[1], size[1]


def _strips(raster: Linear, depths: list[Linear], *, more: float = 0.0) -> Iterator[tuple[Linear, Linear]]:
    """Views of the raster along its sides, the edge as the first row, as deep as the edge reaches and `more`."""
    views = (raster, raster[::-1], raster.swapaxes(0, 1), raster[:, ::-1].swapaxes(0, 1))
    for view, depth in zip(views, depths, strict=True):
        yield view[: int(np.ceil(depth.max() + more)) + 1], depth


def _rows(strip: Linear) -> Linear:
    return np.arange(len(strip), dtype=np.float32)[:, None] + np.float32(0.5)


def _rubbed(rng: np.random.Generator, side: int, px_per_mm: float) -> Linear:
    """How far in (px) an edge is rubbed white: here and there, half a millimetre at most."""
    spots = (
        clouds(rng, (side, 2), cell=(5 * px_per_mm, 2))[0] + 0.5 * clouds(rng, (side, 2), cell=(px_per_mm, 2))[0]
    )
    return np.asarray(np.clip(0.15 + 0.2 * spots, 0, 0.5) * px_per_mm, np.float32)


def _dent(corner: Linear, reach: float, rng: np.random.Generator) -> None:
    """A corner that is worn or broken off along a slanting line."""
    wide, tall = reach * rng.uniform(0.7, 1.3), reach * rng.uniform(0.7, 1.3)
    box = corner[: int(tall) + 3, : int(wide) + 3]
    y, x = np.ogrid[0.5 : box.shape[0], 0.5 : box.shape[1]]
    steep = np.hypot(1 / wide, 1 / tall)
    box *= np.clip((x / wide + y / tall - 1) / steep + 0.5, 0, 1).astype(np.float32)


def _tear(side: Linear, reach: float, rng: np.random.Generator) -> None:
    """A notch, steeper on one flank than on the other."""
    at = rng.uniform(0.1, 0.9) * side.shape[1]
    flanks = reach * rng.uniform(0.2, 0.9, 2)
    left = max(0, int(at - flanks[0]) - 1)
    box = side[: int(reach) + 2, left : int(at + flanks[1]) + 2]
    x = np.arange(box.shape[1]) + 0.5 + left - at
    depth = np.maximum(reach * (1 - np.where(x < 0, -x / flanks[0], x / flanks[1])), 0)
    box *= np.clip(_rows(box) - depth + 0.5, 0, 1).astype(np.float32)


def _rounded(size: tuple[int, int], *, radius: float) -> Linear:
    """Coverage of a sheet with rounded corners."""
    half = np.array(size, np.float32) / 2
    x, y = (np.abs(np.arange(side, dtype=np.float32) + 0.5 - side / 2) for side in size)
    outside = np.hypot(
        np.maximum(x - half[0] + radius, 0)[None], np.maximum(y - half[1] + radius, 0)[:, None]
    ).astype(np.float32)
    near: NDArray[np.float32] = np.clip(radius - outside + 0.5, 0, 1)
    return np.asarray(np.where(outside > 0, near, 1), np.float32)


_Knife = Callable[[np.random.Generator, int, float], Linear]


def _scallop(rng: np.random.Generator, side: int, px_per_mm: float) -> Linear:
    """Shallow bays between pointed crests."""
    bays = np.abs(np.sin(np.pi * _phase(rng, side, px_per_mm, 2.6))) ** 1.5
    return np.asarray(bays * _uneven(rng, side, px_per_mm), np.float32)


def _wavy(rng: np.random.Generator, side: int, px_per_mm: float) -> Linear:
    """An even wave."""
    return np.asarray(0.5 + 0.5 * np.sin(2 * np.pi * _phase(rng, side, px_per_mm, 3.2)), np.float32)


def _zigzag(rng: np.random.Generator, side: int, px_per_mm: float) -> Linear:
    """Straight teeth."""
    phase = np.mod(_phase(rng, side, px_per_mm, 1.9), 1)
    return np.asarray(1 - np.abs(2 * phase - 1), np.float32)


def _long_and_short(rng: np.random.Generator, side: int, px_per_mm: float) -> Linear:
    """A knife of several teeth that repeats: two short bays, a long one."""
    place = np.mod(_phase(rng, side, px_per_mm, 7.4), 1)
    start = np.select([place < 0.26, place < 0.5], [0.0, 0.26], 0.5)
    length = np.select([place < 0.26, place < 0.5], [0.26, 0.24], 0.5)
    return np.asarray(np.sin(np.pi * (place - start) / length) ** 1.2 * (0.5 + length), np.float32)


def _torn(rng: np.random.Generator, side: int, px_per_mm: float) -> Linear:
    """Torn along a ruler: no two places alike, and many of them reach the line."""
    rough = sum(clouds(rng, (side, 2), cell=(size * px_per_mm, 2))[0] * size**0.5 for size in (0.4, 1.0, 2.4))
    return np.asarray(np.clip(0.3 + 0.25 * np.asarray(rough), 0, 1), np.float32)


def _phase(rng: np.random.Generator, side: int, px_per_mm: float, period_mm: float) -> Linear:
    along = np.arange(side, dtype=np.float32) / px_per_mm
    wander = 0.12 * clouds(rng, (side, 2), cell=(6 * px_per_mm, 2))[0]
    return np.asarray(along / period_mm + wander, np.float32)


def _uneven(rng: np.random.Generator, side: int, px_per_mm: float) -> Linear:
    return np.asarray(0.75 + 0.2 * np.clip(clouds(rng, (side, 2), cell=(4 * px_per_mm, 2))[0], -1, 1), np.float32)


KNIVES: dict[str, _Knife] = {
    "scallop": _scallop,
    "wave": _wavy,
    "zigzag": _zigzag,
    "long and short": _long_and_short,
    "torn": _torn,
}
"""How deep an edge lies at each pixel of a side, 0 at its crests to 1."""
