"""What a sensor and the software behind it do: noise, a colour mosaic, smoothing, sharpening.

Codes are sRGB code values × `CODE_SHARES`, int16. The software works in luma (ITU-R BT.601) and colour apart, as
cameras do: its smoothing and its halos are those of luma, while colour is merely smeared.
"""

from __future__ import annotations

import cv2
import numpy as np
from numpy.typing import NDArray

from solander.imaging.simulate.light import CODE_SHARES, Linear

__all__ = ["developed", "even_noise", "through_mosaic"]

Codes = NDArray[np.int16]

_MIDDLE_GREY = 0.18  # linear light; code value 118
_CODES_A_UNIT = 255 * 1.055 / 2.4 * _MIDDLE_GREY ** (1 / 2.4 - 1)  # slope of the sRGB curve there
_READ = 0.15  # of the noise's variance at middle grey that is there in the dark, too
_FULL = 60000  # linear light 1 in 16 bits, with some room above
_LUMA = np.array([[0.299, 0.587, 0.114]], np.float32)
_HALO_PX = 1.4


def even_noise(rng: np.random.Generator, shape: tuple[int, ...], sigma: float) -> Codes:
    """Three channels of noise out of one draw: the second and third are the first, moved, with its sign turned."""
    drawn = rng.standard_normal(shape, dtype=np.float32)
    drawn *= sigma * CODE_SHARES
    first = drawn.astype(np.int16)
    rows, columns = (int(rng.integers(shape[axis] // 3, shape[axis] // 2 + 1)) for axis in (0, 1))
    return np.dstack([first, np.roll(-first, rows, axis=0), np.roll(first, (columns, rows), axis=(1, 0))])


def through_mosaic(light: Linear, rng: np.random.Generator, noise: float) -> Linear:
    """The light as a sensor under red, green and blue squares sees it, the gaps filled in from the neighbours.

    `noise` is the deviation in code values that one square has at middle grey; it goes with the root of the light.
    """
    plane = _squares(light)
    if noise:
        variance = (noise / _CODES_A_UNIT) ** 2
        sigma = np.sqrt(np.maximum(plane, 0) * ((1 - _READ) * variance / _MIDDLE_GREY) + _READ * variance)
        sigma *= rng.standard_normal(plane.shape, dtype=np.float32)
        plane += sigma
    squares = np.clip(plane * _FULL, 0, 65535).astype(np.uint16)
    filled = cv2.demosaicing(squares, cv2.COLOR_BayerRGGB2RGB_EA)
    return np.asarray(filled, np.float32) * np.float32(1 / _FULL)


def _squares(light: Linear) -> Linear:
    plane = light[..., 1].copy()
    plane[0::2, 0::2] = light[0::2, 0::2, 0]
    plane[1::2, 1::2] = light[1::2, 1::2, 2]
    return plane


def developed(codes: Codes, *, smoothing: float, sharpening: float, noise: float) -> Codes:
    """The codes after a telephone's software; `noise` is the deviation (code values) that it believes in."""
    colour = np.asarray(codes, np.float32)
    luma = np.asarray(cv2.transform(colour, _LUMA), np.float32)
    colour -= luma[..., None]
    if smoothing:
        luma = luma + smoothing * (_without_noise(luma, 1.5 * noise * CODE_SHARES) - luma)
        colour = _smeared(colour)
    if sharpening:
        luma = luma + (1.6 * sharpening) * (luma - cv2.GaussianBlur(luma, (0, 0), _HALO_PX))
    colour += luma[..., None]
    return np.asarray(np.clip(colour, 0, 255 * CODE_SHARES), np.int16)


def _without_noise(luma: Linear, noise: float) -> Linear:
    """Wiener's filter in windows of 5 × 5 (Lee, 1980): flat where the variance is noise's own, itself at edges."""
    mean = np.asarray(cv2.blur(luma, (5, 5)))
    variance = cv2.blur(luma * luma, (5, 5)) - mean * mean
    kept = np.maximum(variance - noise**2, 0) / np.maximum(variance, 1)
    return np.asarray(mean + kept * (luma - mean), np.float32)


def _smeared(colour: Linear) -> Linear:
    size = colour.shape[1::-1]
    small = cv2.resize(colour, ((size[0] + 1) // 2, (size[1] + 1) // 2), interpolation=cv2.INTER_AREA)
    return np.asarray(cv2.resize(cv2.blur(small, (3, 3)), size, interpolation=cv2.INTER_LINEAR), np.float32)
