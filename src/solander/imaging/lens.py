"""One lens distortion per camera: the model, and finding it in captures.

Convention (see `conventions`): places in pixels of the capture. The optical axis goes through the middle of the
frame; radii count in half diagonals of the frame, so that a lens holds for every size and turn of its pictures.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

import cv2
import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from solander.imaging.sheet import SeenSheet

__all__ = ["Lens", "LensFit", "Side", "lens_from_sheets", "lens_from_sides"]

Points = NDArray[np.float64]
Floats = NDArray[np.float64]

USUAL_BEND = np.array([0.08, 0.02])
"""Standard deviations of k1 and k2 before anything is seen: most cameras' pictures bend by a few per cent at the
corner and their second term is smaller (from memory, no source). Where captures tell, this weighs nothing."""


FEWEST_PRINTS = 6
"""Prints below which sides tell no lens: the spread of fewer is itself unknown."""


BLOCKS = 30
"""Groups of prints that are left out in turn; more give the same uncertainty, later."""


@frozen
class Lens:
    """Radial distortion: a place at radius r without it is seen at r · (1 + k1 r² + k2 r⁴).

    Brown's model (Decentering distortion of lenses, 1966) without its decentring terms; k1 < 0 is a barrel. A
    sound one (`is_sound`) folds nothing over itself within the frame.
    """

    k1: float = 0.0
    k2: float = 0.0

    @property
    def is_sound(self) -> bool:
        """Whether radii keep their order until the frame's corner is reached."""
        radius = np.linspace(0, 2, 81)
        square = radius**2
        slope = 1 + 3 * self.k1 * square + 5 * self.k2 * square**2
        inside = np.cumsum(slope) * (radius[1] - radius[0]) < 1.02
        return bool((slope[inside] > 0.2).all() and not inside[-1])

    def captured(self, ideal: Points, frame: tuple[int, int]) -> Points:
        """Where the lens shows places of an ideal picture, (…, 2)."""
        middle, half = _middle(frame)
        away = ideal - middle
        square = (away**2).sum(axis=-1) / half**2
        return np.asarray(middle + away * (1 + self.k1 * square + self.k2 * square**2)[..., None])

    def ideal(self, captured: Points, frame: tuple[int, int]) -> Points:
        """Captured places as a lens without distortion would show them: Newton's steps until rounding."""
        middle, half = _middle(frame)
        away = captured - middle
        seen = np.sqrt((away**2).sum(axis=-1)) / half
        radius = seen.copy()
        for _ in range(15):
            square = radius**2
            slope = 1 + 3 * self.k1 * square + 5 * self.k2 * square**2
            step = radius * (1 + self.k1 * square + self.k2 * square**2) - seen
            radius = np.clip(radius - step / np.maximum(slope, 0.2), 0, 2)
        ratio = np.divide(radius, seen, out=np.ones_like(seen), where=seen > 1e-12)
        return np.asarray(middle + away * ratio[..., None])

    def shift_at_corner(self) -> float:
        """How far the frame's corner is moved, in % of the diagonal; < 0 towards the middle."""
        return 50 * (self.k1 + self.k2)


@frozen
class LensFit:
    """A lens found in `captures` captures; `sigma` is the standard deviation of its shift at the frame's corner in
    % of the diagonal, `rms_px` what the captures deviate from it."""

    lens: Lens
    sigma: float
    rms_px: float
    captures: int


@frozen(eq=False)
class Side:
    """Places along one straight thing, (n, 2), n ≥ 3, in a capture of `frame` (width, height)."""

    points: Points
    frame: tuple[int, int]


def lens_from_sheets(seen: Sequence[SeenSheet]) -> LensFit | None:
    """The lens under which the sheets' corners lie in planes; None where the captures don't tell.

    Each capture has its own plane (a homography); the lens is shared. Gauss-Newton on k1 and k2, the planes solved
    anew at each step (variable projection: Golub and Pereyra, 1973); corners that lie far off are left out.
    """
    kept = [sheet for sheet in seen if len(sheet.mm) >= 12]
    if not kept:
        return None

    def residuals(k: Floats) -> Floats:
        return np.concatenate([_off_plane(sheet, Lens(*k)) for sheet in kept])

    k, _ = _solved(residuals)
    kept = [_without_outliers(sheet, Lens(*k)) for sheet in kept]
    k, covariance = _solved(residuals)
    return _fit(k, covariance, residuals(k), len(kept))


