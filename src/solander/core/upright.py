"""Which way is up: what may tell it, and when that is enough.

A turn is a number of quarter turns clockwise, 0–3, from how the print lay in its capture to upright. The capture
itself is seen as the camera or scanner meant it (its EXIF orientation): that tells how the device was held, not
how the print lay, so it is where turns are counted from and never evidence for one.
"""

from __future__ import annotations

from bisect import bisect_left
from collections import Counter
from collections.abc import Mapping, Sequence
from enum import StrEnum

from attrs import frozen

__all__ = ["ENOUGH", "Lain", "Upright", "habit", "laid_shape", "turn_by_faces"]

TURNS = 4

TWO_TO_ONE = 2.0
"""How many times as much the winning turn must have as the next best. Measured: docs/measured.md."""

ENOUGH = 5
"""Prints of a batch whose turn is known before its habit is believed (our own choice, no source)."""

NEAREST = 10
"""How many of the nearest prints make the habit, for it may change in the course of a box (our own choice)."""

CLEAR_MAJORITY = 0.9
"""Share of them that must have lain the same way (our own choice)."""

SQUARE_WITHIN = 0.05
"""Sides that differ by less say nothing about how the print lay."""


class Upright(StrEnum):
    """What tells that a view is the right way up."""

    PERSON = "person"  # somebody looked and said so
    FACES = "faces"  # faces found in it stand upright
    WRITING = "writing"  # writing on its back stands upright, or on the back of this front
    HABIT = "habit"  # its neighbours of the same shape lay the same way


@frozen
class Lain:
    """How one print of a batch lay: its place in the order of arrival, its shape (`laid_shape`), and its turn,
    None where it isn't known."""

    place: int
    shape: str
    turn: int | None


def turn_by_faces(votes: Sequence[float]) -> int | None:
    """The turn that makes the faces stand upright; None where nothing or not enough speaks for one.

    `votes` has one number for each turn 0–3: the summed scores of the faces found after that many quarter turns.
    The best must have twice as much as the next.
    """
    ranked = sorted(range(TURNS), key=lambda turn: -votes[turn])
    best, next_best = votes[ranked[0]], votes[ranked[1]]
    return ranked[0] if best > 0 and best >= TWO_TO_ONE * next_best else None


def laid_shape(width: float, height: float) -> str:
    """`wide`, `tall` or `square`, of a print as it lay."""
    if abs(width - height) <= SQUARE_WITHIN * max(width, height):
        return "square"
    return "wide" if width > height else "tall"


def habit(batch: Sequence[Lain]) -> Mapping[int, int]:
    """The likely turn of each print of a batch that has none, by its place.

    A print lay as its nearest neighbours of the same shape did, where at least `ENOUGH` of the `NEAREST` have a
    turn and nearly all of them the same. A place that is missing in the answer is one that nothing is known of.
    """
    known = {shape: _known(batch, shape) for shape in {one.shape for one in batch}}
    likely = {one.place: _usual(known[one.shape], one.place) for one in batch if one.turn is None}
    return {place: turn for place, turn in likely.items() if turn is not None}


def _known(batch: Sequence[Lain], shape: str) -> list[tuple[int, int]]:
    return sorted((one.place, one.turn) for one in batch if one.shape == shape and one.turn is not None)


def _usual(known: Sequence[tuple[int, int]], place: int) -> int | None:
    at = bisect_left(known, (place, 0))
    around = known[max(0, at - NEAREST) : at + NEAREST]
    nearest = sorted(around, key=lambda one: abs(one[0] - place))[:NEAREST]
    if len(nearest) < ENOUGH:
        return None
    turn, count = Counter(turn for _, turn in nearest).most_common(1)[0]
    return turn if count >= CLEAR_MAJORITY * len(nearest) else None
