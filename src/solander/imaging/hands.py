"""Whether a hand reaches over a print's edge.

Convention (see `conventions`): corners in pixels of the coarse copy unless said otherwise; colours in CIELAB.

Method. Along an outline a hand is where what lies just outside is not stage, looks like what lies just inside (no
edge runs there), and has a colour that skin can have. From there it is followed outwards: a hand goes on outside
the print for more than its width, in much the same colour. So neither sepia paper nor a face in the picture nor a
board beneath the print is taken for one: the first two end at the outline, the last is stage.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import cv2
import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from solander.imaging.conventions import Quad, diagonal
from solander.imaging.edges import length_of, outward
from solander.imaging.search import Scene
from solander.imaging.stage import STAGE_LIKE, TRUSTED, margin_of, spread_of, stage_distance

__all__ = ["hand_over", "like_skin"]

Pixels = NDArray[np.float32]
Floats = NDArray[np.float64]
Mask = NDArray[np.uint8]

AWAY = 4.0
"""Spreads from the stage from which a place is not stage."""

NEAREST, FARTHER = 3.0, 6.0
INSIDE = (0.0, 1.5, 3.0)
"""Pixels outside and inside the outline that are compared: beyond its blur, before a fingertip ends."""

NARROWEST = 0.035
"""Narrowest run along the outline that is taken for a finger, as a share of the print's diagonal: a fingertip is
12 mm wide or more, the diagonal of a large print 250 mm."""

WIDEST = 0.75
"""Widest run, as a share of a side: what hides more of it is no hand, or the outline is wrong."""

NO_EDGE = 20.0
"""Lab units between just inside and just outside up to which no edge is seen: skin is shaded and creased."""


def hand_over(scene: Scene, corners: Quad, others: Sequence[Quad] = ()) -> bool:
    """Whether a hand reaches over an outline; `corners` and the `others` found are in pixels of the capture."""
    quad = scene.coarse.from_full(corners)
    lab = np.asarray(cv2.blur(scene.coarse.lab, (3, 3)), np.float32)
    sides = _sides(lab, quad)
    least = max(3.0, NARROWEST * diagonal(quad))
    if not any(last - first >= least for side in sides for first, last in _stretches(side.like_skin)):
        return False
    inside = np.zeros(lab.shape[:2], np.uint8)
    cv2.fillConvexPoly(inside, np.rint(quad * 16).astype(np.int32), (1,), shift=4)
    free = _not_stage(scene, inside)
    for other in others:
        cv2.fillConvexPoly(free, np.rint(scene.coarse.from_full(other) * 16).astype(np.int32), (0,), shift=4)
    reaching = _from_the_margin(free, inside)
    finger = FINGER * diagonal(quad)
    runs = (run for side in sides for run in _runs(free, side, least))
    return any(_goes_on(lab, reaching, inside, run, finger) for run in runs)


def _not_stage(scene: Scene, inside: Mask) -> Mask:
    """What is not stage (uint8, 0 or 1), pixel by pixel or, outside the print, seen so blurred that grain and
    weave are gone: skin on wood differs little from it, but all over. A joint between boards is too narrow."""
    stage = scene.stage
    free = stage.distance > AWAY
    if stage.explained > TRUSTED:
        out = (1 - inside).astype(np.float32)
        share = cv2.blur(out, BLURRED)[..., None]
        broad = np.asarray(
            cv2.blur(scene.coarse.lab * out[..., None], BLURRED) / np.maximum(share, 0.01), np.float32
        )
        margin = margin_of(*free.shape) & (stage.distance < STAGE_LIKE)
        spread = spread_of((broad - stage.colour)[margin])
        departs = ((stage_distance(broad, stage.colour, spread) > AWAY) & (inside == 0)).astype(np.uint8)
        wide = cv2.morphologyEx(departs, cv2.MORPH_OPEN, np.ones(WIDE, np.uint8))
        free |= np.asarray(wide) > 0
    return free.astype(np.uint8)


BLURRED = (7, 7)
"""Pixels averaged: more than grain, less than a finger's width."""

WIDE = (9, 9)
"""Pixels that what departs so must measure both ways: the blur makes eight of a joint between boards."""


def _from_the_margin(free: Mask, inside: Mask) -> Mask:
    """What is not stage and reaches in from the frame's edge, as every arm does; the print itself with it."""
    closed = cv2.morphologyEx(free & (1 - inside), cv2.MORPH_CLOSE, np.ones((3, 3), np.uint8))
    _, labels = cv2.connectedComponents(np.asarray(closed, np.uint8))
    rim = np.concatenate([labels[:2].ravel(), labels[-2:].ravel(), labels[:, :2].ravel(), labels[:, -2:].ravel()])
    reaching = np.isin(labels, np.unique(rim[rim > 0])) | (inside > 0)
    return np.asarray(free * reaching.astype(np.uint8), np.uint8)


