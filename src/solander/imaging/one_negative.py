"""Whether two pictures come of one negative, and how: one print captured twice, two prints, a part of another.

Method. ORB features of the small pictures, matched both to the nearest and clearly nearer than to the next (Lowe
2004), one homography by RANSAC: that finds the scene, which two exposures of one scene have in common too. So the
one picture is laid over the other and cut into windows; each is sought a little around its place by normalised
correlation, which no tone, contrast or fading changes, and the homography is set right by where they are found
(twice). Of one negative each window is found at its place; of two exposures what moved, and what is nearer than
the rest, is found beside it or nowhere, and the whole is bent a little. Dust and scratches go by a median, plain
borders are left out.

Convention: pictures as in `conventions`, of any size (480 pixels, the small picture of a view, tell enough).
"""

from __future__ import annotations

import cv2
import numpy as np
from attrs import evolve, frozen
from numpy.typing import NDArray

from solander.imaging.conventions import Rgb, require_rgb
from solander.imaging.laid_over import FEWER, Windows, windows
from solander.imaging.plain_border import inside_border

__all__ = ["Likeness", "likeness"]

Grey = NDArray[np.uint8]
Homography = NDArray[np.float64]

REDUCED = 480
"""Long side at which pictures are compared, in pixels."""

FEATURES = 700
NEAREST_RATIO = 0.8
"""A match counts when its nearest neighbour is clearly nearer than the next (Lowe 2004 proposes 0.8)."""

ENOUGH_INLIERS = 12
"""Matches on one homography from which one picture is laid over the other at all; the windows decide."""

LAID = 320
"""Long side at which one picture is laid over the other, in pixels."""

SET_RIGHT = 2
"""Times that the homography is set right by the windows: a third changes no verdict."""

FEWEST = 4
"""Windows that must show something for a verdict."""

MOST_MOVED = 0.015
MOST_MISSING = 0.05
"""Shares of the windows that may be found beside their place, and not at all: writing, damage and the rest of a
border hide some; chosen on the tuning half of benchmarks/duplicates.py."""

MOST_STRAYING = 0.1
MOST_DROP = 0.02
"""How far windows may lie beside their place by less than is seen of one alone (`Windows.strays`, `Windows.drop`):
another exposure from a step to the side bends the whole a little. On the tuning half 1 % of pairs of one negative
exceed them, each false pair did."""

PART = 0.8
"""Share of the one that lies in the other below which the other is a part of it."""


@frozen
class Likeness:
    """How far two pictures agree.

    `inliers` are the feature pairs on one homography; of so many `windows` that show something, `moved` is the
    share (0–1) found beside its place, `missing` the share not found, `strays` and `drop` tell how far the whole
    is bent (`Windows`); `within` are the shares of the first and of the second picture that lie in the other;
    `is_mirrored` when the one is the other the wrong way round;
    `frame_off` is how far, in long sides, the corners of the one lie from those of the other at most.
    """

    inliers: int = 0
    windows: int = 0
    moved: float = 0.0
    missing: float = 0.0
    strays: float = 0.0
    drop: float = 0.0
    within: tuple[float, float] = (0.0, 0.0)
    is_mirrored: bool = False
    frame_off: float = 1.0

    @property
    def is_one_negative(self) -> bool:
        """Whether both come of one exposure."""
        seen = self.windows >= FEWEST
        found = self.moved <= MOST_MOVED and self.missing <= MOST_MISSING
        return seen and found and self.strays <= MOST_STRAYING and self.drop <= MOST_DROP

    @property
    def is_part(self) -> bool:
        """Whether the one is a part of the other, clearly less than the whole."""
        return self.is_one_negative and min(self.within) < PART

    @property
    def agrees(self) -> float:
        """The share of the windows found at their place, 0–1."""
        return 1 - self.moved - self.missing if self.windows else 0.0

    @property
    def certainty(self) -> float:
        """The lower end of what the share of agreeing windows may really be (0–1), by Wilson's interval (1927) at
        one standard deviation: few windows that all agree are less sure than many."""
        if not self.windows:
            return 0.0
        n, share = self.windows, self.agrees
        middle = share + 1 / (2 * n)
        return float((middle - (share * (1 - share) / n + 1 / (4 * n * n)) ** 0.5) / (1 + 1 / n))


def likeness(rgb_a: Rgb, rgb_b: Rgb, *, mirrored: bool | None = None) -> Likeness:
    """How far two pictures agree; `mirrored` where it is known whether the one is the wrong way round, else both
    ways are tried."""
    grey_a, grey_b = _reduced(rgb_a), _reduced(rgb_b)
    ways = (False, True) if mirrored is None else (mirrored,)
    return max((_one_way(grey_a, grey_b, way) for way in ways), key=lambda one: (one.agrees, one.inliers))


def _one_way(a: Grey, b: Grey, mirrored: bool) -> Likeness:
    if mirrored:
        b = np.ascontiguousarray(b[:, ::-1])
    onto, inliers = _homography(a, b)
    found = Likeness(inliers, is_mirrored=mirrored)
    if onto is None or not _is_sound(onto, a.shape, b.shape):
        return found
    onto, seen = _set_right(a, b, onto)
    if not _is_sound(onto, a.shape, b.shape):
        return found
    return evolve(
        found,
        windows=len(seen.at),
        moved=seen.moved,
        missing=seen.missing,
        strays=seen.strays,
        drop=seen.drop,
        within=_within(onto, a.shape, b.shape),
        frame_off=_frame_off(onto, a.shape, b.shape),
    )


