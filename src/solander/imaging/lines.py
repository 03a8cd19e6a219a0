"""Outlines from straight lines: where what differs from the stage runs into other things, or is no shape at all.

Convention (see `conventions`): corners in pixels of the reduced copy, clockwise. A line is told by its normal
(unit) and its distance from the origin; places along it count from the foot of the origin.
"""

from __future__ import annotations

import cv2
import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from solander.imaging.conventions import Quad, iou
from solander.imaging.stage import STAGE_LIKE, TRUSTED, Reduced, StageModel, smoothed

__all__ = ["outlines_from_lines"]

Floats = NDArray[np.float64]

SHORTEST = 0.035
"""Shortest segment believed, as a share of the frame's longer side."""

MOST_LINES = 28
"""Longest lines that are tried as sides."""

MOST_OUTLINES = 5

PARALLEL = np.deg2rad(9.0)
"""Angle between opposite sides: perspective of a camera that leans by ten degrees."""

UPRIGHT = np.deg2rad(70.0)
"""Least angle between neighbouring sides."""

THREE_SIDES = 0.55
"""Least share of its three best sides that is covered by segments; the fourth follows from them."""


LARGER = 0.15
"""Power of the area that ranks outlines: a picture's own lines lie within the paper's."""

OTHER = 0.3
"""Least share of an outline's inside that isn't like the stage: grain and joints of boards make outlines too."""


@frozen(eq=False)
class Lines:
    """Straight lines of a picture: unit `normals` (n, 2), `offsets` (n,), and how much of each is covered by
    segments, added up along it from −reach (n, 2 · reach + 1)."""

    normals: Floats
    offsets: Floats
    covered: Floats
    reach: int


def outlines_from_lines(reduced: Reduced, stage: StageModel) -> list[Quad]:
    """The few outlines that straight lines bear out best, best first."""
    segments = _segments(reduced, stage)
    if len(segments) < 4:
        return []
    lines = _merged(segments, int(np.hypot(*reduced.rgb.shape[:2])) + 2)
    quads, shares = _quads(lines, reduced.rgb.shape)
    if not len(quads):
        return []
    merit = shares.mean(axis=1) * (0.3 + 0.7 * _stage_around(quads, stage)) * _areas(quads) ** LARGER
    kept: list[Quad] = []
    for i in np.argsort(-merit)[:200]:
        if all(iou(quads[i], other) < 0.85 for other in kept) and _departs(quads[i], stage):
            kept.append(quads[i])
        if len(kept) == MOST_OUTLINES:
            break
    return kept


def _departs(quad: Quad, stage: StageModel) -> bool:
    inside = np.zeros(stage.distance.shape, np.uint8)
    cv2.fillConvexPoly(inside, np.rint(quad).astype(np.int32), 1)
    return float((stage.distance[inside > 0] > STAGE_LIKE).mean()) > OTHER


def _segments(reduced: Reduced, stage: StageModel) -> Floats:
    """Straight segments (n, 4: x, y, x, y) in lightness against the stage's and in the distance from it (line
    segment detector: Grompone von Gioi et al., 2012)."""
    lighter = (smoothed(reduced.lab)[..., 0] - stage.colour[..., 0]) / stage.spread[..., 0]
    light = np.clip(128 + 5 * lighter, 0, 255).astype(np.uint8)
    distance = np.clip(stage.distance * 6, 0, 255).astype(np.uint8)
    found = []
    for picture in (light, distance):
        segments = cv2.createLineSegmentDetector(cv2.LSD_REFINE_STD).detect(picture)[0]
        if segments is not None:
            found.append(segments.reshape(-1, 4))
    if not found:
        return np.zeros((0, 4))
    together = np.concatenate(found).astype(np.float64)
    length = np.hypot(*(together[:, 2:] - together[:, :2]).T)
    order = np.argsort(-length)
    return np.asarray(together[order][length[order] >= SHORTEST * max(reduced.rgb.shape[:2])][:150])


def _merged(segments: Floats, reach: int) -> Lines:
    """Segments that lie on one line, put together; the lines with most covered length."""
    left = np.ones(len(segments), np.bool_)
    normals, offsets, marks = [], [], []
    for i, segment in enumerate(segments):
        if not left[i]:
            continue
        normal, offset = _line(segment[None])
        same = left & _lies_on(segments, normal, offset)
        normal, offset = _line(segments[same])
        left &= ~same
        marked = np.zeros(2 * reach + 1)
        for x0, y0, x1, y1 in segments[same]:
            low, high = sorted((x1 * -normal[1] + y1 * normal[0], x0 * -normal[1] + y0 * normal[0]))
            marked[max(0, round(low) + reach) : max(0, round(high) + reach + 1)] = 1
        normals.append(normal)
        offsets.append(offset)
        marks.append(marked)
    covered = np.cumsum(np.array(marks), axis=1)
    longest = np.argsort(-covered[:, -1])[:MOST_LINES]
    return Lines(np.array(normals)[longest], np.array(offsets)[longest], covered[longest], reach)


