"""Prints followed from frame to frame of a camera that stands still: a search only when something has moved.

Convention (see `conventions`): frames uint8 sRGB, all of one size; corners in pixels of the frame.

Method. A glance at the frame, compared with that at the frame last searched (`change`), tells whether anything has
moved. If so, the frame is searched as soon as it comes to rest. If not, the edges of the outlines last found are
placed again, close by, and each corner goes with them as the camera shakes: what counts is how far an edge has
gone since the search, so that what the search knew of it (a deckled rim, a faint border) stays known. Nothing adds
up: every frame is compared with the one that was searched, so that a slow move is noticed once it is as large as a
quick one.
"""

from __future__ import annotations

from collections.abc import Iterable
from enum import Enum

import cv2
import numpy as np
from attrs import evolve, field, frozen

from solander.imaging.change import Compared, Glance, Mask, compare, glance, pixels_shaken
from solander.imaging.conventions import Quad, Rgb, require_rgb
from solander.imaging.curves import Curve, fit_curves
from solander.imaging.edges import Floats, cut_strips, outward
from solander.imaging.hands import like_skin
from solander.imaging.locate import Found, locate_prints
from solander.imaging.stage import to_lab

__all__ = ["Change", "Searched", "Tracked", "track"]


class Change(Enum):
    """What sets a frame apart from the one last searched."""

    NOTHING = "nothing"
    LIGHT = "light"
    MOVED = "something moved"
    HAND = "hand"


@frozen(eq=False)
class Searched:
    """What is kept of the frame last searched: its glance (in the light of now) and how many pixels of the frame
    one of its pixels spans, what was found, for each find the curves of its four sides (None where they couldn't
    be fitted), and where a hand is seen beside prints."""

    glance: Glance
    scale: float
    found: tuple[Found, ...]
    curves: tuple[tuple[Curve, ...] | None, ...]
    hand_at: Mask


@frozen(eq=False)
class Tracked:
    """What is known after a frame.

    `found` are the prints, in reading order, where they lie in this frame; while something moves, those that it
    doesn't touch. `change` is what has changed; in the first frame something has moved. `settled` counts the
    frames in a row, after a search, in which nothing moved. `hand` tells that a hand is in the picture, be it
    moving or not. `glance` and `searched` are for the next frame.
    """

    found: tuple[Found, ...]
    change: Change
    settled: int
    hand: bool
    glance: Glance = field(repr=False)
    searched: Searched = field(repr=False)


RELIT = 0.03
"""Share by which light changes (in encoded values) before it is told: 7 % of the light itself."""


def track(frame: Rgb, before: Tracked | None = None, *, empty_stage: Rgb | None = None) -> Tracked:
    """What is known after `frame`, given what was known after the frame `before` it (None: this is the first).

    A frame of another size counts as the first. `empty_stage` is as in `locate_prints`.
    """
    now = glance(require_rgb(frame))
    if before is None or before.glance.shape != now.shape:
        return _searched(frame, now, empty_stage, np.zeros(now.shape[:2], np.bool_))
    compared = compare(before.searched.glance, now)
    if compared.changed.any():
        hand_at = _hand_at(before.searched, now, compared.changed)
        if compare(before.glance, now).changed.any():
            return _moving(before, now, compared.changed, hand_at)
        return _searched(frame, now, empty_stage, hand_at)
    found = _followed(frame, before)
    if found is None:
        return _searched(frame, now, empty_stage, before.searched.hand_at)
    return _still(before, now, compared, found)


def _still(before: Tracked, now: Glance, compared: Compared, found: tuple[Found, ...]) -> Tracked:
    """Nothing has moved since the search, or all of it is back."""
    relit = compared.light >= RELIT
    return evolve(
        before,
        found=found,
        change=Change.LIGHT if relit else Change.NOTHING,
        settled=before.settled + 1,
        hand=_hand(before.searched.found, before.searched.hand_at),
        glance=now,
        searched=evolve(before.searched, glance=compared.relit) if relit else before.searched,
    )


def _moving(before: Tracked, now: Glance, changed: Mask, hand_at: Mask) -> Tracked:
    """Something is on the move: not worth a search."""
    scale = before.searched.scale
    there = tuple(one for one in before.searched.found if not (_inside([one], changed, scale) & changed).any())
    hand_at = _fingers(there, hand_at, scale)
    hand = _hand(there, hand_at)
    return Tracked(there, _with(hand), 0, hand, now, before.searched)


def _searched(frame: Rgb, now: Glance, empty_stage: Rgb | None, hand_at: Mask) -> Tracked:
    """All of the frame searched anew."""
    found = locate_prints(frame, empty_stage=empty_stage)
    curves = tuple(_curves(frame, one, _expected(one)) for one in found)
    scale = max(frame.shape[:2]) / max(now.shape[:2])
    hand_at = _fingers(found, hand_at, scale)
    hand = _hand(found, hand_at)
    return Tracked(found, _with(hand), 0, hand, now, Searched(now, scale, found, curves, hand_at))


