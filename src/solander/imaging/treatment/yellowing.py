"""Yellowed monochrome prints: the stain told from the print's own tone, and taken off alone.

Convention: see `deep`; densities are red, green, blue. A stain lies over the whole sheet and adds the same density
everywhere, so it shows in the bare paper. A tone (sepia, selenium) is in the silver and grows with its density:
what is taken off each channel is the stain of the paper, and the tone stays as it was.
"""

from __future__ import annotations

import cv2
import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from solander.imaging.conventions import Rgb, require_rgb
from solander.imaging.treatment.border import Border
from solander.imaging.treatment.deep import as_deep, densities
from solander.imaging.treatment.tone import neutral_shift

__all__ = ["Yellowing", "is_monochrome", "yellowing_of"]

Triple = tuple[float, float, float]

SIDE = 400
"""Pixels of the longer side at which is looked."""

ONE_INK = 0.05
"""Density by which red and blue may stray from what green tells, in 90 of 100 places, in a monochrome print."""

LIGHTEST = 0.4
"""Percent of the picture, its lightest, that stands for bare paper where there is no border."""

STEPS = 24
"""Steps of green density in which the others are followed."""


@frozen
class Yellowing:
    """`stain`: density that the paper has more of than its lightest channel; `tone`: density in which the silver's
    mid-tones differ from neutral once the stain is off (red − green, blue − green); `from_border`: whether bare
    paper told, or only the lightest places."""

    stain: Triple
    tone: tuple[float, float]
    from_border: bool


def is_monochrome(rgb: Rgb, border: Border | None = None) -> bool:
    """Whether one colourant made the picture: red and blue then follow from green, whatever the tone."""
    density = _looked_at(rgb, border)
    expected = _followed(density)
    strays = np.abs(density[:, [0, 2]] - expected).max(axis=1)
    return bool(np.percentile(strays, 90) < ONE_INK)


def yellowing_of(rgb: Rgb, border: Border | None = None) -> Yellowing | None:
    """The stain of a monochrome print; None where the print is not monochrome."""
    if not is_monochrome(rgb, border):
        return None
    density = _looked_at(rgb, border)
    paper = np.asarray(border.density) if border else _lightest(density)
    stain = neutral_shift([float(one) for one in paper])
    left = density - np.asarray(stain)
    middle = left[(left[:, 1] > 0.3) & (left[:, 1] < 1.2)]
    red, green, blue = np.median(middle, axis=0) if len(middle) else (0.0, 0.0, 0.0)
    return Yellowing(stain, (round(float(red - green), 4), round(float(blue - green), 4)), border is not None)


def _lightest(density: NDArray[np.float32]) -> NDArray[np.float64]:
    sums = density.sum(axis=1)
    return np.asarray(np.median(density[sums <= np.percentile(sums, LIGHTEST)], axis=0), np.float64)


def _looked_at(rgb: Rgb, border: Border | None) -> NDArray[np.float32]:
    """Densities (n, 3) of the picture within its border, reduced, without its deepest blacks."""
    height, width = require_rgb(rgb).shape[:2]
    left, top, right, bottom = border.picture if border else (0.0, 0.0, 1.0, 1.0)
    inside = rgb[int(top * height) : int(bottom * height) + 1, int(left * width) : int(right * width) + 1]
    scale = min(1.0, SIDE / max(inside.shape[:2]))
    small = cv2.resize(inside, None, fx=scale, fy=scale, interpolation=cv2.INTER_AREA) if scale < 1 else inside
    flat = densities(as_deep(np.ascontiguousarray(small, np.uint8))).reshape(-1, 3)
    kept = flat[(flat < 1.8).all(axis=1)]
    return kept if len(kept) > 100 else flat


def _followed(density: NDArray[np.float32]) -> NDArray[np.float64]:
    """Red and blue as green tells them: medians in steps of green, straight between."""
    green = density[:, 1]
    edges = np.unique(np.quantile(green, np.linspace(0, 1, STEPS + 1)))
    step = np.clip(np.searchsorted(edges, green, side="right") - 1, 0, max(0, len(edges) - 2))
    chosen = [density[step == one] for one in range(max(1, len(edges) - 1))]
    knots = np.array([np.median(each, axis=0) for each in chosen if len(each)])
    return np.column_stack([np.interp(green, knots[:, 1], knots[:, channel]) for channel in (0, 2)])
