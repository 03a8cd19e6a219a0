"""Steps that go one channel at a time: a neutral border or place, density, a tone curve.

Convention: see `deep`; densities (n, 3), red, green, blue. What they do to a whole picture `treat` looks up in a
table, so that several of them together take no longer than one and round once.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from solander.imaging.conventions import WrongPicture
from solander.imaging.linear_light import decode_codes
from solander.imaging.treatment.deep import DENSEST, Densities, encode_density

__all__ = ["MOST_DENSITY", "curved", "denser", "neutral_shift", "shifted"]

Triple = tuple[float, float, float]

MOST_DENSITY = 0.4
"""Density by which mid-tones may be moved: up to 0.6 no tone changes places with its neighbour."""

BLACK = 2.4
"""Density of the deepest black of paper (common practice, no source), which stays where it is."""


def neutral_shift(density: Sequence[float]) -> Triple:
    """What to take off each channel so that a place of that density becomes neutral: its lightest channel stays,
    so that nothing that was there is lost in white."""
    lightest = min(density)
    red, green, blue = (round(one - lightest, 5) for one in density)
    return red, green, blue


def shifted(density: Densities, shift: Sequence[float]) -> Densities:
    """Densities less a shift of each channel, as a filter of that density would give back."""
    return np.asarray(density - np.asarray(shift), np.float64)


def denser(density: Densities, by: float) -> Densities:
    """Mid-tones denser (or lighter, below 0) by `by`; white and black stay."""
    along = np.clip(density / BLACK, 0, 1)
    return density + by * 4 * along * (1 - along)


def curved(density: Densities, points: Sequence[Sequence[float]]) -> Densities:
    """A tone curve through points (from, to), encoded, 0–1, both rising; between them without a swing.

    Interpolation after Fritsch and Carlson, SIAM Journal on Numerical Analysis 17(2), 1980, by SciPy; beyond the
    ends as steep as there.
    """
    from scipy.interpolate import PchipInterpolator  # a third of a second to load

    given = np.asarray(points, np.float64)
    if given.ndim != 2 or given.shape[1] != 2 or len(given) < 2 or (np.diff(given, axis=0) <= 0).any():
        raise WrongPicture("a tone curve has two points or more that rise both ways")
    curve = PchipInterpolator(given[:, 0], given[:, 1])
    codes = encode_density(density)
    inside = np.clip(codes, given[0, 0], given[-1, 0])
    slope = curve.derivative()(inside)
    return _density(curve(inside) + slope * (codes - inside))


def _density(codes: Densities) -> Densities:
    return -np.log10(np.maximum(decode_codes(codes), 10**-DENSEST))