def _hand(found: Iterable[Found], hand_at: Mask) -> bool:
    return bool(hand_at.any()) or any(one.hand for one in found)


def _with(hand: bool) -> Change:
    return Change.HAND if hand else Change.MOVED


ROWS = 80
"""Places along a side at which its edge is looked for: half as many as in a search."""

FURTHER = 1.0
"""Pixels beyond those of a shake within which an edge is looked for, so that one that has gone further is seen."""

CURVED = 5.0
"""Pixels beyond the reach that a strip shows on either side, for the edge's blur."""


def _expected(found: Found) -> list[Floats]:
    """The curves of a find's sides as it tells them: straight, or bowed."""
    return [np.array([-bow, 0.0, bow]) for bow in found.bows or (0.0,) * 4]


def _curves(frame: Rgb, found: Found, expected: list[Floats]) -> tuple[Curve, ...] | None:
    """The edges of a find's four sides, looked for within what a shake moves them; None unless all are seen."""
    reach = pixels_shaken(frame) + FURTHER
    bowed = max(float(np.abs(np.polyval(curve, np.linspace(-1, 1, 5))).max()) for curve in expected)
    wide = reach + CURVED + bowed
    strips = cut_strips(frame, found.corners, wide=wide, rows=ROWS, ends=0.05, linear=True)
    fitted = fit_curves(strips, expected, order=2, window=reach, softness=False)
    seen = tuple(curve for curve in fitted if curve is not None)
    return seen if len(seen) == len(fitted) else None


def _followed(frame: Rgb, before: Tracked) -> tuple[Found, ...] | None:
    """The finds where they lie now; of several, one in turn each frame is looked at. None where one has gone
    further than a shake."""
    if not before.searched.found:
        return ()
    found = list(before.found if before.settled else before.searched.found)
    turn = before.settled % len(found)
    searched, then = before.searched.found[turn], before.searched.curves[turn]
    now = None if then is None else _curves(frame, searched, [curve.coefficients for curve in then])
    if then is None or now is None:
        return tuple(found)
    gone = _gone(searched.corners, then, now)
    if np.abs(gone).max() > pixels_shaken(frame):
        return None
    moved = searched.corners + gone
    second = None if searched.second is None else searched.second + gone.mean(axis=0)
    found[turn] = evolve(searched, corners=moved, second=second)
    return tuple(found)


def _gone(corners: Quad, then: tuple[Curve, ...], now: tuple[Curve, ...]) -> Quad:
    """How far each corner has gone (4, 2), by how far its two sides have, each across itself."""
    out = np.array([outward(corners[i], corners[(i + 1) % 4]) for i in range(4)])
    across = np.array([[float(n.at(end) - t.at(end)) for end in (-1, 1)] for t, n in zip(then, now, strict=True)])
    return np.array([np.linalg.solve(out[[i - 1, i]], [across[i - 1, 1], across[i, 0]]) for i in range(4)])


LEAST_HAND = 1.5e-3
"""Share of the frame from which what looks like skin is a hand: 20 pixels of 160 × 90, a fingertip."""


def _hand_at(searched: Searched, now: Glance, changed: Mask) -> Mask:
    """Where a hand is: what came in from the frame's edge and looks like skin where nothing did, and what was a
    hand and has not changed. On a stage of skin's colour only a hand over a print's edge is told (`hands`)."""
    came = changed & like_skin(to_lab(now)) & ~like_skin(to_lab(searched.glance)) & _from_edge(changed)
    return np.asarray(came | (searched.hand_at & ~changed), np.bool_)


def _from_edge(changed: Mask) -> Mask:
    """The pieces of what has changed that reach the frame's edge."""
    _, labels = cv2.connectedComponents(changed.astype(np.uint8), connectivity=8)
    rim = np.concatenate([labels[0], labels[-1], labels[:, 0], labels[:, -1]])
    return np.asarray(np.isin(labels, rim[rim > 0]), np.bool_)


def _fingers(found: Iterable[Found], hand_at: Mask, scale: float) -> Mask:
    """What of a hand is seen beside prints, whose pictures may be of skin's colour; nothing if less than a
    fingertip."""
    beside = hand_at & ~_inside(found, hand_at, scale)
    return np.asarray(beside if beside.mean() >= LEAST_HAND else np.zeros_like(beside), np.bool_)


def _inside(found: Iterable[Found], like: Mask, scale: float) -> Mask:
    """Where prints lie in a glance, their rims included."""
    inside = np.zeros(like.shape, np.uint8)
    for one in found:
        corners = (one.corners + 0.5) / scale - 0.5
        cv2.fillConvexPoly(inside, np.rint(corners * 16).astype(np.int32), (1,), shift=4)
    return np.asarray(cv2.dilate(inside, np.ones((3, 3), np.uint8)) > 0, np.bool_)
