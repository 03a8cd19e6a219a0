"""Uneven light evened by what a blank sheet showed in the same place: a flat field.

Convention: see `deep`. The field is (height, width, 3), any size, linear light of the blank sheet as the view
would have shown it, above 0; it is blurred already and covers the same part of the stage as the view.
"""

from __future__ import annotations

import cv2
import numpy as np
from numpy.typing import NDArray

from solander.imaging.conventions import WrongPicture
from solander.imaging.treatment.deep import Deep, moved

__all__ = ["MOST_FALL", "evened"]

MOST_FALL = 8.0
"""Times that the field's lightest place may be lighter than its darkest: beyond, the lamp stood wrong, and what is
brought back would be noise."""

BAND = 256


def evened(deep: Deep, field: NDArray[np.floating]) -> Deep:
    """The picture times max(field) / field in linear light, each channel by itself.

    Raises
    ------
    WrongPicture
        When the field is no such array, or falls off too far.
    """
    light = np.asarray(field, np.float32)
    if light.ndim != 3 or light.shape[2] != 3 or not np.isfinite(light).all() or light.min() <= 0:
        raise WrongPicture("a flat field is (height, width, 3) of light above 0")
    brightest = light.reshape(-1, 3).max(axis=0)
    if (brightest / light.reshape(-1, 3).min(axis=0) > MOST_FALL).any():
        raise WrongPicture(f"a flat field falls off by less than {MOST_FALL:g} times")
    missing = np.asarray(-np.log10(light / brightest), np.float32)
    height, width = deep.shape[:2]
    even = np.empty_like(deep)
    for top in range(0, height, BAND):
        rows = min(BAND, height - top)
        scale = np.array([missing.shape[1] / width, missing.shape[0] / height])
        matrix = np.array([[scale[0], 0, 0.5 * scale[0] - 0.5], [0, scale[1], (top + 0.5) * scale[1] - 0.5]])
        flags = cv2.INTER_LINEAR | cv2.WARP_INVERSE_MAP
        less = cv2.warpAffine(missing, matrix, (width, rows), flags=flags, borderMode=cv2.BORDER_REPLICATE)
        even[top : top + rows] = moved(deep[top : top + rows], -np.asarray(less, np.float32))
    return even
