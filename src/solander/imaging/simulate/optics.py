"""What a lens does to the light beside bending it: blur that grows towards the corners, fall-off, colour fringes.

Convention: light is linear, (height, width, 3) float32; the optical axis goes through the middle of the picture;
"corner" is what holds at half a diagonal from there. Nothing here moves the green channel.
"""

from __future__ import annotations

from collections.abc import Sequence

import cv2
import numpy as np
from numpy.typing import NDArray

from solander.imaging.simulate.light import Linear

__all__ = ["blurred", "fringed", "lit"]


def blurred(light: Linear, middle_px: float, corner_px: float, kernels: Sequence[NDArray[np.float32]]) -> Linear:
    """The light after `kernels` and a Gaussian blur of `middle_px`, which grows by `corner_px` in the corners."""
    for kernel in kernels:
        light = np.asarray(cv2.filter2D(light, -1, kernel, borderType=cv2.BORDER_REFLECT_101))
    if middle_px:
        light = np.asarray(cv2.GaussianBlur(light, (0, 0), middle_px))
    if corner_px:
        # Two blurs one after the other add their squares.
        more = float(np.sqrt((middle_px + corner_px) ** 2 - middle_px**2))
        soft = np.asarray(cv2.GaussianBlur(light, (0, 0), more), np.float32)
        soft -= light
        soft *= _square_radius(light.shape)[..., None]
        light = np.asarray(cv2.add(light, soft), np.float32)
    return light


def fringed(light: Linear, fringe_px: float) -> Linear:
    """Red a little larger and blue a little smaller than green: by `fringe_px` in the corners."""
    height, width = light.shape[:2]
    share = 2 * fringe_px / float(np.hypot(width, height))
    red, green, blue = (np.ascontiguousarray(light[..., channel]) for channel in range(3))
    return np.asarray(cv2.merge([_scaled(red, 1 + share), green, _scaled(blue, 1 - share)]), np.float32)


def lit(light: Linear, gain: Linear, falloff: float) -> Linear:
    """The light times `gain` (3,), less `falloff` (0–1) of it in the corners; cos⁴ of a normal lens is near r²."""
    if falloff:
        light *= (1 - falloff * _square_radius(light.shape))[..., None]
    light *= gain
    return light


def _scaled(channel: Linear, scale: float) -> Linear:
    height, width = channel.shape
    middle = np.array([(width - 1) / 2, (height - 1) / 2])
    move = np.column_stack([np.eye(2) * scale, middle * (1 - scale)])
    moved = cv2.warpAffine(channel, move, (width, height), flags=cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE)
    return np.asarray(moved, np.float32)


def _square_radius(shape: tuple[int, ...]) -> Linear:
    """0 in the middle, 1 in the corners."""
    height, width = shape[:2]
    y, x = np.arange(height) - (height - 1) / 2, np.arange(width) - (width - 1) / 2
    half_diagonal = (height**2 + width**2) / 4
    return np.asarray((y[:, None] ** 2 + x[None] ** 2) / half_diagonal, np.float32)
