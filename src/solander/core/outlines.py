"""What four corners must be to bound a print: rules for outlines that a person draws."""

from __future__ import annotations

import math
from collections.abc import Sequence

from solander.core.errors import InvalidValue
from solander.core.language import marked
from solander.core.prints import Corners
from solander.core.sentence import Sentence

__all__ = ["CORNER_NAMES", "SHORTEST_SIDE", "in_the_same_order", "sound_outline"]

CORNER_NAMES = (marked("top left"), marked("top right"), marked("bottom right"), marked("bottom left"))
"""The corners in their order, by where they lie in the capture."""

SHORTEST_SIDE = 32.0
"""Pixels of the capture below which a side is taken for a slip of the hand: a print of that size shows nothing
(our choice, not measured)."""

Point = tuple[float, float]


def sound_outline(corners: Sequence[Sequence[float]], width: int, height: int) -> Corners:
    """The corners as an outline in a capture of `width` × `height` pixels, clockwise.

    The first corner stays the first, so that the print stays as it was turned. Corners that go round the other
    way would mirror the print: they are brought into order from the one nearest the capture's top left.

    Raises
    ------
    InvalidValue
        When a corner is missing, no number or outside the capture, a side is shorter than `SHORTEST_SIDE`, sides
        cross, or a corner lies inside the other three.
    """
    points = [_point(corner) for corner in corners]
    if len(points) != 4:
        raise _not_drawn(Sentence("it has %(count)s corners", count=len(points)), Sentence("A print has four"))
    for name, (x, y) in zip(CORNER_NAMES, points, strict=True):
        if not (-0.5 <= x <= width - 0.5 and -0.5 <= y <= height - 0.5):
            raise _not_drawn(
                Sentence("its %(corner)s corner lies outside the capture", corner=Sentence(name)),
                Sentence("Move it back onto the picture"),
            )
    shortest = min(math.dist(here, ahead) for here, ahead in _sides(points))
    if shortest < SHORTEST_SIDE:
        todo = Sentence(
            "Draw it round the whole print; the least is %(pixels)s pixels", pixels=format(SHORTEST_SIDE, ".0f")
        )
        raise _not_drawn(
            Sentence("its shortest side is %(pixels)s pixels long", pixels=format(shortest, ".0f")), todo
        )
    turns = [_turn(points[i - 1], points[i], points[(i + 1) % 4]) for i in range(4)]
    if all(turn > 0 for turn in turns):
        return _four(points)
    if all(turn < 0 for turn in turns):
        return _four(_from_top_left(points[::-1]))
    if sum(turn > 0 for turn in turns) == 2:
        raise _not_drawn(
            Sentence("two of its sides cross"),
            Sentence("Move the corners so that they go round the print one by one"),
        )
    raise _not_drawn(
        Sentence("one corner lies inside the other three"), Sentence("Move each onto a corner of the paper")
    )


def in_the_same_order(corners: Corners, as_in: Corners) -> Corners:
    """The corners begun with the one that answers to the first of another outline: the print stays as turned."""

    def apart(shift: int) -> float:
        return sum(math.dist(corners[(i + shift) % 4], as_in[i]) for i in range(4))

    best = min(range(4), key=apart)
    return _four([corners[(i + best) % 4] for i in range(4)])


def _point(corner: Sequence[float]) -> Point:
    if len(corner) != 2 or not all(math.isfinite(value) for value in corner):
        raise _not_drawn(
            Sentence("a corner of it is no place"), Sentence("Give two numbers for each corner, across and down")
        )
    return float(corner[0]), float(corner[1])


def _sides(points: Sequence[Point]) -> list[tuple[Point, Point]]:
    return [(points[i], points[(i + 1) % len(points)]) for i in range(len(points))]


def _turn(before: Point, here: Point, after: Point) -> float:
    """Positive where the way turns clockwise as seen on the picture (y down), zero where it goes straight on."""
    return (here[0] - before[0]) * (after[1] - here[1]) - (here[1] - before[1]) * (after[0] - here[0])


def _from_top_left(points: Sequence[Point]) -> list[Point]:
    first = min(range(4), key=lambda i: (sum(points[i]), points[i][1]))
    return [points[(first + i) % 4] for i in range(4)]


def _four(points: Sequence[Point]) -> Corners:
    first, second, third, fourth = points
    return first, second, third, fourth


def _not_drawn(why: str, todo: str) -> InvalidValue:
    return InvalidValue(Sentence("The outline was not taken"), why, todo)
