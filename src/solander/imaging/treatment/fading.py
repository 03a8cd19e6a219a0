"""Faded colour prints: the stain taken off and each dye brought back to what it was, in densities.

Convention: see `deep`; densities are red, green, blue. A print's density is D = S c + b: the side absorptions S
(3 × 3, rows the density in red, green, blue of one unit of cyan, magenta, yellow dye), the amounts of dye c, and
the stain b. In the dark each dye loses a share of its own: c' = k c. Model and method as in Ando et al., Journal
of Imaging Science and Technology 41(3), 1997, and Chatterjee, Trumpy and Ruedel, Heritage 6(4), 2023; here
c = G S⁻¹ (D' − b') with gains G = 1/k, and D = S c. Without S each channel is brought back by itself.

What tells b' is the bare border; what tells k is one place that was a neutral dark: asphalt, a black coat, the
pupil of an eye. Where nobody has shown one, the darkest places stand in, which is far less sure.
"""

from __future__ import annotations

from collections.abc import Sequence

import cv2
import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from solander.imaging.conventions import Rgb, WrongPicture
from solander.imaging.treatment.border import Border
from solander.imaging.treatment.deep import Deep, Densities, as_deep, densities, from_densities

__all__ = ["MOST_GAIN", "Fading", "darkest_density", "density_at", "fading_from", "restore_dyes", "restored"]

Triple = tuple[float, float, float]

MOST_GAIN = 4.0
"""Gain beyond which noise would grow more than the picture: a dye of which less than a quarter is left."""

LEAST_LOST = 0.12
"""Share that the dye which kept best has lost as well, for none keeps wholly (our own choice; it goes for the
lightness alone, and the density can be set by hand)."""

DARK = 0.25
"""Density above the border below which a place is too light to tell what was lost."""


@frozen
class Fading:
    """`stain`: density of the bare paper; `gain`: what each dye is to be multiplied by; `held`: whether a gain was
    held at the cap, so that the print is not brought back wholly."""

    stain: Triple
    gain: Triple
    held: bool = False


def fading_from(
    stain: Sequence[float],
    neutral: Sequence[float],
    *,
    side_absorptions: NDArray[np.float64] | None = None,
    cap: float = MOST_GAIN,
) -> Fading | None:
    """What faded, from the densities of the border and of a place that was a neutral dark; None where that place
    is too light to tell."""
    left = np.asarray(neutral, np.float64) - np.asarray(stain, np.float64)
    if side_absorptions is not None:
        left = np.asarray(np.linalg.solve(_sound(side_absorptions), left), np.float64)
    if not (left > DARK).all():
        return None
    gain = left.max() / left / (1 - LEAST_LOST)
    held = np.minimum(gain, cap)
    return Fading(_triple(stain), _triple(held), held=bool((gain > cap).any()))


def restored(density: Densities, fading: Fading) -> Densities:
    """Densities (n, 3) of a faded print as they were, each channel by itself."""
    return np.asarray((density - np.asarray(fading.stain)) * np.asarray(fading.gain), np.float64)


def restore_dyes(deep: Deep, fading: Fading, side_absorptions: NDArray[np.float64]) -> Deep:
    """The picture with its dyes brought back, each with its side absorptions."""
    absorb = _sound(side_absorptions)
    back = absorb @ np.diag(fading.gain) @ np.linalg.inv(absorb)
    offset = -back @ np.asarray(fading.stain)
    density = cv2.transform(densities(deep), np.column_stack([back, offset]).astype(np.float32))
    return from_densities(np.asarray(density, np.float32))


def density_at(rgb: Rgb, place: tuple[float, float], *, reach: float = 0.006) -> Triple:
    """Density around a place (x, y as shares of the view): the median within `reach` long sides each way."""
    height, width = rgb.shape[:2]
    half = max(1, round(reach * max(height, width)))
    x, y = (min(int(share * side), side - 1) for share, side in zip(place, (width, height), strict=True))
    near = np.ascontiguousarray(rgb[max(0, y - half) : y + half + 1, max(0, x - half) : x + half + 1])
    return _triple(np.median(densities(as_deep(near)).reshape(-1, 3), axis=0))


def darkest_density(rgb: Rgb, border: Border | None = None) -> Triple:
    """Density that the darkest half percent of the picture reaches in each channel by itself."""
    left, top, right, bottom = border.picture if border else (0.0, 0.0, 1.0, 1.0)
    height, width = rgb.shape[:2]
    inside = rgb[int(top * height) : int(bottom * height) + 1, int(left * width) : int(right * width) + 1]
    step = max(1, max(inside.shape[:2]) // 600)
    looked_at = densities(as_deep(np.ascontiguousarray(inside[::step, ::step])))
    return _triple(np.percentile(looked_at.reshape(-1, 3), 99.5, axis=0))


def _sound(side_absorptions: NDArray[np.float64]) -> NDArray[np.float64]:
    absorb = np.asarray(side_absorptions, np.float64)
    if absorb.shape != (3, 3) or not np.isfinite(absorb).all() or np.linalg.cond(absorb) > 100:
        raise WrongPicture("side absorptions are three rows of three numbers that can be told apart")
    return absorb


def _triple(values: Sequence[float] | NDArray[np.floating]) -> Triple:
    one, two, three = (round(float(value), 5) for value in values)
    return one, two, three
