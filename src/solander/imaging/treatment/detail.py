"""Detail in shadows and highlights: broad areas are lightened or darkened, what is fine in them is kept.

Convention: see `deep`. Method: the picture's lightness without its detail, by a guided filter (He, Sun and Tang,
IEEE Transactions on Pattern Analysis and Machine Intelligence 35(6), 2013) at reduced size, says by which density
each place is moved, all channels alike, so that hues stay.
"""

from __future__ import annotations

import cv2
import numpy as np
from numpy.typing import NDArray

from solander.imaging.treatment.bands import enlarged_bands
from solander.imaging.treatment.deep import Deep, moved, steps_of

__all__ = ["MOST_LIFT", "with_detail"]

MOST_LIFT = 0.45
"""Density by which the deepest shadows are lightened, or the brightest highlights darkened, at most."""

SIDE = 480
REACH = 0.03
"""Share of the longer side over which detail is told from broad areas."""

EDGE = 0.006
"""Variance of lightness (0–1) above which an edge stays an edge, so that no halo stands around it."""


def with_detail(deep: Deep, *, shadows: float = 0.0, highlights: float = 0.0) -> Deep:
    """The picture with shadows lightened and highlights darkened, each 0 (not at all) to 1."""
    broad = _broad(deep)
    move = steps_of(MOST_LIFT * (highlights * _ramp(2 * broad - 1) - shadows * _ramp(1 - 2 * broad)))
    opened = np.empty_like(deep)
    for top, by in enlarged_bands(move, deep.shape[:2]):
        opened[top : top + len(by)] = moved(deep[top : top + len(by)], by)
    return opened


def _ramp(amount: NDArray[np.float32]) -> NDArray[np.float32]:
    """0 up to 0, 1 from 1 on, smooth between."""
    held = np.clip(amount, 0, 1)
    return np.asarray(held * held * (3 - 2 * held), np.float32)


def _broad(deep: Deep) -> NDArray[np.float32]:
    """Lightness (encoded, 0–1) without detail, reduced."""
    grey = cv2.cvtColor(deep, cv2.COLOR_RGB2GRAY)
    scale = min(1.0, SIDE / max(grey.shape))
    size = max(2, round(grey.shape[1] * scale)), max(2, round(grey.shape[0] * scale))
    small = cv2.resize(grey, size, interpolation=cv2.INTER_AREA).astype(np.float32) / 65535
    window = (2 * max(1, round(REACH * max(size))) + 1,) * 2
    mean = cv2.blur(small, window)
    variance = cv2.blur(small * small, window) - mean * mean
    slope = variance / (variance + EDGE)
    return np.asarray(cv2.blur(slope, window) * small + cv2.blur(mean - slope * mean, window), np.float32)
