"""Glare taken out of two captures of one print, the lamp once on either side.

Convention: see `deep`; both pictures have one size and show one print, cut out by one outline. What is mirrored
moves with the lamp, what is printed stays. Where both agree, their mean has less noise than either; where they
differ by more than noise does, the lower is the one without glare. A minimum everywhere would be dark by noise.
"""

from __future__ import annotations

from functools import cache

import cv2
import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from solander.imaging.conventions import WrongPicture
from solander.imaging.linear_light import encode_light
from solander.imaging.treatment.deep import CODES, Deep, light_of_codes

__all__ = ["Merged", "merge_two_lights"]

Floats = NDArray[np.float32]

DIFFER = 3.0
"""Deviations of noise from which two captures differ."""

SOFT = 3.0
"""Pixels over which one way passes into the other: a lamp's image has no hard edge."""

BRIGHT = 0.85
"""Linear light from which a place may be glare or clipped and says nothing of exposure."""

BLOWN = 0.98
"""Linear light from which nothing of the print is left; where both captures reach it, it is lost."""

FURTHEST = 0.02
"""Share of the longer side by which one capture may lie off the other; beyond, they are not one print."""

LEAST_ALIKE = 0.15
"""Response of the registration (0–1) below which the two pictures show nothing in common."""

BAND = 256


@frozen(eq=False)
class Merged:
    """The `picture` without glare; the shares (0–1) of it in which one capture was taken alone, `one_sided`, and
    in which both were blown out, `lost`; by which (x, y) pixels the second was moved."""

    picture: Deep
    one_sided: float
    lost: float
    moved: tuple[float, float]


def merge_two_lights(first: Deep, second: Deep) -> Merged:
    """One picture of two.

    Raises
    ------
    WrongPicture
        When the two are no pair: of different sizes, further apart than 2 %, or unlike.
    """
    if first.shape != second.shape:
        raise WrongPicture(f"two captures of one print have one size, not {first.shape} and {second.shape}")
    moved = _registered(first, second)
    shift = np.array([[1.0, 0, moved[0]], [0, 1, moved[1]]])
    size = first.shape[1], first.shape[0]
    flags = cv2.INTER_LINEAR | cv2.WARP_INVERSE_MAP
    if max(abs(moved[0]), abs(moved[1])) > 0.05:
        warped = cv2.warpAffine(second, shift, size, flags=flags, borderMode=cv2.BORDER_REPLICATE)
        second = np.asarray(warped, np.uint16)
    ratio, noise = _exposure(first, second)
    picture, one_sided, lost = np.empty_like(first), 0, 0
    margin = 4 * int(SOFT)
    for top in range(0, size[1], BAND):
        rows = slice(max(0, top - margin), min(size[1], top + BAND + margin))
        one, other = _light(first[rows]), _light(second[rows]) * ratio
        merged, apart = _merged(one, other, noise)
        inner = slice(top - rows.start, min(top + BAND, size[1]) - rows.start)
        picture[top : top + BAND] = _coded(merged[inner])
        one_sided += int(np.count_nonzero(apart[inner] > 0.5))
        lost += int(np.count_nonzero((np.minimum(one, other)[inner] > BLOWN).all(axis=2)))
    pixels = size[0] * size[1]
    return Merged(picture, one_sided / pixels, lost / pixels, moved)


def _merged(one: Floats, other: Floats, noise: Floats) -> tuple[Floats, Floats]:
    """The mean where two lights agree, the lower where they differ; and how far they do, 0–1."""
    mean, lower = (one + other) / 2, np.minimum(one, other)
    differ = np.abs(one - other).mean(axis=2)
    expected = np.interp(np.minimum(lower.mean(axis=2), 1), np.linspace(0, 1, len(noise)), noise)
    apart = (cv2.blur(differ, (3, 3)) > DIFFER * expected).astype(np.float32)
    apart = cv2.morphologyEx(apart, cv2.MORPH_OPEN, np.ones((3, 3), np.uint8))  # single pixels are noise
    wide = cv2.dilate(apart, np.ones((2 * int(SOFT) + 1,) * 2, np.uint8))
    weight = np.asarray(cv2.GaussianBlur(wide, (0, 0), SOFT), np.float32)
    return np.asarray(mean + weight[..., None] * (lower - mean), np.float32), weight


def _registered(first: Deep, second: Deep) -> tuple[float, float]:
    """By which the second lies off the first, px: phase correlation of their edges, which no light moves."""
    scale = min(1.0, 1024 / max(first.shape[:2]))
    edges = []
    for one in (first, second):
        grey = cv2.resize(
            cv2.cvtColor(one, cv2.COLOR_RGB2GRAY), None, fx=scale, fy=scale, interpolation=cv2.INTER_AREA
        )
        tone = cv2.GaussianBlur(np.log(grey.astype(np.float32) + 2000), (0, 0), 1.0)
        slope = cv2.magnitude(cv2.Sobel(tone, cv2.CV_32F, 1, 0), cv2.Sobel(tone, cv2.CV_32F, 0, 1))
        edges.append(np.minimum(slope, float(np.quantile(slope, 0.98))))  # so that the rim of glare counts little
    window = cv2.createHanningWindow((edges[0].shape[1], edges[0].shape[0]), cv2.CV_32F)
    (x, y), response = cv2.phaseCorrelate(edges[0], edges[1], window)
    if response < LEAST_ALIKE or max(abs(x), abs(y)) > FURTHEST * max(edges[0].shape):
        raise WrongPicture("the two captures don't show one print in one place")
    return round(x / scale, 3), round(y / scale, 3)


def _exposure(first: Deep, second: Deep) -> tuple[float, Floats]:
    """What the second is to be multiplied by, and the deviation of their difference by level (0–1 in 32 steps)."""
    step = max(1, max(first.shape[:2]) // 800)
    one, other = (
        _light(np.ascontiguousarray(each[::step, ::step])).reshape(-1, 3).mean(axis=1) for each in (first, second)
    )
    known = (one < BRIGHT) & (other < BRIGHT) & (np.minimum(one, other) > 0.01)
    ratio = float(np.median(one[known] / other[known])) if known.sum() > 100 else 1.0
    level, differ = np.minimum(one, other * ratio), np.abs(one - other * ratio)
    usual, noise = 0.003, []
    for start in np.arange(32) / 32:
        here = differ[(level >= start - 1 / 64) & (level < start + 3 / 64)]
        usual = max(0.001, 1.4826 * float(np.median(here))) if len(here) > 50 else usual
        noise.append(min(usual, 0.05))
    return ratio, np.asarray(noise, np.float32)


def _light(deep: Deep) -> Floats:
    return np.asarray(cv2.LUT(deep, light_of_codes().astype(np.float32)[None]), np.float32)


def _coded(light: Floats) -> Deep:
    place = np.sqrt(np.clip(light, 0, 1)) * (CODES - 1)  # finer steps in the dark, as codes have them
    return np.asarray(cv2.LUT(np.rint(place).astype(np.uint16), _codes_of_roots()), np.uint16)


@cache
def _codes_of_roots() -> Deep:
    codes = encode_light((np.arange(CODES) / (CODES - 1)) ** 2) * (CODES - 1)
    return np.rint(codes).astype(np.uint16)[None]
