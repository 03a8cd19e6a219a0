"""Encoded sRGB to linear light (curve of IEC 61966-2-1)."""

from __future__ import annotations

import cv2
import numpy as np
from numpy.typing import NDArray

from solander.imaging.conventions import Rgb

__all__ = ["decoding", "encoded", "linear"]

Light = NDArray[np.float32]


def decoding() -> NDArray[np.float64]:
    """Linear light, 0–1, of each code value 0–255."""
    code = np.arange(256) / 255
    return np.where(code <= 0.04045, code / 12.92, ((code + 0.055) / 1.055) ** 2.4)


def linear(rgb: Rgb) -> Light:
    """Linear light of a picture, float32 0–1, same shape."""
    return np.asarray(cv2.LUT(rgb, decoding().astype(np.float32)), np.float32).reshape(rgb.shape)


def encoded(light: NDArray[np.floating]) -> NDArray[np.float64]:
    """Code values 0–255, not rounded, of linear light, which is clipped to 0–1."""
    clipped = np.clip(np.asarray(light, np.float64), 0, 1)
    code = np.where(clipped <= 0.0031308, clipped * 12.92, 1.055 * clipped ** (1 / 2.4) - 0.055)
    return np.asarray(255 * code, np.float64)
