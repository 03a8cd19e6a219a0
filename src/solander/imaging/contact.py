"""The thin dark line that paper throws on the stage where it lies: its outer rim is no edge of the paper.

Convention (see `conventions`): strips as in `edges`, in linear light, across positive outside.
"""

from __future__ import annotations

import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from solander.imaging.curves import Curve
from solander.imaging.edges import Floats, Strip

__all__ = ["inner_flank"]

Pixels = NDArray[np.float32]

WIDEST = 0.007
"""Width of the line, as a share of the side, up to which it is taken for a shadow: 1 mm beside 150 (common
practice, no source: mats and prints with a printed black border have it wider)."""

RISES = 0.3
"""Share of the fall from stage into the line by which the paper within must be lighter than the line again."""

LEAST_FALL = 0.03
"""Share of the stage's light by which the line must be darker: less is noise or a lens's halo."""

AGREED = 0.75
"""Share of the side's parts that must show it: paper does all along, a picture here and there."""

PARTS = 20


@frozen(eq=False)
class _Profile:
    """Light beside a curve: `light` (parts, offsets) at `offsets` pixels across from it."""

    light: Floats
    offsets: NDArray[np.int_]


def inner_flank(strip: Strip, curve: Curve) -> float | None:
    """How far inside a fitted curve (pixels, negative) the paper begins, where the curve runs along the outer rim
    of a thin line darker than both stage and paper; None where there is no such line."""
    length = float(np.linalg.norm(strip.end - strip.start))
    widest = max(4, round(WIDEST * length))
    profile = _beside(strip, curve, widest)
    if profile is None:
        return None
    return _flank(profile, widest)


def _beside(strip: Strip, curve: Curve, widest: int) -> _Profile | None:
    offsets = np.arange(-2 * widest, 6)
    at = curve.at(strip.along) - strip.across[0]
    column = np.rint(at).astype(int)[:, None] + offsets
    if column.min() < 0 or column.max() >= strip.pixels.shape[1]:
        return None
    rows = len(column) // PARTS * PARTS
    light = strip.pixels.mean(axis=2)[np.arange(rows)[:, None], column[:rows]]
    return _Profile(light.reshape(PARTS, -1, len(offsets)).mean(axis=1).astype(np.float64), offsets)


def _flank(profile: _Profile, widest: int) -> float | None:
    light, offsets = profile.light, profile.offsets
    outside = light[:, offsets >= 3].mean(axis=1)
    within = (offsets >= -widest) & (offsets <= 1)
    darkest = np.where(within, light, np.inf).argmin(axis=1)
    rises = []
    for part, column in zip(light, darkest, strict=True):
        inside = part[max(0, column - widest) : column + 1]
        step = inside[:-1] - inside[1:]
        rises.append((inside.max(initial=0.0) - part[column], offsets[column] - len(step) + step.argmax() + 0.5))
    rise, place = np.array(rises).T if len(rises) else (np.zeros(0), np.zeros(0))
    fall = outside - light[np.arange(len(light)), darkest]
    lined = (fall > LEAST_FALL * outside) & (rise > RISES * fall)
    if lined.mean() < AGREED:
        return None
    middle = float(np.median(place[lined]))
    steady = np.abs(place[lined] - middle) <= 1.0
    return middle if steady.mean() >= AGREED and -widest - 1 <= middle < -0.75 else None
