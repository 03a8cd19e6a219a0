"""Keeps the treatment of a print where its view gives way to another: turned, or cut out along another outline."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np
from attrs import evolve
from numpy.typing import NDArray

from solander.core.prints import View
from solander.core.sentence import Joined, Listed, Sentence
from solander.core.treatment_carried import Carried, Way, carried, turned_way
from solander.tasks.carry_faces import in_view
from solander.tasks.collection import Collection

__all__ = ["carry_treatment", "turned_with_treatment", "with_what_is_off"]

NEAR = 0.01
"""Share of the view around its middle by which it is told how much larger the new view shows things."""

Point = tuple[float, float]


def turned_with_treatment(view: View, turned: View) -> View:
    """The turned view with the treatment of the view, turned alike; nothing of it is lost."""
    way = turned_way(turned.turn - view.turn)
    return evolve(turned, treatment=carried(view.treatment, way).treatment)


def carry_treatment(collection: Collection, old: View, new: View) -> tuple[View, Carried]:
    """The new view with the old one's treatment, as far as it can be carried; both show one side of one print."""
    capture = collection.catalogue.capture(old.capture)
    if not old.treatment.steps or capture is None or new.key == old.key:
        return evolve(new, treatment=old.treatment), Carried(old.treatment)
    done = carried(old.treatment, _way(old, new, (capture.width, capture.height)))
    return evolve(new, treatment=done.treatment), done


def with_what_is_off(what: str, done: Carried) -> str:
    """The sentence of an act, with the steps that it switched off: nobody is to find that out by looking."""
    if not done.off:
        return what
    off = Sentence(
        "of its treatment “%(steps)s” is off until it is set anew", steps=Listed(step.told for step in done.off)
    )
    return Joined([what, off], "; ")


def _way(old: View, new: View, frame: tuple[int, int]) -> Way:
    before, after = in_view(old, frame), in_view(new, frame)

    def places(points: Sequence[Point]) -> Sequence[Point]:
        laid = turned_way(-old.turn).places(points)
        there = after.shares(before.seen(np.array(laid, np.float64)))
        return turned_way(new.turn).places([(float(x), float(y)) for x, y in there])

    pixels = _pixels(places, old, new)
    (a, b), (c, d) = np.linalg.inv(pixels).T.tolist()
    larger = float(np.sqrt(abs(np.linalg.det(pixels))))
    return Way(places, ((a, b), (c, d)), wider=larger * max(old.width, old.height) / max(new.width, new.height))


def _pixels(places: Callable[[Sequence[Point]], Sequence[Point]], old: View, new: View) -> NDArray[np.float64]:
    """The (2, 2) matrix that takes steps in pixels (x, y) of the old view to the new one, around its middle."""
    middle, right, below = np.array(places([(0.5, 0.5), (0.5 + NEAR, 0.5), (0.5, 0.5 + NEAR)]))
    steps = np.array([(right - middle) / (NEAR * old.width), (below - middle) / (NEAR * old.height)])
    return np.asarray((steps * (new.width, new.height)).T, np.float64)
