"""The size in which a picture goes out, and the sharpening that goes with it.

Convention: see `deep`; radius in pixels of the size that goes out. A picture in full size is never sharpened: what
is lost by making it smaller is given back, and no more. Pixels are averaged in linear light, as a lens does, and
sharpened in encoded luma, as an eye sees.
"""

from __future__ import annotations

from functools import cache

import cv2
import numpy as np

from solander.imaging.linear_light import encode_light
from solander.imaging.treatment.deep import CODES, Deep, light_of_codes

__all__ = ["for_size"]

RADIUS = 0.7
"""Deviation of the blur, px, about that of averaging areas."""


def for_size(deep: Deep, long_side: int, *, sharpening: float = 0.5) -> Deep:
    """The picture reduced to `long_side` pixels and sharpened in its luma by `sharpening` (0–1).

    A picture that is no larger than that is given back as it is, not sharpened.
    """
    height, width = deep.shape[:2]
    scale = long_side / max(height, width)
    if scale >= 1:
        return deep
    size = max(1, round(width * scale)), max(1, round(height * scale))
    to_light, to_codes = _tables()
    light = cv2.resize(cv2.LUT(deep, to_light), size, interpolation=cv2.INTER_AREA)
    small = np.asarray(cv2.LUT(light, to_codes), np.uint16)
    if sharpening <= 0:
        return small
    grey = cv2.cvtColor(small, cv2.COLOR_RGB2GRAY).astype(np.float32)
    fine = sharpening * (grey - cv2.GaussianBlur(grey, (0, 0), RADIUS))
    return np.clip(np.rint(small + fine[..., None]), 0, 65535).astype(np.uint16)


@cache
def _tables() -> tuple[Deep, Deep]:
    """From codes to light in 65535 steps (20 of them to the first code of 8 bits), and back."""
    light = np.rint(light_of_codes() * (CODES - 1)).astype(np.uint16)
    codes = np.rint(encode_light(np.arange(CODES) / (CODES - 1)) * (CODES - 1)).astype(np.uint16)
    return light[None], codes[None]
