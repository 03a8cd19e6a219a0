"""How near two whole pictures are to each other, by their perceptual hashes.

Convention: pictures as in `conventions`, of any size.
"""

from __future__ import annotations

import cv2
import numpy as np

from solander.imaging.conventions import Rgb, require_rgb
from solander.imaging.encode import thumbnail

__all__ = ["distance", "fingerprint"]

GRID = 32
LOW = 8


def fingerprint(rgb: Rgb) -> str:
    """A 64-bit perceptual hash as 16 hex digits; like pictures differ in few bits (see `distance`).

    The signs of the 8 × 8 lowest cosine frequencies of the 32 × 32 luma picture against their median. The mean
    (frequency 0, 0) is held at zero, so that its bit carries nothing but costs nothing. Taken from the small
    picture (`encode.thumbnail`), so that a view and its small picture have the same one.
    """
    grey = cv2.cvtColor(thumbnail(require_rgb(rgb)), cv2.COLOR_RGB2GRAY)
    small = cv2.resize(grey, (GRID, GRID), interpolation=cv2.INTER_AREA)
    low = np.asarray(cv2.dct(small.astype(np.float32)))[:LOW, :LOW].copy()
    low[0, 0] = 0.0
    return np.packbits((low > np.median(low)).ravel()).tobytes().hex()


def distance(a: str, b: str) -> int:
    """Bits in which two fingerprints differ, 0–64."""
    return (int(a, 16) ^ int(b, 16)).bit_count()
