"""Watches the stage: each frame of the camera in, what is going on there and whether a still is wanted out."""

from __future__ import annotations

import cv2
import numpy as np
from attrs import evolve, frozen
from numpy.typing import NDArray

from solander.core.errors import Trouble
from solander.core.orders import Order
from solander.core.sentence import Sentence
from solander.core.watching import Kept, Ordered, Seen, State, Step, Watching, next_step
from solander.imaging.again import Look
from solander.imaging.watch import Watched as Sight
from solander.imaging.watch import remember, watch
from solander.tasks.collection import Collection

__all__ = ["StageWatch", "Watched"]

Outline = tuple[tuple[tuple[float, float], ...], bool]


@frozen
class Watched:
    """What is going on at the stage.

    `why` is the key of what nothing goes on for, empty when all goes its way: "hand", "moving", "not-sharp",
    "glare", "dark", "two-prints", "taken-before", "not-good" (the still that was kept), "no-still" (it has not
    come). `where` is an edge, of the frame for a hand, of the print for glare: "top edge", "right edge", "bottom
    edge", "left edge", "middle". `light` is "", "drift", "flicker" or "daylight". `outlines` are the prints: four
    corners (x, y) in shares of the frame's width and height, and whether the outline is sure.
    """

    state: State
    wants_still: bool = False
    why: str = ""
    where: str = ""
    light: str = ""
    outlines: tuple[Outline, ...] = ()


class StageWatch:
    """One station's watch. Not for several threads at once."""

    def __init__(self, collection: Collection) -> None:
        self._collection = collection
        self._watching = Watching()
        self._sight: Sight | None = None
        self._size = (1, 1)
        self._before: tuple[Look, ...] = ()

    def frame(self, jpeg: bytes, at_ms: int) -> Watched:
        """What a frame shows, and whether a still is wanted now.

        Raises
        ------
        Trouble
            When it is no picture that can be read.
        """
        if self._watching.state is State.RESTING and self._watching.sent_away:
            return self._told(Step(self._watching))
        frame = _decoded(jpeg)
        self._size = frame.shape[1], frame.shape[0]
        sight = self._sight = watch(frame, self._sight, at_ms=at_ms)
        return self._step(
            Seen(
                at_ms,
                prints=len(sight.found),
                hand=sight.hand,
                moving=sight.moving,
                last=sight.last,
                known=sight.known,
                fault=sight.fault,
                where=sight.where or sight.fault_at,
            )
        )

    def order(self, order: Order, at_ms: int) -> Watched:
        """What comes of a person's order."""
        if order is Order.EMPTY_STAGE:
            self._sight = None
        return self._step(Ordered(order, at_ms))

    def taken(self, at_ms: int, good: bool, missed: bool = False) -> Watched:
        """What is to be told once a still was kept, and whether it is good.

        With `missed` no print was on it: the one that lies there is new when it is laid down once more.
        """
        if missed and self._sight is not None:
            self._sight = evolve(self._sight, learnt=evolve(self._sight.learnt, taken=self._before))
        return self._step(Kept(at_ms, good))

    def _step(self, event: Seen | Ordered | Kept) -> Watched:
        step = next_step(self._watching, event)
        self._watching = step.now
        if step.wants_still and self._sight is not None:
            self._before = self._sight.learnt.taken
            self._sight = remember(self._sight)
        return self._told(step)

    def _told(self, step: Step) -> Watched:
        found = self._sight.found if self._sight else ()
        light = self._sight.light if self._sight else ""
        outlines = tuple((self._shares(one.corners), one.confidence >= SURE) for one in found)
        return Watched(step.now.state, step.wants_still, step.why, step.where, light, outlines)

    def _shares(self, corners: NDArray[np.float64]) -> tuple[tuple[float, float], ...]:
        width, height = self._size
        return tuple(((float(x) + 0.5) / width, (float(y) + 0.5) / height) for x, y in corners)


SURE = 0.5
"""Confidence from which an outline in a preview is drawn as sure: a preview shows less than a still does."""

LONGEST = 640
"""Pixels of a frame's long side that are looked at; a larger one is made smaller."""


def _decoded(jpeg: bytes) -> NDArray[np.uint8]:
    """The frame as a picture, red first.

    Raises
    ------
    Trouble
        When it can't be read.
    """
    bgr = cv2.imdecode(np.frombuffer(jpeg, np.uint8), cv2.IMREAD_COLOR) if jpeg else None
    if bgr is None or min(bgr.shape[:2]) < SMALLEST:
        raise Trouble(
            Sentence("A frame of the camera could not be read"),
            Sentence("it is no whole picture"),
            Sentence("Open the camera page again"),
        )
    scale = LONGEST / max(bgr.shape[:2])
    if scale < 1:
        bgr = cv2.resize(bgr, None, fx=scale, fy=scale, interpolation=cv2.INTER_AREA)
    return np.asarray(cv2.cvtColor(bgr, cv2.COLOR_BGR2RGB), np.uint8)


SMALLEST = 64
"""Pixels of a frame's short side below which nothing is told from it."""
