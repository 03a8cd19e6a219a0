"""What has changed between two frames of a camera that stands still: the light, or something in the picture.

Convention (see `conventions`): frames uint8 sRGB; a glance is a frame at about 160 pixels, float32, encoded 0–255;
masks are bool of a glance's height and width.

Method. Light that changes multiplies: its factor, a plane over the frame for each channel, is fitted to what both
glances show (trimmed least squares, in logarithms), and the former glance is lit anew. What then differs by more
than noise, and by more than a shake of the camera makes along an edge, has changed.
"""

from __future__ import annotations

import cv2
import numpy as np
from attrs import frozen
from cv2.typing import MatLike
from numpy.typing import NDArray

from solander.imaging.conventions import Rgb

__all__ = [
    "COLOUR_COUNTS",
    "DARK",
    "LUMA",
    "Compared",
    "Glance",
    "Mask",
    "compare",
    "glance",
    "pixels_shaken",
    "trimmed_plane",
]

Glance = NDArray[np.float32]
Mask = NDArray[np.bool_]

LONG_SIDE = 160
"""Long side of a glance: a fingertip in a frame 30 cm wide is 8 pixels wide there."""

SHAKEN = 0.35
"""Pixels of a glance by which a shaking camera may move the picture: 4 of a frame of 1920."""

NOISE = 0.6, 3.0
"""Least and most deviation of a glance's noise (code values) that is believed: JPEG, and a webcam by a lamp;
without bound, a print that fills the frame would be taken for noise."""

COLOUR_COUNTS = 0.45
"""How much a difference of one channel counts beside one of luma. JPEG of quality 55 rounds the colour of 16 × 16
pixels to steps of 3 to 5 code values, their luma to less than 3, and from frame to frame it rounds otherwise."""

LUMA = np.array([[0.299, 0.587, 0.114]], np.float32)

BEYOND_NOISE = 5.0
"""Deviations from which a difference is none of noise."""

LEAST_CHANGED = 7e-4
"""Share of the frame that must change in one piece: ten pixels of 160 × 90, less than a fingertip."""

DARK = 8.0
"""Code values added before light is told as a factor, so that black, which no light changes, tells nothing."""

CLIPPED = 250.0
"""Code value from which a place is too bright to tell of light."""


@frozen(eq=False)
class Compared:
    """The former glance in the light of now (`relit`), by which share the light has changed at most, and where
    something else has."""

    relit: Glance
    light: float
    changed: Mask


def glance(frame: Rgb) -> Glance:
    """The frame at about 160 pixels, by area averaging; halved first, which is quicker."""
    height, width = frame.shape[:2]
    scale = max(height, width) / LONG_SIDE
    size = max(1, round(width / scale)), max(1, round(height / scale))
    halved = cv2.resize(frame, (width // 2, height // 2), interpolation=cv2.INTER_AREA) if scale >= 4 else frame
    return np.asarray(cv2.resize(halved, size, interpolation=cv2.INTER_AREA), np.float32)


def pixels_shaken(frame: Rgb) -> float:
    """Pixels of the frame by which an edge may move and count as unmoved."""
    return float(SHAKEN * max(frame.shape[:2]) / LONG_SIDE)


def compare(before: Glance, now: Glance) -> Compared:
    """What has changed from one glance to another of the same shape."""
    factor = _light(before, now)
    relit = np.asarray(np.clip((before + DARK) * factor - DARK, 0, 255), np.float32)
    differ = _difference(now - relit)
    noise = float(np.clip(np.median(differ), *NOISE))
    edges = _most(cv2.morphologyEx(relit, cv2.MORPH_GRADIENT, np.ones((3, 3), np.uint8)))
    changed = differ > BEYOND_NOISE * noise + SHAKEN * edges
    return Compared(relit, float(np.abs(factor - 1).max()), _in_pieces(changed))


def _difference(change: Glance) -> NDArray[np.float32]:
    """How much each place differs, in code values of luma."""
    luma = np.abs(cv2.transform(change, LUMA)).reshape(change.shape[:2])
    return np.asarray(cv2.max(luma, COLOUR_COUNTS * _most(np.abs(change))), np.float32)


def _most(channels: MatLike) -> NDArray[np.float32]:
    """The greatest of three channels; numpy's own is slow along so short an axis."""
    one, two, three = cv2.split(channels)
    return np.asarray(cv2.max(cv2.max(one, two), three), np.float32)


def _in_pieces(changed: Mask) -> Mask:
    """Without the pieces that are too small to be anything."""
    _, labels, stats, _ = cv2.connectedComponentsWithStats(changed.astype(np.uint8), connectivity=8)
    large = stats[:, cv2.CC_STAT_AREA] >= LEAST_CHANGED * changed.size
    large[0] = False
    return np.asarray(large[labels], np.bool_)


STEP = 4
"""Every so many pixels of a glance the light is compared, both ways."""

ALIKE = 0.02
"""Least deviation (of a factor's logarithm) within which places tell of the same light."""


def _light(before: Glance, now: Glance) -> Glance:
    """The factor of the light at every place and channel: its logarithm is a plane."""
    then, new = before[::STEP, ::STEP], now[::STEP, ::STEP]
    height, width = then.shape[:2]
    y, x = (axis.ravel() for axis in np.mgrid[-1 : 1 : height * 1j, -1 : 1 : width * 1j])
    told = _most(np.maximum(then, new)).ravel() < CLIPPED
    if told.sum() < 0.05 * told.size:
        return np.ones_like(before)
    basis = np.stack([np.ones_like(x), x, y], axis=1)[told]
    ratio = np.log((new + DARK) / (then + DARK)).reshape(-1, 3)[told]
    plane = trimmed_plane(basis, ratio)
    across, down = np.linspace(-1, 1, before.shape[1]), np.linspace(-1, 1, before.shape[0])
    logarithm = plane[0] + across[None, :, None] * plane[1] + down[:, None, None] * plane[2]
    return np.asarray(np.exp(logarithm), np.float32)


def trimmed_plane(basis: NDArray[np.float64], ratio: NDArray[np.floating]) -> NDArray[np.float64]:
    """The plane that most places agree on, (3 terms, 3 channels), of a `basis` (n, 3) that begins with ones and
    the `ratio` (n, 3) at each place; first a level, the median."""
    plane = np.zeros((3, 3))
    plane[0] = np.median(ratio, axis=0)
    ridge = np.diag([0.0, 1, 1]) * 0.02 * len(basis)
    for _ in range(4):
        off = _most(np.abs(ratio - basis @ plane)[None])[0]
        kept = off <= max(ALIKE, 2 * float(np.median(off)))
        chosen = basis * kept[:, None]
        plane = np.linalg.solve(chosen.T @ basis + ridge, chosen.T @ ratio)
    return plane
