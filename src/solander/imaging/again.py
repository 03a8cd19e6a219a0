"""Whether the print that lies there is one that lay there before, however it lies now.

Convention (see `conventions`): a look is the print's luma, straightened to 48 × 48, float32, encoded, less its
blurred self: what is broad (a bright sky, a white border, uneven light) is common to many prints.

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

__all__ = ["Look", "alike", "likeness", "look_of", "seen_before"]

SIDE = 48
"""Pixels of a look a side: a face in a group of twenty is still three wide."""

MIDDLE = 31
"""Pixels of the middle that is sought: inside of what most borders leave."""

SIZES = (28, 31, 34)
"""Pixels that the middle may cover in the other: an outline may be off by a border of 4 mm around 9 cm."""

RIM = 4
"""Pixels at each edge in which it isn't sought."""

BROAD = 5.0
"""Pixels (standard deviation) of the blur that tells what is broad."""

PLAIN = 2.0
"""Deviation in the middle below which it shows too little to be told by: noise leaves about 1."""

ALIKE = 0.68
"""Correlation from which it is the same. Of 59 photographs, printed, seen again in other light, up to 6 % larger
or smaller and with corners off by a pixel, one in twenty had less than .72, the least .68; of 800 pairs of
different ones the most had .62."""

SAME_COLOUR = 14.0
"""Code values by which the colour of two plain ones may differ, light and all."""


@frozen(eq=False)
class Look:
    """A print's look and its mean colour (3,), encoded."""

    fine: NDArray[np.float32]
    colour: NDArray[np.float64]

    @property
    def tells(self) -> bool:
        """Whether it shows enough to be known again."""
        return float(_inside(self.fine, (SIDE - MIDDLE) // 2).std()) >= PLAIN


def look_of(frame: Rgb, corners: Quad) -> Look:
    """The look of the print with these corners in a frame."""
    fine = 2 * SIDE
    to = np.array([[-0.5, -0.5], [fine - 0.5, -0.5], [fine - 0.5, fine - 0.5], [-0.5, fine - 0.5]], np.float32)
    onto = cv2.getPerspectiveTransform(corners.astype(np.float32), to)
    cut = cv2.warpPerspective(frame, onto, (fine, fine), flags=cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE)
    luma = cv2.cvtColor(cut, cv2.COLOR_RGB2GRAY).astype(np.float32)
    small = np.asarray(cv2.resize(luma, (SIDE, SIDE), interpolation=cv2.INTER_AREA), np.float32)
    inside = cut[fine // 6 : -fine // 6, fine // 6 : -fine // 6]
    return Look(
        small - cv2.GaussianBlur(small, (0, 0), BROAD), np.asarray(inside.reshape(-1, 3).mean(axis=0), np.float64)
    )


def alike(one: Look, other: Look) -> bool:
    """Whether the two are of the same side of a print, in whatever turn."""
    if one.tells != other.tells:
        return False
    if not one.tells:
        return bool(np.abs(one.colour - other.colour).max() < SAME_COLOUR)
    return likeness(one, other) >= ALIKE


def likeness(one: Look, other: Look) -> float:
    """The best correlation over turns, sizes and small moves, −1 to 1."""
    best, within = -1.0, _inside(other.fine, RIM)
    for size in SIZES:
        part = _inside(one.fine, (SIDE - size) // 2)
        sought = np.asarray(cv2.resize(part, (MIDDLE, MIDDLE), interpolation=cv2.INTER_AREA), np.float32)
        for turn in range(4):
            turned = np.ascontiguousarray(np.rot90(sought, turn))
            best = max(best, float(cv2.matchTemplate(within, turned, cv2.TM_CCOEFF_NORMED).max()))
    return best


def seen_before(look: Look, before: Sequence[Look]) -> bool:
    """Whether it surely is one of those seen before: what shows too little (a bare back) never is."""
    return look.tells and any(alike(look, one) for one in before)


def _inside(picture: NDArray[np.float32], rim: int) -> NDArray[np.float32]:
    return np.ascontiguousarray(picture[rim:-rim, rim:-rim])
