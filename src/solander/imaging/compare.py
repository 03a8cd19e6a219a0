"""Whether two pictures show the same photograph.

Convention: pictures as in `conventions`, of any size; neither function cares for size, `same_picture` neither for
turn nor crop.
"""

from __future__ import annotations

from collections.abc import Sequence

import cv2
import numpy as np
from attrs import frozen

from solander.imaging.conventions import Rgb, require_rgb
from solander.imaging.encode import thumbnail

__all__ = ["Same", "distance", "fingerprint", "same_picture"]

GRID = 32
LOW = 8

REDUCED = 640
"""Long side at which features are compared."""

FEATURES = 800

NEAREST_RATIO = 0.8
"""A match counts when its nearest neighbour is clearly nearer than the next (Lowe 2004 proposes 0.8)."""

ENOUGH_INLIERS = 40
"""Matches on one homography that make two pictures the same. 250 pairs of different photographs of
shared/data/photos gave at most 10 (drawn pictures, which share their houses, 23); 39 photographs turned,
cropped, blurred and faded gave at least 160 with themselves."""


@frozen
class Same:
    """How far two pictures agree: feature pairs that match, those that lie on one homography, and the verdict."""

    matches: int
    inliers: int
    is_same: bool


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


def same_picture(rgb_a: Rgb, rgb_b: Rgb) -> Same:
    """Whether two pictures show the same photograph, turned, cropped, resized or faded as they may be.

    ORB features at a reduced size, matched both to the nearest and clearly nearer than to the next, then one
    homography by RANSAC (3 px). A picture without features matches nothing.
    """
    points_a, words_a = _features(rgb_a)
    points_b, words_b = _features(rgb_b)
    if words_a is None or words_b is None or min(len(words_a), len(words_b)) < 4:
        return Same(0, 0, False)
    pairs = cv2.BFMatcher(cv2.NORM_HAMMING).knnMatch(words_a, words_b, k=2)
    good = [p[0] for p in pairs if len(p) == 2 and p[0].distance < NEAREST_RATIO * p[1].distance]
    inliers = _on_one_homography([points_a[m.queryIdx] for m in good], [points_b[m.trainIdx] for m in good])
    return Same(len(good), inliers, inliers >= ENOUGH_INLIERS)


def _features(rgb: Rgb) -> tuple[list[tuple[float, float]], np.ndarray | None]:
    grey = cv2.cvtColor(require_rgb(rgb), cv2.COLOR_RGB2GRAY)
    scale = REDUCED / max(grey.shape)
    if scale < 1:
        grey = cv2.resize(grey, None, fx=scale, fy=scale, interpolation=cv2.INTER_AREA)
    detector = cv2.ORB.create(FEATURES, fastThreshold=10)
    keypoints, words = detector.detectAndCompute(grey, None)
    return [(k.pt[0], k.pt[1]) for k in keypoints], words


def _on_one_homography(a: Sequence[tuple[float, float]], b: Sequence[tuple[float, float]]) -> int:
    if len(a) < 4:
        return 0
    cv2.setRNGSeed(1)  # the same two pictures must give the same answer twice
    _, inside = cv2.findHomography(np.array(a, np.float32), np.array(b, np.float32), cv2.RANSAC, 3.0)
    return 0 if inside is None else int(inside.sum())