def _reduced(rgb: Rgb) -> Grey:
    grey = cv2.cvtColor(require_rgb(rgb), cv2.COLOR_RGB2GRAY)
    scale = REDUCED / max(grey.shape)
    if scale < 1:
        grey = cv2.resize(grey, None, fx=scale, fy=scale, interpolation=cv2.INTER_AREA)
    return np.asarray(grey, np.uint8)


def _homography(a: Grey, b: Grey) -> tuple[Homography | None, int]:
    """From a to b (3 × 3), and the matches that lie on it."""
    even = cv2.createCLAHE(3.0, (4, 4))
    detector = cv2.ORB.create(FEATURES, fastThreshold=7)
    seen_a, words_a = detector.detectAndCompute(even.apply(a), None)
    seen_b, words_b = detector.detectAndCompute(even.apply(b), None)
    if words_a is None or words_b is None or min(len(words_a), len(words_b)) < 4:
        return None, 0
    pairs = cv2.BFMatcher(cv2.NORM_HAMMING).knnMatch(words_a, words_b, k=2)
    good = [two[0] for two in pairs if len(two) == 2 and two[0].distance < NEAREST_RATIO * two[1].distance]
    if len(good) < ENOUGH_INLIERS:
        return None, len(good)
    cv2.setRNGSeed(1)  # the same two pictures must give the same answer twice
    from_a = np.array([seen_a[one.queryIdx].pt for one in good], np.float32)
    to_b = np.array([seen_b[one.trainIdx].pt for one in good], np.float32)
    onto, inside = cv2.findHomography(from_a, to_b, cv2.RANSAC, 2.5)
    inliers = 0 if inside is None else int(inside.sum())
    return (np.asarray(onto, np.float64) if inliers >= ENOUGH_INLIERS else None), inliers


def _corners(shape: tuple[int, ...]) -> NDArray[np.float32]:
    """The outer corners: half a pixel beyond the middles of the outermost pixels."""
    height, width = shape[:2]
    outer = np.array([[[0, 0], [width, 0], [width, height], [0, height]]], np.float32)
    return np.asarray(outer - 0.5, np.float32)


def _is_sound(onto: Homography, a: tuple[int, ...], b: tuple[int, ...]) -> bool:
    """Whether it leaves the picture convex, four-sided and of sensible size: two flat prints differ in no more."""
    laid = cv2.perspectiveTransform(_corners(a), onto)[0]
    return bool(cv2.isContourConvex(laid) and cv2.contourArea(laid, oriented=True) > 0.05 * b[0] * b[1])


def _set_right(a: Grey, b: Grey, onto: Homography) -> tuple[Homography, Windows]:
    """The homography set right by the windows, and what is found of them then."""
    scale = LAID / max(a.shape)
    small = np.asarray(cv2.resize(a, None, fx=scale, fy=scale, interpolation=cv2.INTER_AREA), np.uint8)
    size = small.shape[1], small.shape[0]
    of_small = _scaling(size[0] / a.shape[1], size[1] / a.shape[0])
    inside_a = cv2.resize(inside_border(a), size, interpolation=cv2.INTER_NEAREST) > 0
    inside_b = inside_border(b)
    # Where b shows it larger than it is laid, it is made as fine as that first.
    larger = abs(np.linalg.det(onto)) ** 0.5 / scale
    smooth = cv2.GaussianBlur(b, (0, 0), max(0.4, 0.45 * larger))
    for left in range(SET_RIGHT, -1, -1):
        to_small = of_small @ np.linalg.inv(onto)
        laid = np.asarray(cv2.warpPerspective(smooth, to_small, size), np.uint8)
        there = inside_a & (cv2.warpPerspective(inside_b, to_small, size) == 255)
        if not left:
            break
        right = windows(small, laid, there, apart=FEWER).move()
        if right is None:
            break
        onto = onto @ np.linalg.inv(of_small) @ right @ of_small
    return onto, windows(small, laid, there)


def _scaling(wide: float, high: float) -> Homography:
    """A picture made smaller so many times: its outer edges stay its outer edges (`conventions`)."""
    return np.array([[wide, 0, (wide - 1) / 2], [0, high, (high - 1) / 2], [0, 0, 1]])


def _within(onto: Homography, a: tuple[int, ...], b: tuple[int, ...]) -> tuple[float, float]:
    """The shares of both that overlap."""
    laid, there = cv2.perspectiveTransform(_corners(a), onto)[0], _corners(b)[0]
    overlap, _ = cv2.intersectConvexConvex(laid, there)
    return (
        min(1.0, overlap / max(abs(cv2.contourArea(laid)), 1.0)),
        min(1.0, overlap / float(b[0] * b[1])),
    )


def _frame_off(onto: Homography, a: tuple[int, ...], b: tuple[int, ...]) -> float:
    laid, there = cv2.perspectiveTransform(_corners(a), onto)[0], _corners(b)[0]
    offs = [np.hypot(*(np.roll(laid, turn, axis=0) - there).T).max() for turn in range(4)]
    return float(min(offs)) / max(b)
