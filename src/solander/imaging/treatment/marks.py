"""Dust and scratches: found as short or thin marks unlike what is around them, painted over from beside them.

Convention (see `solander.imaging.conventions`): a stroke is (x, y, x, y, width): two ends as shares of the view's
width and height, and a width as a share of its longer side. Strokes are data, so that a person sees each, takes
away what is no dust, and draws what was missed. Faces are boxes (left, top, width, height), shares of the view.

Method. Morphological top hats at three sizes, light and dark; what stands out from all around, is small or thin
and stands alone on plain ground is a mark. What lies in foliage or gravel is hardly found: there it is hardly seen
either. Filled from the edge inwards (Telea, Journal of Graphics Tools 9(1), 2004), with grain as strong as beside
it.
"""

from __future__ import annotations

from collections.abc import Sequence

import cv2
import numpy as np
from cv2.typing import MatLike
from numpy.typing import NDArray

from solander.imaging.conventions import Rgb, luma, require_rgb
from solander.imaging.treatment.deep import Deep

__all__ = ["Stroke", "find_marks", "mask_of", "without_marks"]

Stroke = tuple[float, float, float, float, float]
Box = tuple[float, float, float, float]
Floats = NDArray[np.float32]
Mask = NDArray[np.uint8]

SIZES = 3, 7, 13
"""Pixels a side of the openings: specks up to 1 mm at 300 ppi."""

LEAST = 20.0
"""Code values by which a mark differs at least; grain and JPEG differ by less."""

AROUND, TIMES = 41, 6.0
"""Pixels of the neighbourhood, and how many times as much as it does on average a mark stands out: so a mark parts
from the foliage or gravel beside it instead of running into it (46 % of the tuning marks are found for 39, and of
what is found 52 % is true for 41)."""

RING = 7
"""Pixels around a mark in which the paper must be plain."""

STANDS_OUT = 2.5
"""Times that a mark differs from what is around it more than that differs from itself (its 10 to 90 %)."""

THICKEST = 7.0
"""Pixels that a scratch is wide at most."""

LARGEST = 0.012
"""Share of the longer side that a speck is long at most; longer marks must be thin."""

THIN = 6.0
"""Times that a scratch is longer than wide, at least."""

MOST = 400
"""Marks beyond which it is a surface, not dust, and nothing is proposed."""

SHORTEST = 120
"""Pixels of a side below which nothing can be told."""


def find_marks(rgb: Rgb, faces: Sequence[Box] = ()) -> tuple[Stroke, ...]:
    """Strokes over dust and scratches, none of which touches a face; empty where there are none or too many.

    Eyes glint and lashes are thin: on a face only a person draws.
    """
    grey = luma(require_rgb(rgb))
    if min(grey.shape) < SHORTEST:
        return ()
    seen = _standing_out(grey)
    for left, top, width, height in faces:
        rows, columns = _covered(top, height, grey.shape[0]), _covered(left, width, grey.shape[1])
        seen[rows, columns] = 0
    strokes = _strokes(seen, grey)
    return strokes if len(strokes) <= MOST else ()


def mask_of(strokes: Sequence[Stroke], size: tuple[int, int]) -> Mask:
    """Where the strokes lie in a picture of that size (width, height): 255, elsewhere 0."""
    mask = np.zeros(size[::-1], np.uint8)
    for x1, y1, x2, y2, width in strokes:
        ends = [(round(x * size[0] - 0.5), round(y * size[1] - 0.5)) for x, y in ((x1, y1), (x2, y2))]
        cv2.line(mask, ends[0], ends[1], 255, max(1, round(width * max(size))))
    return mask


def without_marks(deep: Deep, strokes: Sequence[Stroke]) -> Deep:
    """The picture with what lies below the strokes filled from beside them, 16 bits, nothing else touched."""
    size = deep.shape[1], deep.shape[0]
    mask = mask_of(strokes, size)
    count, _, stats, _ = cv2.connectedComponentsWithStats(mask, connectivity=8)
    filled = deep.copy()
    for left, top, width, height, _ in stats[1:count]:
        reach = 8 + min(int(width), int(height))
        rows = slice(max(0, top - reach), min(size[1], top + height + reach))
        columns = slice(max(0, left - reach), min(size[0], left + width + reach))
        filled[rows, columns] = _filled(
            filled[rows, columns], mask[rows, columns], seed=int(top) * size[0] + int(left)
        )
    return filled


