"""Encoded sRGB to linear light and back: the curve of IEC 61966-2-1, here and nowhere else.

Convention: encoded values and linear light are 0 black to 1 white; code values are 0–255. Written out here, for
colour-science takes a second to load and finding prints needs the curve at once; tests hold it against another.
"""

from __future__ import annotations

from typing import TypeVar

import cv2
import numpy as np
from numpy.typing import NDArray

from solander.imaging.conventions import Rgb

__all__ = ["decode_codes", "decoding", "encode_light", "encoded", "linear"]

Float = TypeVar("Float", bound=np.floating)

Light = NDArray[np.float32]


def decode_codes(codes: NDArray[Float]) -> NDArray[Float]:
    """Linear light of encoded values, any shape; below black and above white too."""
    size = np.abs(codes)
    light = np.where(size <= 0.04045, size / 12.92, ((size + 0.055) / 1.055) ** 2.4)
    return np.asarray(np.copysign(light, codes), codes.dtype)


def encode_light(light: NDArray[Float]) -> NDArray[Float]:
    """Encoded values of linear light, any shape; below black and above white too."""
    size = np.abs(light)
    codes = np.where(size <= 0.0031308, size * 12.92, 1.055 * size ** (1 / 2.4) - 0.055)
    return np.asarray(np.copysign(codes, light), light.dtype)


def decoding() -> NDArray[np.float64]:
    """Linear light, 0–1, of each code value 0–255."""
    return decode_codes(np.arange(256) / 255)


def linear(rgb: Rgb) -> Light:
    """Linear light of a picture, float32 0–1, same shape."""
    return np.asarray(cv2.LUT(rgb, decoding().astype(np.float32)), np.float32).reshape(rgb.shape)


def encoded(light: NDArray[np.floating]) -> NDArray[np.float64]:
    """Code values 0–255, not rounded, of linear light, which is clipped to 0–1."""
    return 255 * encode_light(np.clip(np.asarray(light, np.float64), 0, 1))
