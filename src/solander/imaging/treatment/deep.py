"""Pictures of 16 bits, in which treatments work, and the way to linear light and density and back.

Convention (see `solander.imaging.conventions`): a deep picture is (height, width, 3) uint16, encoded sRGB; its
code 65535 is that of 255. Linear light is 0 black to 1 white; density is −log10 of linear light, 0 for white, and
nothing is denser than `DENSEST`. A table has a row for each of the 65536 codes and a column for each channel.

The curve is that of `solander.imaging.linear_light`.
"""

from __future__ import annotations

from functools import cache

import cv2
import numpy as np
from numpy.typing import NDArray

from solander.imaging.conventions import Rgb, WrongPicture
from solander.imaging.linear_light import decode_codes, encode_light

__all__ = [
    "CODES",
    "DENSEST",
    "Deep",
    "Densities",
    "Table",
    "as_deep",
    "as_rgb",
    "densities",
    "density_of_codes",
    "encode_density",
    "from_densities",
    "light_of_codes",
    "moved",
    "steps_of",
]

Deep = NDArray[np.uint16]
"""(height, width, 3), encoded sRGB, 0–65535."""

Densities = NDArray[np.float64]
"""(n, 3), red, green, blue: what steps work on that go one channel at a time, below 0 for what is lighter than
white, so that nothing is cut off between two of them."""

Table = NDArray[np.float64]
"""(65536, 3): what becomes of each code of each channel, encoded, 0–1; outside of it what can't be shown."""

CODES = 65536

DENSEST = 4.0
"""Density of the darkest that is told apart: paper ends at about 2.4 (common practice, no source), and the first
code of 8 bits stands for 3.5."""

_FINE = 16384
"""Steps of density 1 in which `from_densities` looks codes up: with 4 × 16384 of them none is wrong by more than
0.00003 density, a quarter of a step of 16 bits in the mid-tones."""

_FINE_FACTORS = np.full(4, _FINE, np.float64)

TILE = 256
"""Pixels a side of the pattern that fills in what 8 bits left out."""


def as_deep(picture: Rgb | Deep, *, filled: bool = False) -> Deep:
    """The picture in 16 bits; one that has them already is given back itself.

    8 bits tell a code to half a step. Where a curve is to stretch them, the steps would come apart and show as
    bands; `filled`, each pixel takes a value of its own within its step, by a fixed pattern without low
    frequencies, the same at every call.

    Raises
    ------
    WrongPicture
        When it is neither uint8 nor uint16 of shape (height, width, 3).
    """
    if picture.ndim != 3 or picture.shape[2] != 3 or 0 in picture.shape:
        raise WrongPicture(f"needs (height, width, 3), got {picture.shape}")
    if picture.dtype == np.uint16:
        return np.asarray(picture, np.uint16)
    if picture.dtype != np.uint8:
        raise WrongPicture(f"needs 8 or 16 bits, got {picture.dtype}")
    deep = np.multiply(picture, 257, dtype=np.uint16)
    if filled:
        _fill(deep)
    return deep


def _fill(deep: Deep) -> None:
    """Adds the pattern (−128 to 128) to each tile, held within the range."""
    below, above = _pattern()
    for top in range(0, deep.shape[0], TILE):
        for left in range(0, deep.shape[1], TILE):
            tile = deep[top : top + TILE, left : left + TILE]
            height, width = tile.shape[:2]
            cv2.add(tile, above[:height, :width], dst=tile)  # both hold at the ends of the range
            cv2.subtract(tile, below[:height, :width], dst=tile)


@cache
def _pattern() -> tuple[Deep, Deep]:
    """What to subtract and what to add, evenly spread: white noise without its low frequencies, put in order."""
    rng = np.random.default_rng(20)
    white = rng.standard_normal((TILE, TILE, 3)).astype(np.float32)
    fine = white - cv2.GaussianBlur(white, (0, 0), 1.5, borderType=cv2.BORDER_REFLECT_101)
    rank = fine.reshape(-1, 3).argsort(axis=0, kind="stable").argsort(axis=0, kind="stable")
    even = (rank.reshape(TILE, TILE, 3) * 257 // TILE**2) - 128
    return np.maximum(-even, 0).astype(np.uint16), np.maximum(even, 0).astype(np.uint16)


def as_rgb(deep: Deep) -> Rgb:
    """The picture in 8 bits, each code rounded to the nearest; the same memory is not used again."""
    return np.asarray(cv2.convertScaleAbs(deep, alpha=1 / 257), np.uint8)


@cache
def light_of_codes() -> NDArray[np.float64]:
    """Linear light of each of the 65536 codes."""
    light = decode_codes(np.arange(CODES) / (CODES - 1))
    light.flags.writeable = False
    return light


@cache
def density_of_codes() -> NDArray[np.float64]:
    """Density of each of the 65536 codes, at most `DENSEST`."""
    density = -np.log10(np.maximum(light_of_codes(), 10**-DENSEST)) + 0.0
    density.flags.writeable = False
    return density


def encode_density(density: NDArray[np.floating]) -> NDArray[np.float64]:
    """Encoded values of densities, any shape; a density below 0 is lighter than white and comes out above 1."""
    return encode_light(10.0 ** -np.asarray(density, np.float64))


def densities(deep: Deep) -> NDArray[np.float32]:
    """Density of every pixel and channel, float32, same shape."""
    return np.asarray(cv2.LUT(deep, density_of_codes().astype(np.float32)[None]), np.float32)


def from_densities(density: NDArray[np.float32]) -> Deep:
    """The deep picture of densities (height, width, 3); what lies outside 0 to `DENSEST` is held there."""
    place = np.asarray(cv2.multiply(density, _FINE_FACTORS, dtype=cv2.CV_16U), np.uint16)
    return np.asarray(cv2.LUT(place, _codes_of_densities()), np.uint16)


def steps_of(density: NDArray[np.floating]) -> NDArray[np.int16]:
    """Densities (−2 to 2) as whole steps of 1/16384, in which `moved` adds them."""
    return np.asarray(np.rint(np.asarray(density, np.float32) * np.float32(_FINE)), np.int16)


def moved(deep: Deep, by: NDArray[np.int16]) -> Deep:
    """The picture with `by` (see `steps_of`) added to its densities, (height, width) for all channels alike, or
    (height, width, 3); held within 0 and `DENSEST`. In whole steps: two thirds of the time of floating point.
    """
    each = cv2.merge((by,) * 3) if by.ndim == 2 else by
    places = cv2.add(cv2.LUT(deep, _places_of_codes()), each, dtype=cv2.CV_16U)
    return np.asarray(cv2.LUT(places, _codes_of_densities()), np.uint16)


@cache
def _places_of_codes() -> NDArray[np.uint16]:
    return np.rint(np.minimum(density_of_codes() * _FINE, CODES - 1)).astype(np.uint16)[None]


@cache
def _codes_of_densities() -> NDArray[np.uint16]:
    codes = encode_density(np.arange(CODES) / _FINE) * (CODES - 1)
    return np.rint(codes).astype(np.uint16)[None]