def _filled(here: Deep, mask: Mask, *, seed: int) -> Deep:
    planes = [cv2.inpaint(np.ascontiguousarray(here[..., each]), mask, 4, cv2.INPAINT_TELEA) for each in range(3)]
    smooth = np.dstack(planes).astype(np.float32)
    beside = (mask == 0)[..., None]
    rough = here - cv2.GaussianBlur(here.astype(np.float32), (0, 0), 1.2)
    usual = 1.4826 * float(np.median(np.abs(rough[beside[..., 0]]))) if beside.any() else 0.0
    grain = np.random.default_rng(seed).normal(0, usual, mask.shape).astype(np.float32)[..., None]
    new = np.clip(np.rint(smooth + grain), 0, 65535).astype(np.uint16)
    return np.where(beside, here, new)


def _standing_out(grey: Floats) -> Mask:
    """Where something small is lighter or darker than all beside it; in whole code values, a tenth of the time."""
    smooth = cv2.convertScaleAbs(cv2.GaussianBlur(grey, (0, 0), 0.7))
    most: Mask = np.zeros(grey.shape, np.uint8)
    for side in SIZES:
        kernel = cv2.getStructuringElement(cv2.MORPH_ELLIPSE, (side, side))
        for kind in (cv2.MORPH_TOPHAT, cv2.MORPH_BLACKHAT):
            np.maximum(most, cv2.morphologyEx(smooth, kind, kernel), out=most)
    usual = cv2.blur(most, (AROUND, AROUND))
    limit = np.maximum(cv2.convertScaleAbs(usual, alpha=TIMES), np.uint8(LEAST))
    return np.asarray(most > limit, np.uint8)


def _strokes(seen: Mask, grey: Floats) -> tuple[Stroke, ...]:
    """A stroke for each speck and each scratch; what is neither is left alone."""
    size = seen.shape[1], seen.shape[0]
    contours, _ = cv2.findContours(seen, cv2.RETR_EXTERNAL, cv2.CHAIN_APPROX_NONE)
    found = []
    for contour in contours:
        (x, y), (wide, high), angle = cv2.minAreaRect(contour)
        wide, high = wide + 1, high + 1
        long, short = max(wide, high), min(wide, high)
        is_speck, is_scratch = long <= LARGEST * max(size) + 2, long >= THIN * short and short <= THICKEST
        if not (is_speck or is_scratch) or not _stands_alone(contour, grey):
            continue
        turn = np.deg2rad(angle if wide >= high else angle + 90)
        half = max(0.0, (long - short) / 2)
        dx, dy = half * np.cos(turn), half * np.sin(turn)
        found.append(_shares((x - dx, y - dy), (x + dx, y + dy), short + 3, size))
    return tuple(sorted(found))


def _stands_alone(contour: MatLike, grey: Floats) -> bool:
    """Whether the paper around a mark is plain, and the mark is far from all of it."""
    left, top, wide, high = cv2.boundingRect(contour)
    rows = slice(max(0, top - RING), top + high + RING)
    columns = slice(max(0, left - RING), left + wide + RING)
    here = grey[rows, columns]
    mark = np.zeros(here.shape, np.uint8)
    cv2.drawContours(mark, [contour], -1, 1, -1, offset=(-columns.start, -rows.start))
    inner, outer = (cv2.dilate(mark, np.ones((side, side), np.uint8)) for side in (5, 2 * RING + 1))
    around, within = here[(outer - inner) > 0], here[mark > 0]
    if around.size < 12:
        return False
    low, middle, high_ = np.percentile(around, (10, 50, 90))
    contrast = abs(float(np.median(within)) - middle)
    return bool(contrast > max(LEAST, STANDS_OUT * (high_ - low)))


def _shares(one: tuple[float, float], other: tuple[float, float], width: float, size: tuple[int, int]) -> Stroke:
    ends = [
        round(float(np.clip((value + 0.5) / side, 0, 1)), 5)
        for point in (one, other)
        for value, side in zip(point, size, strict=True)
    ]
    return ends[0], ends[1], ends[2], ends[3], round(float(width) / max(size), 5)


def _covered(start: float, length: float, side: int) -> slice:
    """A face's rows or columns with a tenth around it."""
    return slice(max(0, int((start - 0.1 * length) * side)), int(np.ceil((start + 1.1 * length) * side)))
