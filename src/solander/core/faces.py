"""Faces in prints: where they are on the paper, which look alike, and what a person said of them.

A box is kept in shares of the paper as the print lay (turn 0), so that turning a print moves no face; `Box.turned`
gives it as the print is shown. Who somebody is, only a person says.
"""

from __future__ import annotations

from collections.abc import Sequence
from enum import StrEnum

from attrs import frozen

__all__ = ["LEAST", "Aside", "Box", "Face", "NamedFace", "Point", "from_left"]

Point = tuple[float, float]

LEAST = 0.004
"""Share of the paper's width and height below which a box is no face: half a millimetre of a print that is 13 cm
long (our own choice)."""


@frozen
class Box:
    """A rectangle in shares of a picture's width and height: 0, 0 is its outer top left, 1, 1 its bottom right."""

    left: float
    top: float
    width: float
    height: float

    def turned(self, turn: int) -> Box:
        """The same place after so many quarter turns clockwise."""
        box = self
        for _ in range(turn % 4):
            box = Box(1 - box.top - box.height, box.left, box.height, box.width)
        return box

    def overlap(self, other: Box) -> float:
        """Intersection over union, 0–1."""
        across = min(self.left + self.width, other.left + other.width) - max(self.left, other.left)
        down = min(self.top + self.height, other.top + other.height) - max(self.top, other.top)
        both = max(across, 0.0) * max(down, 0.0)
        either = self.width * self.height + other.width * other.height - both
        return both / either if either > 0 else 0.0

    def on_paper(self) -> Box | None:
        """The part of it that lies on the picture; None where its middle does not, or hardly anything is left."""
        across, down = self.left + self.width / 2, self.top + self.height / 2
        if not (0 <= across <= 1 and 0 <= down <= 1):
            return None
        left, top = max(self.left, 0.0), max(self.top, 0.0)
        right, bottom = min(self.left + self.width, 1.0), min(self.top + self.height, 1.0)
        if right - left < LEAST or bottom - top < LEAST:
            return None
        return Box(left, top, right - left, bottom - top)


class Aside(StrEnum):
    """What a person said of a face instead of a name."""

    NO_PERSON = "no-person"  # the finder was wrong
    STRANGER = "stranger"  # somebody, but nobody whom this collection asks about
    LATER = "later"  # not now: it comes last


@frozen
class Face:
    """A face in a view.

    `box` and `points` (both eyes, nose, corners of the mouth, the person's right first) are shares of the paper as
    the print lay; `score` is the finder's, 0–1, None where a person drew the box. `group` is the number that faces
    which look alike have in common. `person` is the heading of whom a person named here; `by` who said so.
    """

    key: str
    view: str
    box: Box
    points: tuple[Point, ...] = ()
    score: float | None = None
    group: int | None = None
    person: str = ""
    aside: Aside | None = None
    by: str = ""

    @property
    def is_asked_about(self) -> bool:
        """Whether it waits for a name."""
        return not self.person and self.aside in (None, Aside.LATER)

    @property
    def is_shown(self) -> bool:
        """Whether it is somebody's face as far as anybody knows."""
        return self.aside is not Aside.NO_PERSON


@frozen
class NamedFace:
    """A face as it is handed over: the heading of who it is, and the box as the picture is shown."""

    person: str
    box: Box


def from_left(face: Face, others: Sequence[Face], *, turn: int) -> tuple[int, int]:
    """Which one it is of how many, counted from the left as the print is shown: (2, 5) is the second of five."""
    places = sorted(others, key=lambda one: (_middle(one.box.turned(turn)), one.key))
    return 1 + [one.key for one in places].index(face.key), len(places)


def _middle(box: Box) -> float:
    return box.left + box.width / 2