def lens_from_sides(prints: Sequence[Sequence[Side]]) -> LensFit | None:
    """The lens under which the sides of many prints are straightest; None for fewer than six prints.

    The plumb-line method (Brown, Close-range camera calibration, 1971), k1 alone. Paper curls, so a side's own bow
    says little; what a lens does grows with the side's length and its distance from the middle, what curl does
    has no such rule. Each side gives its bow and what a unit of k1 would bow it; a robust line through the origin
    gives k1. The sides of one print bow together, so the uncertainty is that of leaving out prints (jackknife).
    """
    if len(prints) < FEWEST_PRINTS:
        return None
    measured = [np.array([_bow_and_lever(side) for side in sides]) for sides in prints]
    k1 = _slope(measured)
    if k1 is None or not Lens(k1).is_sound:
        return None
    blocks = [measured[i::BLOCKS] for i in range(min(BLOCKS, len(measured)))]
    without = [_slope([one for other in blocks if other is not block for one in other]) for block in blocks]
    held = np.array([k for k in without if k is not None])
    sigma = float(np.sqrt((len(held) - 1) * np.mean((held - held.mean()) ** 2)))
    all_sides = np.concatenate(measured)
    off = float(np.sqrt(np.mean((all_sides[:, 0] - k1 * all_sides[:, 1]) ** 2)))
    return LensFit(Lens(k1), 50 * sigma, off * _middle(prints[0][0].frame)[1], len(prints))


def _slope(measured: Sequence[Floats]) -> float | None:
    """Bow over lever: a line through the origin by iterated least squares with Tukey's weights."""
    bow, lever = np.concatenate(measured).T
    weight = np.ones(len(bow))
    for _ in range(20):
        if weight @ lever**2 < 1e-9:
            return None
        k1 = float(weight @ (bow * lever) / (weight @ lever**2))
        off = bow - k1 * lever
        spread = max(1e-6, 1.4826 * float(np.median(np.abs(off))))
        weight = np.clip(1 - (off / (4.685 * spread)) ** 2, 0, 1) ** 2
    return k1


def _middle(frame: tuple[int, int]) -> tuple[Floats, float]:
    return (np.array(frame, float) - 1) / 2, 0.5 * float(np.hypot(*frame))


def _off_plane(sheet: SeenSheet, lens: Lens) -> Floats:
    """How far the sheet's corners lie from where its best plane puts them, px of the capture, flat."""
    plane, _ = cv2.findHomography(sheet.mm, lens.ideal(sheet.px, sheet.frame))
    if plane is None:
        return np.full(sheet.px.size, 1e3)
    away = lens.captured(cv2.perspectiveTransform(sheet.mm[None], plane)[0], sheet.frame) - sheet.px
    return np.asarray(away.ravel(), np.float64)


def _without_outliers(sheet: SeenSheet, lens: Lens) -> SeenSheet:
    away = np.hypot(*_off_plane(sheet, lens).reshape(-1, 2).T)
    kept = away <= max(0.3, 5 * float(np.median(away)))
    return SeenSheet(sheet.mm[kept], sheet.px[kept], sheet.frame) if kept.sum() >= 12 else sheet


def _solved(residuals: Callable[[Floats], Floats]) -> tuple[Floats, Floats]:
    """k1 and k2 with their covariance."""
    k, step = np.zeros(2), 1e-4
    for _ in range(8):
        now = residuals(k)
        slopes = np.stack([(residuals(k + d) - now) / step for d in np.eye(2) * step], axis=1)
        noise = max(_NOISE_PX, float(np.sqrt(np.mean(now**2))))
        normal = slopes.T @ slopes / noise**2 + np.diag(1 / USUAL_BEND**2)
        moved = np.linalg.solve(normal, slopes.T @ now / noise**2 + k / USUAL_BEND**2)
        k = k - moved
        if not Lens(*k).is_sound:
            k = k + moved / 2
        if np.abs(moved).max() < 1e-7:
            break
    return k, np.asarray(np.linalg.inv(normal), np.float64)


_NOISE_PX = 0.03
"""The least error believed of a corner, px."""


def _fit(k: Floats, covariance: Floats, residuals: Floats, captures: int) -> LensFit | None:
    lens = Lens(float(k[0]), float(k[1]))
    sigma = 50 * float(np.sqrt(max(0.0, covariance.sum())))
    return LensFit(lens, sigma, float(np.sqrt(np.mean(residuals**2))), captures) if lens.is_sound else None


def _bow_and_lever(side: Side) -> tuple[float, float]:
    """A side's bow in half diagonals, and what it would be under k1 = 1 were the side straight."""
    middle, half = _middle(side.frame)
    points = (side.points - middle) / half
    chord = points[-1] - points[0]
    along = (points - points[0]) @ chord / float(chord @ chord)
    straight = points[0] + along[:, None] * chord
    bent = straight * (straight**2).sum(axis=-1)[:, None]
    normal = np.array([-chord[1], chord[0]]) / float(np.hypot(*chord))
    return _sag((points - points[0]) @ normal, along), _sag((bent - points[0]) @ normal, along)


def _sag(across: Floats, along: Floats) -> float:
    """Height of the parabola through places across a chord, at its middle."""
    return float(-np.polyfit(2 * along - 1, across, 2)[0])