def _line(segments: Floats) -> tuple[Floats, float]:
    """The line through the ends of segments by least squares (total)."""
    ends = segments.reshape(-1, 2)
    middle = ends.mean(axis=0)
    away = ends - middle
    _, vectors = np.linalg.eigh(away.T @ away)
    normal = vectors[:, 0]
    return normal, float(normal @ middle)


def _lies_on(segments: Floats, normal: Floats, offset: float) -> NDArray[np.bool_]:
    off = np.abs(segments.reshape(-1, 2, 2) @ normal - offset)
    return np.asarray(off.max(axis=1) < 1.8)


def _quads(lines: Lines, shape: tuple[int, ...]) -> tuple[Floats, Floats]:
    """All outlines (n, 4, 2) of two pairs of lines, and the share of each side that is covered (n, 4)."""
    angle = np.arctan2(lines.normals[:, 1], lines.normals[:, 0])
    turned = np.abs((angle[:, None] - angle[None] + np.pi / 2) % np.pi - np.pi / 2)
    first, second = np.nonzero(np.triu(turned < PARALLEL, 1))
    one, other = np.nonzero(np.triu(turned[first][:, first] > UPRIGHT, 1))
    sides = np.stack([first[one], first[other], second[one], second[other]], axis=1)
    corners = np.stack([_crossings(lines, sides[:, i - 1], sides[:, i]) for i in range(4)], axis=1)
    height, width = shape[:2]
    inside = ((corners > -4) & (corners < [width + 3, height + 3])).all(axis=(1, 2))
    large = np.abs(_areas(corners)) > 0.01 * width * height
    sides, corners = sides[inside & large], corners[inside & large]
    shares = np.stack(
        [_share(lines, sides[:, i], corners[:, i], corners[:, (i + 1) % 4]) for i in range(4)], axis=1
    )
    good = np.sort(shares, axis=1)[:, 1:].mean(axis=1) > THREE_SIDES
    corners, shares = corners[good], shares[good]
    turned_round = _areas(corners) < 0
    corners[turned_round] = corners[turned_round][:, ::-1]
    return corners, shares


def _crossings(lines: Lines, a: NDArray[np.int_], b: NDArray[np.int_]) -> Floats:
    n, m = lines.normals[a], lines.normals[b]
    p, q = lines.offsets[a], lines.offsets[b]
    cross = n[:, 0] * m[:, 1] - n[:, 1] * m[:, 0]
    cross = np.where(np.abs(cross) < 1e-6, 1e-6, cross)
    return np.stack([(p * m[:, 1] - q * n[:, 1]) / cross, (q * n[:, 0] - p * m[:, 0]) / cross], axis=1)


def _areas(corners: Floats) -> Floats:
    x, y = corners[..., 0], corners[..., 1]
    return np.asarray((x * np.roll(y, -1, axis=1) - np.roll(x, -1, axis=1) * y).sum(axis=1) / 2)


def _share(lines: Lines, line: NDArray[np.int_], start: Floats, end: Floats) -> Floats:
    """Share of each side, from start to end on its line, that segments cover."""
    normal = lines.normals[line]
    along = np.stack([start[:, 1] * normal[:, 0] - start[:, 0] * normal[:, 1],
                      end[:, 1] * normal[:, 0] - end[:, 0] * normal[:, 1]])  # fmt: skip
    low, high = (np.clip(np.rint(t).astype(int) + lines.reach, 0, 2 * lines.reach) for t in np.sort(along, axis=0))
    return np.asarray((lines.covered[line, high] - lines.covered[line, low]) / np.maximum(high - low, 1))


def _stage_around(quads: Floats, stage: StageModel) -> Floats:
    """Share of places just outside each outline that look like stage."""
    share = np.linspace(0.06, 0.94, 9)[:, None]
    ahead = np.roll(quads, -1, axis=1) - quads
    unit = ahead / np.maximum(np.linalg.norm(ahead, axis=2, keepdims=True), 1e-9)
    out = np.stack([unit[..., 1], -unit[..., 0]], axis=-1)
    places = quads[:, :, None] + ahead[:, :, None] * share + 4 * out[:, :, None]
    height, width = stage.distance.shape
    column = np.clip(np.rint(places[..., 0]).astype(int), 0, width - 1)
    row = np.clip(np.rint(places[..., 1]).astype(int), 0, height - 1)
    seen = (stage.distance[row, column] < STAGE_LIKE).mean(axis=(1, 2))
    return np.asarray(seen if stage.explained > TRUSTED else np.ones(len(quads)))
