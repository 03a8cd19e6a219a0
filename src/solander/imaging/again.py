"""Whether the print that lies there is one that lay there before, however it lies now.

Convention (see `conventions`): a look is the print's luma, straightened to 48 × 48, float32, encoded 0–255.

Method. The middle of the one is sought in the other, in four turns and at three sizes (an outline may be off by a
border), by normalised correlation, which no light changes. What shows too little for that (a bare back) is told by
its colour.
"""

from __future__ import annotations

from collections.abc import Sequence

import cv2
import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from solander.imaging.conventions import Quad, Rgb

__all__ = ["Look", "alike", "look_of", "seen_before"]

SIDE = 48
"""Pixels of a look a side: a face in a group of twenty is still three wide."""

MIDDLE = 34
"""Pixels of the middle that is sought."""

SIZES = (31, 34, 38)
"""Pixels of the other that the middle may cover: a border of 4 mm around 9 cm is 9 %."""

PLAIN = 6.0
"""Deviation of luma in the middle below which it shows too little to be told by."""

ALIKE = 0.88
"""Correlation from which it is the same."""

SAME_COLOUR = 14.0
"""Code values by which the colour of two plain ones may differ, light and all."""


@frozen(eq=False)
class Look:
    """A print's look, its mean colour (3,), and whether it shows enough to be known again anywhere (`tells`)."""

    luma: NDArray[np.float32]
    colour: NDArray[np.float64]

    @property
    def tells(self) -> bool:
        return float(_middle(self.luma).std()) >= PLAIN


def look_of(frame: Rgb, corners: Quad) -> Look:
    """The look of the print with these corners in a frame."""
    fine = 2 * SIDE
    to = np.array([[-0.5, -0.5], [fine - 0.5, -0.5], [fine - 0.5, fine - 0.5], [-0.5, fine - 0.5]], np.float32)
    onto = cv2.getPerspectiveTransform(corners.astype(np.float32), to)
    cut = cv2.warpPerspective(frame, onto, (fine, fine), flags=cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE)
    luma = cv2.cvtColor(cut, cv2.COLOR_RGB2GRAY).astype(np.float32)
    small = np.asarray(cv2.resize(luma, (SIDE, SIDE), interpolation=cv2.INTER_AREA), np.float32)
    inside = cut[fine // 6 : -fine // 6, fine // 6 : -fine // 6]
    return Look(small, np.asarray(inside.reshape(-1, 3).mean(axis=0), np.float64))


def alike(one: Look, other: Look) -> bool:
    """Whether the two are of the same side of a print, in whatever turn."""
    if one.tells != other.tells:
        return False
    if not one.tells:
        return bool(np.abs(one.colour - other.colour).max() < SAME_COLOUR)
    return likeness(one, other) >= ALIKE


def likeness(one: Look, other: Look) -> float:
    """The best correlation over turns, sizes and small moves, −1 to 1."""
    best = -1.0
    for size in SIZES:
        inset = (SIDE - size) // 2
        part = one.luma[inset : inset + size, inset : inset + size]
        sought = np.asarray(cv2.resize(part, (MIDDLE, MIDDLE), interpolation=cv2.INTER_AREA), np.float32)
        for turn in range(4):
            turned = np.ascontiguousarray(np.rot90(sought, turn))
            best = max(best, float(cv2.matchTemplate(other.luma, turned, cv2.TM_CCOEFF_NORMED).max()))
    return best


def seen_before(look: Look, before: Sequence[Look]) -> bool:
    """Whether it surely is one of those seen before: what shows too little (a bare back) never is."""
    return look.tells and any(alike(look, one) for one in before)


def _middle(luma: NDArray[np.float32]) -> NDArray[np.float32]:
    inset = (SIDE - MIDDLE) // 2
    return luma[inset:-inset, inset:-inset]
