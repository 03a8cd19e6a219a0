"""What a frame of the camera over the stage shows: prints, hands, motion, and what would spoil a picture.

Convention (see `conventions`): frames uint8 sRGB, all of one size, 640 pixels long or less; corners in pixels of
the frame. `at_ms` is the frames' own time.

Method. Prints, motion and hands by `tracking`; what reaches in over the rim, and the light, by `rim`, from a frame
of the empty stage, which is learnt whenever nothing lies there; a print that was taken by `again`.
"""

from __future__ import annotations

import cv2
import numpy as np
from attrs import evolve, field, frozen

from solander.imaging.again import Look, alike, look_of, seen_before
from solander.imaging.conventions import Rgb, require_rgb
from solander.imaging.locate import Found
from solander.imaging.measure import edge_rise
from solander.imaging.rim import Lit, lit, reaching, rim_of
from solander.imaging.tracking import Tracked, track

__all__ = ["Learnt", "Watched", "remember", "watch"]


@frozen(eq=False)
class Learnt:
    """What the sitting has taught: the `empty` stage, the looks of the prints taken lately, the newest first, and
    the sharpest edge of paper seen (10–90 % rise, pixels)."""

    empty: Rgb | None = None
    empty_rim: np.ndarray | None = None
    taken: tuple[Look, ...] = ()
    sharpest: float = float("inf")


@frozen(eq=False)
class Watched:
    """What is seen in a frame.

    `found` are the prints; `hand` tells of a hand or arm, `where` over which edge of the frame it reaches in;
    `moving` that something moves. `last` and `known` tell that a print looks like that taken last, or like one
    taken lately. `fault` is "", "not-sharp", "glare" or "dark"; `fault_at` the edge of the print at which there is
    glare. `light` is "", "drift", "flicker" or "daylight".
    """

    found: tuple[Found, ...]
    hand: bool
    moving: bool
    where: str = ""
    last: bool = False
    known: bool = False
    fault: str = ""
    fault_at: str = ""
    light: str = ""
    looks: tuple[Look, ...] = field(default=(), repr=False)
    tracked: Tracked | None = field(default=None, repr=False)
    learnt: Learnt = field(factory=Learnt, repr=False)


def watch(frame: Rgb, before: Watched | None = None, *, at_ms: int = 0) -> Watched:
    """What is seen in `frame`, given what was seen `before`."""
    learnt = before.learnt if before else Learnt()
    then = before.tracked if before else None
    if learnt.empty is not None and learnt.empty.shape != require_rgb(frame).shape:
        learnt, then = evolve(learnt, empty=None, empty_rim=None), None
    tracked = track(frame, then, empty_stage=learnt.empty)
    shape = tracked.glance.shape
    light = None if learnt.empty_rim is None else lit(learnt.empty_rim, rim_of(tracked.glance), shape)
    where = reaching(light, shape) if light else ""
    moving = then is None or (tracked.settled == 0 and tracked.searched is then.searched)
    over = any(one.hand for one in tracked.found)
    hand = over or (bool(where) if light else tracked.hand)
    seen = Watched(tracked.found, hand, moving, where, tracked=tracked, learnt=learnt)
    if seen.hand or moving:
        return seen
    if not seen.found:
        return evolve(seen, learnt=_empty(learnt, frame, tracked))
    looks = tuple(look_of(frame, one.corners) for one in seen.found)
    return _judged(frame, evolve(seen, looks=looks), before, light)


def remember(seen: Watched) -> Watched:
    """The same, with the prints in it as those taken last."""
    taken = (*seen.looks, *seen.learnt.taken)[:MANY]
    return evolve(seen, learnt=evolve(seen.learnt, taken=taken))


MANY = 4
"""Prints taken that are remembered: the other side of the last one, and those that may be laid back for it."""


def _empty(learnt: Learnt, frame: Rgb, tracked: Tracked) -> Learnt:
    return evolve(learnt, empty=frame, empty_rim=rim_of(tracked.glance))


def _judged(frame: Rgb, seen: Watched, before: Watched | None, light: Lit | None) -> Watched:
    """With what is told of prints that lie at rest."""
    taken = seen.learnt.taken
    last = bool(taken) and any(alike(look, taken[0]) for look in seen.looks)
    known = any(seen_before(look, taken) for look in seen.looks)
    rise = edge_rise(frame, seen.found[0].corners)
    learnt = evolve(seen.learnt, sharpest=float(np.fmin(seen.learnt.sharpest, rise)))
    fault = "not-sharp" if rise > SOFTER * learnt.sharpest + MARGIN else "dark" if _dark(frame) else ""
    return evolve(seen, last=last, known=known, fault=fault, learnt=learnt)


SOFTER, MARGIN = 1.3, 0.8
"""How much softer than the sharpest edge of the sitting, in shares and in pixels, a print's edge may be."""


def _dark(frame: Rgb) -> bool:
    return float(np.quantile(cv2.resize(frame, (80, 60), interpolation=cv2.INTER_AREA), 0.9)) < DARKEST


DARKEST = 45.0
"""Code value that the brightest tenth of a frame reaches at least."""
