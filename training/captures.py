"""Captures of the project's own simulator to learn from, beside the scenes that are drawn here."""

from __future__ import annotations

from collections.abc import Sequence

import cv2
import numpy as np
from clutter import around
from sheets import Bytes
from textures import Rng
from truths import Truths

from solander.imaging.simulate import random_capture

WEIGHTS = {
    "grey stage": 1, "blue stage": 0.5, "green stage": 0.5, "black felt": 1, "borderless": 1, "wood": 2,
    "white on white": 2, "dark on black": 2, "doors and mounts": 4, "glare": 1, "rounded": 0.5, "deckle": 1,
    "finger": 1, "stage edge": 1, "apart": 3, "touching": 7, "flatbed": 3, "flatbed touching": 7, "album page": 3,
    "household": 2, "empty": 1,
}  # fmt: skip
"""Cases and how often each is drawn. Curled prints are left out: their truth is corners, not the bowed sides."""

FIRST_SEED = 100_000_000
"""Far from the seeds that the evaluation tunes on and judges with."""


def capture(rng: Rng, photographs: Sequence[Bytes], size: tuple[int, int]) -> tuple[Bytes, Bytes]:
    """A simulated capture (height, width, 3) and its truths."""
    cases = list(WEIGHTS)
    weights = np.array([WEIGHTS[c] for c in cases], float)
    case = cases[int(rng.choice(len(cases), p=weights / weights.sum()))]
    some = [photographs[int(k)] for k in rng.integers(len(photographs), size=12)]
    seed = FIRST_SEED + int(rng.integers(2**30))
    drawn = random_capture(seed, some, case=case, size=size)
    truths = Truths(size)
    for quad in drawn.truths:
        alpha = np.zeros((size[1], size[0]), np.uint8)
        cv2.fillConvexPoly(alpha, np.rint(quad * 16).astype(np.int32), 255, cv2.LINE_AA, 4)
        box = around(alpha, margin=4)
        truths.lay(alpha[box].astype(np.float32) / 255, box)
    return np.ascontiguousarray(drawn.rgb), truths.as_bytes()