def like_skin(lab: Pixels) -> NDArray[np.bool_]:
    """Where a colour (…, 3) is one that skin can have, from light to dark, under lamps of any white.

    Skin is reddish yellow at every lightness: hue 12–95 degrees, and less colourful than most dyed things (from
    measured reflectances of skin; the bounds are wider, by eye, for cameras' white balance)."""
    hue = np.degrees(np.arctan2(lab[..., 2], lab[..., 1]))
    chroma = np.hypot(lab[..., 1], lab[..., 2])
    light = lab[..., 0]
    return np.asarray((light > 8) & (light < 94) & (hue > 12) & (hue < 95) & (chroma > 5) & (chroma < 50))


@frozen(eq=False)
class _Side:
    """Places just outside a side, (n, 2), pixel by pixel, those farther out, and where something like skin lies
    over it."""

    near: Floats
    far: Floats
    like_skin: NDArray[np.bool_]


def _sides(lab: Pixels, quad: Quad) -> list[_Side]:
    sides = []
    for start, end in zip(quad, np.roll(quad, -1, axis=0), strict=True):
        length = max(1, int(np.linalg.norm(end - start)))
        along = start + (end - start) * ((np.arange(length) + 0.5) / length)[:, None]
        out = outward(start, end)
        near = along + out * NEAREST
        colour = _at(lab, near)
        apart = np.min([length_of(colour - _at(lab, along - out * d)) for d in INSIDE], axis=0)
        sides.append(_Side(near, along + out * FARTHER, like_skin(colour) & (apart < NO_EDGE)))
    return sides


def _runs(free: Mask, side: _Side, least: float) -> Iterator[Floats]:
    """Stretches along a side, (n, 2) places just outside it, where something like skin lies over it."""
    covered = (_at(free, side.near) > 0) & (_at(free, side.far) > 0) & side.like_skin
    for first, last in _stretches(covered):
        if least <= last - first <= WIDEST * len(covered):
            yield side.near[first:last]


def _stretches(seen: NDArray[np.bool_]) -> list[tuple[int, int]]:
    """First place and the one after the last of each stretch, gaps of one place closed."""
    closed = cv2.morphologyEx(seen.astype(np.uint8)[None], cv2.MORPH_CLOSE, np.ones((1, 3), np.uint8))[0]
    steps = np.diff(np.concatenate([[0], closed, [0]]).astype(np.int8))
    return list(zip(np.flatnonzero(steps > 0).tolist(), np.flatnonzero(steps < 0).tolist(), strict=True))


def _at(picture: NDArray[np.generic], points: Floats) -> Pixels:
    """The picture's values at the nearest pixels."""
    column = np.clip(np.rint(points[:, 0]).astype(int), 0, picture.shape[1] - 1)
    row = np.clip(np.rint(points[:, 1]).astype(int), 0, picture.shape[0] - 1)
    return np.asarray(picture[row, column], np.float32)


REACH = np.array([38.0, 11.0, 13.0], np.float32)
"""Lab units from a finger's colour within which the rest of the hand is looked for."""


def _goes_on(lab: Pixels, free: Mask, inside: Mask, run: Floats, finger: float) -> bool:
    """Whether what lies over the outline there goes on outside for more than its width, or than a finger's where
    several lie side by side; or up to the frame's edge."""
    colour = np.median(_at(lab, run), axis=0)
    alike = (((lab - colour) / REACH) ** 2).sum(axis=2) < 1
    _, labels = cv2.connectedComponents((alike & (free > 0)).astype(np.uint8))
    of_run = _at(labels, run)
    if not (of_run > 0).any():
        return False
    values, counts = np.unique(of_run[of_run > 0], return_counts=True)
    hand = labels == int(values[counts.argmax()])
    outside = hand & (inside == 0)
    rows, columns = np.nonzero(outside)
    away = np.hypot(columns - run[:, 0].mean(), rows - run[:, 1].mean())
    wide = min(len(run), finger)
    if _at_rim(outside):
        return bool(outside.sum() > LARGE * wide * min(wide, _to_rim(run, outside.shape)))
    return bool(outside.sum() > LARGE * wide**2 and away.max() > FAR * wide)


def _at_rim(mask: NDArray[np.bool_]) -> bool:
    return bool(mask[:2].any() or mask[-2:].any() or mask[:, :2].any() or mask[:, -2:].any())


def _to_rim(run: Floats, shape: tuple[int, ...]) -> float:
    """Pixels from the middle of a run to the nearest edge of the frame."""
    x, y = run.mean(axis=0)
    return float(max(1.0, min(x, y, shape[1] - 1 - x, shape[0] - 1 - y)))


FINGER = 0.09
"""Width of a broad finger, as a share of a print's diagonal: 16 mm at 10 × 15 cm."""

LARGE = 0.8
FAR = 1.2
"""Area and reach outside the print, in widths of what lies over its edge, from which it is a hand."""
