"""Uneven light evened by what a blank sheet showed in the same place: a flat field.

Convention: see `deep`. The field is (height, width, 3), any size, linear light of the blank sheet as the view
would have shown it, above 0; it is blurred already and covers the same part of the stage as the view.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from solander.imaging.conventions import WrongPicture
from solander.imaging.treatment.bands import enlarged_bands
from solander.imaging.treatment.deep import Deep, moved, steps_of

__all__ = ["MOST_FALL", "evened"]

MOST_FALL = 8.0
"""Times that the field's lightest place may be lighter than its darkest: beyond, the lamp stood wrong, and what is
brought back would be noise."""


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
    more = steps_of(np.log10(light / brightest))
    even = np.empty_like(deep)
    for top, by in enlarged_bands(more, deep.shape[:2]):
        even[top : top + len(by)] = moved(deep[top : top + len(by)], by)
    return even
