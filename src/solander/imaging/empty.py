"""The stage learnt from a capture of it without prints: brought into register and to the same light.

Convention (see `conventions` and `stage`): colours are CIELAB float32 of the reduced copy; light is linear.
"""

from __future__ import annotations

import cv2
import numpy as np
from numpy.typing import NDArray

from solander.imaging.conventions import Rgb
from solander.imaging.linear_light import encode_light, linear
from solander.imaging.stage import (
    SPREAD_FLOOR,
    STAGE_LIKE,
    Lab,
    Reduced,
    StageModel,
    margin_of,
    modelled,
    smoothed,
    spread_of,
    stage_distance,
)

__all__ = ["stage_from_empty"]

Light = NDArray[np.float32]

MOST_SHIFT = 4.0
"""Pixels of the reduced copy by which the camera may have moved since; more is another place."""

REGISTERED = 0.35
"""Pixels of the reduced copy within which the two frames are believed to lie on each other."""


def stage_from_empty(reduced: Reduced, empty: Rgb) -> StageModel:
    """The stage as a capture of it without prints shows it, moved and lit as the capture is.

    The two must have been taken from the same place; `empty` may have another size of the same shape. Each place
    has a spread of its own: the two frames' noise, and what the stage's texture changes within the register.
    """
    size = (reduced.rgb.shape[1], reduced.rgb.shape[0])
    there = np.asarray(cv2.resize(empty, size, interpolation=cv2.INTER_AREA), np.uint8)
    there = _moved(there, _shift(there, reduced.rgb))
    lab = smoothed(reduced.lab)
    stage = _relit(there, reduced.rgb)
    margin = margin_of(size[1], size[0])
    plain = spread_of((lab - stage)[margin & (stage_distance(lab, stage, 3 * SPREAD_FLOOR) < STAGE_LIKE)])
    return modelled(lab, stage, np.asarray(np.hypot(plain, REGISTERED * _steepness(stage)), np.float32))


def _shift(there: Rgb, here: Rgb) -> tuple[float, float]:
    """How far (x, y) the stage's texture has moved, by phase correlation; nothing where that tells nothing."""
    window = cv2.createHanningWindow((here.shape[1], here.shape[0]), cv2.CV_32F)
    (x, y), response = cv2.phaseCorrelate(_texture(there), _texture(here), window)
    return (x, y) if response > TOLD and max(abs(x), abs(y)) <= MOST_SHIFT else (0.0, 0.0)


TOLD = 0.08
"""Share of the correlation in its peak below which the peak is chance."""


def _texture(rgb: Rgb) -> NDArray[np.float32]:
    """Fine lightness changes, each cut to the common size, so that a print's strong edges don't outweigh."""
    light = cv2.cvtColor(rgb, cv2.COLOR_RGB2GRAY).astype(np.float32)
    fine = light - cv2.GaussianBlur(light, (0, 0), 3)
    usual = 2 * float(np.median(np.abs(fine))) + 1e-3
    return np.asarray(np.clip(fine, -usual, usual), np.float32)


def _moved(rgb: Rgb, shift: tuple[float, float]) -> Rgb:
    move = np.array([[1, 0, shift[0]], [0, 1, shift[1]]], float)
    size = (rgb.shape[1], rgb.shape[0])
    return np.asarray(cv2.warpAffine(rgb, move, size, borderMode=cv2.BORDER_REPLICATE), np.uint8)


def _relit(there: Rgb, here: Rgb) -> Lab:
    """The empty frame (Lab, smoothed) in the capture's light: of the two frames' ratio of light, the smooth plane
    that most of the margin, then most of the frame, agrees on."""
    before, now = _light(there), _light(here)
    ratio = np.log((now + FAINT) / (before + FAINT))
    height, width = ratio.shape[:2]
    y, x = np.mgrid[-0.5 : 0.5 : height * 1j, -0.5 : 0.5 : width * 1j].astype(np.float32)
    basis = np.stack([np.ones_like(x), x, y], axis=-1)
    known = margin_of(height, width)
    gain = np.median(ratio[known], axis=0) * np.array([[1.0], [0], [0]], np.float32)
    for _ in range(3):
        off = np.abs(ratio - basis @ gain).max(axis=-1)
        known = off < max(3 * float(np.median(off[margin_of(height, width)])), 0.03)
        gain = np.linalg.lstsq(basis[known][::7], ratio[known][::7], rcond=None)[0].astype(np.float32)
    lit = np.maximum((before + FAINT) * np.exp(basis @ gain) - FAINT, 0)
    return np.asarray(cv2.cvtColor(_encoded(lit), cv2.COLOR_RGB2Lab), np.float32)


FAINT = 0.004
"""Linear light added before ratios are taken: in stray light and the darkest code values a ratio tells little."""


def _light(rgb: Rgb) -> Light:
    """Linear light (0–1) of encoded sRGB, smoothed."""
    return np.asarray(cv2.GaussianBlur(linear(rgb), (0, 0), 1.0), np.float32)


def _encoded(light: Light) -> Light:
    return encode_light(np.clip(light, 0, 1))


def _steepness(stage: Lab) -> NDArray[np.float32]:
    """Change of each channel per pixel, whichever way."""
    x = cv2.Sobel(stage, cv2.CV_32F, 1, 0, ksize=3, scale=1 / 8)
    y = cv2.Sobel(stage, cv2.CV_32F, 0, 1, ksize=3, scale=1 / 8)
    return np.asarray(np.hypot(x, y), np.float32)
