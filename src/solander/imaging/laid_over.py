"""Windows of one picture sought in another that is laid over it: where each is found, and how well.

Convention: both are luma, uint8 (height, width), of one size; places are (x, y) in pixels of the first.
"""

from __future__ import annotations

from collections.abc import Iterator

import cv2
import numpy as np
from attrs import frozen
from numpy.typing import NDArray

__all__ = ["APART", "FEWER", "Windows", "windows"]

WINDOW = 40
"""Pixels a side: an eighth of a picture laid 320 long."""

_MIDDLE = (WINDOW - 1) / 2
"""Where the middle of a window lies from its first pixel: whole numbers are middles of pixels."""

APART = 20
FEWER = 30
"""Pixels from one window to the next, and where they are only to set the whole right."""
REACH = 10
"""Pixels around its place within which a window is sought."""

SHOWS = 6.0
SHOWS_OTHER = 2.5
"""Deviation, in code values, from which a window shows something, and the least that the other may have there."""

FOUND = 0.7
"""Correlation from which a window is found at all."""

BESIDE = 0.1
"""So much better it is found beside its place than at it (within a pixel) if it moved."""

SURE_PLACE = 0.75
"""Correlation from which its place helps to set the whole right."""

_FEWEST = 6
_GRAIN = 5
_OFF = 1.5

_EVEN = 0.001
"""What two pictures differ by however well they lie (grain, rounding), as 1 − correlation."""

_FEW = 90
"""Percentile of the drops that counts: what a tenth of the windows exceed."""


@frozen(eq=False)
class Windows:
    """Windows that show something: their middles `at` (n, 2), how far off they are found, to a part of a pixel
    (`off`, (n, 2)), how well there (`best`, −1 to 1), within a pixel of their place (`near`), and exactly
    `at_place`."""

    at: NDArray[np.float32]
    off: NDArray[np.float32]
    best: NDArray[np.float32]
    near: NDArray[np.float32]
    at_place: NDArray[np.float32]

    @property
    def moved(self) -> float:
        """The share that is found, and beside its place."""
        return float(((self.best >= FOUND) & (self.best - self.near >= BESIDE)).mean()) if len(self.at) else 0.0

    @property
    def missing(self) -> float:
        """The share that is not found."""
        return float((self.best < FOUND).mean()) if len(self.at) else 0.0

    @property
    def strays(self) -> float:
        """How many times more a window differs at its place than where it is found, as the mean of the logarithms:
        0 and below where the whole lies right, more where windows lie beside it, by parts of a pixel even."""
        if not len(self.at):
            return 0.0
        return float(np.log((1 - self.at_place) / (1 - self.best + _EVEN) + _EVEN).mean())

    @property
    def drop(self) -> float:
        """What a tenth of the windows lose of their correlation at their place, at least."""
        return float(np.percentile(self.best - self.at_place, _FEW)) if len(self.at) else 0.0

    def move(self) -> NDArray[np.float64] | None:
        """The homography (3 × 3) from their places to where most are found; None where too few tell."""
        sure = self.best >= SURE_PLACE
        if sure.sum() < _FEWEST:
            return None
        found, _ = cv2.findHomography(self.at[sure], self.at[sure] + self.off[sure], cv2.RANSAC, _OFF)
        return None if found is None else np.asarray(found, np.float64)


def windows(
    one: NDArray[np.uint8], other: NDArray[np.uint8], there: NDArray[np.bool_], *, apart: int = APART
) -> Windows:
    """The windows of `one` that show something, sought in `other`; only where `there` holds all around them."""
    # A median takes away what is of one paper alone: dust, scratches, grain.
    a, b = (np.asarray(cv2.medianBlur(each, _GRAIN), np.uint8) for each in (one, other))
    found = [
        (x + _MIDDLE, y + _MIDDLE, *_sought(a, b, x, y))
        for x, y in _places(a.shape, there, apart)
        if a[y : y + WINDOW, x : x + WINDOW].std() >= SHOWS
        and b[y : y + WINDOW, x : x + WINDOW].std() >= SHOWS_OTHER
    ]
    table = np.array(found, np.float32).reshape(-1, 7)
    return Windows(table[:, :2], table[:, 2:4], table[:, 4], table[:, 5], table[:, 6])


def _places(shape: tuple[int, ...], there: NDArray[np.bool_], apart: int) -> Iterator[tuple[int, int]]:
    """The top left corners of the windows."""
    height, width = shape
    for y in range(REACH, height - WINDOW - REACH + 1, apart):
        for x in range(REACH, width - WINDOW - REACH + 1, apart):
            around = there[y - REACH : y + WINDOW + REACH : 5, x - REACH : x + WINDOW + REACH : 5]
            if around.all():
                yield x, y


def _sought(
    a: NDArray[np.uint8], b: NDArray[np.uint8], x: int, y: int
) -> tuple[float, float, float, float, float]:
    """How far off a window is found (x, y), how well there, how well near its place and exactly at it."""
    around = b[y - REACH : y + WINDOW + REACH, x - REACH : x + WINDOW + REACH]
    how_well = cv2.matchTemplate(around, a[y : y + WINDOW, x : x + WINDOW], cv2.TM_CCOEFF_NORMED)
    _, best, _, (right, down) = cv2.minMaxLoc(how_well)
    near = how_well[REACH - 1 : REACH + 2, REACH - 1 : REACH + 2].max()
    off = _top(how_well[down], right) - REACH, _top(how_well[:, right], down) - REACH
    return *off, best, float(near), float(how_well[REACH, REACH])


def _top(line: NDArray[np.generic], at: int) -> float:
    """Where a parabola through the highest value and its neighbours has its top."""
    if not 0 < at < len(line) - 1:
        return float(at)
    before, highest, after = map(float, line[at - 1 : at + 2])
    bend = before - 2 * highest + after
    return at + 0.5 * (before - after) / bend if bend < 0 else float(at)
