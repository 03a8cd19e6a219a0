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
from solander.imaging.glare import glare_at
from solander.imaging.locate import Found
from solander.imaging.measure import edge_rise
from solander.imaging.rim import Lit, Rim, lit, reaching, rim_of
from solander.imaging.steadiness import Light, noted
from solander.imaging.tracking import Tracked, track

__all__ = ["Learnt", "Watched", "remember", "watch"]


@frozen(eq=False)
class Learnt:
    """What the sitting has taught: the `empty` stage as last seen, the rim as it was `at_first`, how the `light`
    has stood since, the looks of the prints taken lately, the newest first, and how sharp their edges were
    (10–90 % rise, pixels)."""

    empty: Rgb | None = None
    rim: Rim | None = None
    at_first: Rim | None = None
    light: Light = field(factory=Light)
    taken: tuple[Look, ...] = ()
    taken_rises: tuple[float, ...] = ()


@frozen(eq=False)
class Watched:
    """What is seen in a frame.

    `found` are the prints; `hand` tells of a hand or arm, `where` over which edge of the frame it reaches in;
    `moving` that something moves. `last` and `known` tell that a print looks like that taken last, or like one
    taken lately. `fault` is "", "not-sharp", "glare" or "dark"; `fault_at` the edge of the print at which there is
    glare, or "middle".
    """

    found: tuple[Found, ...]
    hand: bool
    moving: bool
    where: str = ""
    last: bool = False
    known: bool = False
    fault: str = ""
    fault_at: str = ""
    rises: tuple[float, ...] = field(default=(), repr=False)
    looks: tuple[Look, ...] = field(default=(), repr=False)
    tracked: Tracked | None = field(default=None, repr=False)
    learnt: Learnt = field(factory=Learnt, repr=False)

    @property
    def light(self) -> str:
        """How the light stands since the empty stage was first seen: "", "drift", "flicker" or "daylight"."""
        return self.learnt.light.told


def watch(frame: Rgb, before: Watched | None = None, *, at_ms: int = 0) -> Watched:
    """What is seen in `frame`, given what was seen `before`."""
    learnt = before.learnt if before else Learnt()
    then = before.tracked if before else None
    if learnt.empty is not None and learnt.empty.shape != require_rgb(frame).shape:
        learnt, then = evolve(learnt, empty=None, rim=None, at_first=None, light=Light()), None
    tracked = track(frame, then, empty_stage=learnt.empty)
    rim, shape = rim_of(tracked.glance), tracked.glance.shape
    moving = then is None or (tracked.settled == 0 and tracked.searched is then.searched)
    where = "" if learnt.rim is None else _reached(lit(learnt.rim, rim, shape), tracked, moving=moving)
    hand = tracked.hand if learnt.rim is None else bool(where)
    seen = Watched(tracked.found, hand, moving, where, tracked=tracked, learnt=learnt)
    if seen.hand or moving:
        return seen
    learnt = _learnt(learnt, rim, None if seen.found else frame, at_ms, shape)
    return _as_before(_judged(frame, evolve(seen, learnt=learnt), before.rises if before else ()), before)


def _as_before(seen: Watched, before: Watched | None) -> Watched:
    """What was known once is known as long as it lies there: likeness wavers with the noise."""
    if before is None or not before.looks or before.tracked is None or seen.tracked is None:
        return seen
    if before.tracked.searched is not seen.tracked.searched:
        return seen
    return evolve(seen, last=seen.last or before.last, known=seen.known or before.known)


def _reached(change: Lit, tracked: Tracked, *, moving: bool) -> str:
    """Over which edge of the frame something reaches in; a print that lies at it does not."""
    scale = tracked.searched.scale
    lying = [] if moving else [(one.corners + 0.5) / scale - 0.5 for one in tracked.found]
    return reaching(change, tracked.glance.shape, lying)


def remember(seen: Watched) -> Watched:
    """The same, with the prints in it as those taken last."""
    taken = (*seen.looks, *seen.learnt.taken)[:MANY]
    told = [rise for rise in seen.rises if np.isfinite(rise)]
    rises = (*([float(np.median(told))] if told else []), *seen.learnt.taken_rises)[:LATELY]
    return evolve(seen, learnt=evolve(seen.learnt, taken=taken, taken_rises=rises))


MANY = 4
"""Prints taken that are remembered: the other side of the last one, and those that may be laid back for it."""


def _learnt(learnt: Learnt, rim: Rim, empty: Rgb | None, at_ms: int, shape: tuple[int, ...]) -> Learnt:
    """What a frame at rest teaches, an `empty` one or another: how the light stands, and the stage."""
    if learnt.at_first is not None:
        learnt = evolve(learnt, light=noted(learnt.light, lit(learnt.at_first, rim, shape), at_ms))
    if empty is None:
        return learnt
    return evolve(learnt, empty=empty, rim=rim, at_first=rim if learnt.at_first is None else learnt.at_first)


def _judged(frame: Rgb, seen: Watched, rises: tuple[float, ...]) -> Watched:
    """With what is told of prints that lie at rest; `rises` are those of the frames before."""
    if not seen.found:
        return seen
    looks, taken = tuple(look_of(frame, one.corners) for one in seen.found), seen.learnt.taken
    last = bool(taken) and any(alike(look, taken[0]) for look in looks)
    known = any(seen_before(look, taken) for look in looks)
    rises = (*rises, edge_rise(frame, seen.found[0].corners))[-RISES:]
    glare = glare_at(frame, seen.found[0].corners)
    soft = _soft(rises, seen.learnt.taken_rises)
    fault = "glare" if glare else "not-sharp" if soft else "dark" if _dark(frame, seen.found[0]) else ""
    return evolve(seen, looks=looks, last=last, known=known, fault=fault, fault_at=glare, rises=rises)


RISES = 4
"""Frames over which an edge's rise must hold still: those in which a print settles."""

HUNTING = 0.3
"""Share by which it may waver over them: 5 % when the lens rests (24 % on wood), 37 % and more when it hunts."""

SOFTER, MARGIN = 1.3, 0.8
"""How much softer than the sharp edges of the sitting, in shares and in pixels, a print's edge may be: a deckled
one is half as soft again as a straight one."""

LATELY, FEWEST, SHARP = 12, 3, 0.25
"""Prints taken last that tell what is sharp, how many at least, and which share of them is: one freak among them
doesn't stop the sitting, and what is taken by order is learnt from."""


def _soft(rises: tuple[float, ...], taken: tuple[float, ...]) -> bool:
    """Whether the lens is out of focus, or still looking for it."""
    told = np.array(rises)[np.isfinite(rises)]
    if not len(told):
        return False
    usual = float(np.median(told))
    sharp = float(np.quantile(taken, SHARP)) if len(taken) >= FEWEST else np.inf
    return bool(usual > SOFTER * sharp + MARGIN or np.ptp(told) > HUNTING * usual)


def _dark(frame: Rgb, found: Found) -> bool:
    """Whether even what is brightest in a print is dark: the light is off."""
    x, y, width, height = cv2.boundingRect(found.corners.astype(np.float32))
    box = frame[max(0, y) : y + height, max(0, x) : x + width, 1]
    return box.size > 0 and float(np.quantile(box[::2, ::2], 0.98)) < DARKEST


DARKEST = 30.0
"""Code value that the brightest fiftieth of a print reaches at least: in good light faded blacks do."""
