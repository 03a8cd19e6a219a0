"""Raw files made from a known picture, so that it is known what must come out of them.

The form is Adobe's Digital Negative, specification 1.4: the tags below by their numbers, colours by the way back
of its chapter 6 (camera colour = ColorMatrix × XYZ, white balance as AsShotNeutral).
"""

from __future__ import annotations

import struct
from pathlib import Path

import numpy as np
import tifffile

XYZ_TO_SRGB = np.array([[3.2406, -1.5372, -0.4986], [-0.9689, 1.8758, 0.0415], [0.0557, -0.2040, 1.0570]])
"""IEC 61966-2-1."""

PLAIN = np.eye(3)
MIXING = np.array([[0.80, 0.15, 0.05], [0.10, 0.85, 0.05], [0.02, 0.18, 0.80]])
"""A camera whose filters each let some of the other colours through; rows sum to 1, so grey stays grey."""


def linear(rgb: np.ndarray) -> np.ndarray:
    """Light of encoded sRGB, 0–1 (IEC 61966-2-1)."""
    share = rgb / 255.0
    return np.where(share <= 0.04045, share / 12.92, ((share + 0.055) / 1.055) ** 2.4)


def write_dng(
    path: Path,
    rgb: np.ndarray,
    *,
    mosaic: bool = True,
    filters: np.ndarray = PLAIN,
    neutral: tuple[float, float, float] = (1.0, 1.0, 1.0),
    exposure: float = 1.0,
    orientation: int = 1,
    levels: tuple[int, int] = (256, 15000),
    maker: str = "Made",
) -> Path:
    """A DNG of the picture: one colour a pixel behind a filter (red, green / green, blue), or with `mosaic` off
    all three; `neutral` is what the camera takes for grey, `levels` are its black and white."""
    black, white = levels
    light = linear(rgb) @ filters.T * neutral * exposure
    camera = np.rint(light * (white - black) + black).clip(0, white).astype(np.uint16)
    tags = [
        (271, "s", 0, maker, True),
        (272, "s", 0, "Made for tests", True),
        (274, "H", 1, orientation, True),
        (50706, "B", 4, (1, 4, 0, 0), True),  # DNGVersion
        (50707, "B", 4, (1, 1, 0, 0), True),  # DNGBackwardVersion
        (50708, "s", 0, "Made for tests", True),  # UniqueCameraModel
        (50714, "H", 1, black, True),  # BlackLevel
        (50717, "H", 1, white, True),  # WhiteLevel
        (50721, "2i", 9, _fractions(filters @ XYZ_TO_SRGB), True),  # ColorMatrix1
        (50728, "2I", 3, _fractions(np.array(neutral)), True),  # AsShotNeutral
        (50778, "H", 1, 21, True),  # CalibrationIlluminant1: D65
    ]
    if mosaic:
        tags += [(33421, "H", 2, (2, 2), True), (33422, "B", 4, (0, 1, 1, 2), True)]
        camera = _behind_filters(camera)
    kind = {"photometric": 32803} if mosaic else {"photometric": 34892, "planarconfig": "contig"}
    tifffile.imwrite(path, camera, extratags=tags, metadata=None, software=False, **kind)
    return path


def without_mark(dng: bytes) -> bytes:
    """The same file without the mark of a DNG, as the makers' own raw files are."""
    return dng.replace(struct.pack("<HHI", 50706, 1, 4), struct.pack("<HHI", 50000, 1, 4), 1)


def _behind_filters(camera: np.ndarray) -> np.ndarray:
    single = camera[..., 1].copy()
    single[0::2, 0::2] = camera[0::2, 0::2, 0]
    single[1::2, 1::2] = camera[1::2, 1::2, 2]
    return single


def _fractions(values: np.ndarray) -> list[int]:
    return [number for value in values.ravel() for number in (round(float(value) * 100_000), 100_000)]
