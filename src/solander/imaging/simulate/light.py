"""Encoded sRGB to linear light and back, and soft random fields.

Linear pictures are float32, 0 black to 1 white. The curve is that of `solander.imaging.linear_light`.
"""

from __future__ import annotations

import cv2
import numpy as np
from numpy.typing import NDArray

from solander.imaging.linear_light import decoding, encode_light

__all__ = ["Linear", "Rgb", "clouds", "encoded", "linear_colour"]

Rgb = NDArray[np.uint8]
Linear = NDArray[np.float32]

_STEPS = 65535  # of the table back; the steepest part of the curve is then 0.05 code values a step
CODE_SHARES = 64  # encoded values carry six more bits, so that noise is added before rounding


def _encoding() -> NDArray[np.uint16]:
    light = np.arange(_STEPS + 1) / _STEPS
    return np.asarray(np.rint(encode_light(light) * 255 * CODE_SHARES), np.uint16)


_TO_LINEAR, _TO_CODE = decoding().astype(np.float32), _encoding()


def linear_colour(rgb: tuple[float, float, float]) -> Linear:
    """Linear light of one sRGB colour given in code values 0–255 (fractions allowed); shape (3,)."""
    return np.asarray(np.interp(np.asarray(rgb), np.arange(256), _TO_LINEAR), np.float32)


def encoded(light: Linear) -> NDArray[np.int16]:
    """sRGB code values × `CODE_SHARES` of linear light, clipped to 0–1; same shape."""
    levels = np.empty(light.shape, np.uint16)
    np.multiply(np.clip(light, 0, 1), _STEPS, out=levels, casting="unsafe")
    return np.asarray(cv2.LUT(levels, _TO_CODE.reshape(1, -1))).reshape(light.shape).view(np.int16)


def clouds(rng: np.random.Generator, size: tuple[int, int], *, cell: tuple[float, float]) -> Linear:
    """A smooth random field of `size` (width, height), mean 0, deviation about 1, a knot each `cell` (x, y) px."""
    columns, rows = (max(2, int(np.ceil(side / step)) + 1) for side, step in zip(size, cell, strict=True))
    knots = rng.standard_normal((rows, columns), dtype=np.float32)
    return np.asarray(cv2.resize(knots, size, interpolation=cv2.INTER_CUBIC))
