"""A treatment carried from a view to the one that takes its place: turned, or cut out along another outline.

Places are shares of the view, so they move with it. What can't be carried is switched off and told, never dropped
in silence: the step stays in the list, and a person sets it anew.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from attrs import evolve, frozen

from solander.core.errors import InvalidValue
from solander.core.treatments import Step, Treatment

__all__ = ["Carried", "Way", "carried", "turned_way"]

Point = tuple[float, float]
Parameters = dict[str, Any]


@frozen
class Way:
    """How places come from the view before to the one after.

    `places` takes points (x, y), shares of the one, to the other. `linear` are the two rows of the matrix that
    takes frequencies in cycles per pixel along; `wider` is what a length, a share of the longer side, is
    multiplied by. `quarters` tells how often the view was turned clockwise; None when it was cut out anew.
    """

    places: Callable[[Sequence[Point]], Sequence[Point]]
    linear: tuple[Point, Point]
    wider: float = 1.0
    quarters: int | None = None


@frozen
class Carried:
    """The treatment of the view after, and the steps that are switched off because they could not be carried."""

    treatment: Treatment
    off: tuple[Step, ...] = ()


def turned_way(quarters: int) -> Way:
    """The way of a view that is turned by so many quarters clockwise."""

    def once(point: Point) -> Point:
        return 1 - point[1], point[0]

    def places(points: Sequence[Point]) -> Sequence[Point]:
        for _ in range(quarters % 4):
            points = [once(point) for point in points]
        return points

    rows = {0: ((1, 0), (0, 1)), 1: ((0, -1), (1, 0)), 2: ((-1, 0), (0, -1)), 3: ((0, 1), (-1, 0))}
    return Way(places, rows[quarters % 4], quarters=quarters % 4)


def carried(treatment: Treatment, way: Way) -> Carried:
    """The treatment as it is for the view at the end of the way."""
    steps, off = [], []
    straightened = any(step.name in ("keystone", "fine turn") for step in treatment.applied)
    for step in treatment:
        parameters = _along(step, way, straightened=straightened)
        try:
            moved = None if parameters is None else evolve(step, parameters=parameters)
        except InvalidValue:
            moved = None
        if moved is None and step.on:
            off.append(step)
        steps.append(moved or evolve(step, on=False))
    return Carried(Treatment(tuple(steps)), tuple(off))


def _along(step: Step, way: Way, *, straightened: bool) -> Parameters | None:
    """The step's parameters there; None where they mean nothing there."""
    given = dict(step.parameters)
    if step.name == "crop" and straightened and way.quarters is None:
        return None  # its box is one of a picture that is straightened by another step, which does not hold there
    move = _MOVED.get(step.name)
    return move(given, way) if move else given


def _marks(given: Parameters, way: Way) -> Parameters | None:
    strokes = []
    for x1, y1, x2, y2, width in given["strokes"]:
        ends = way.places([(x1, y1), (x2, y2)])
        if all(map(_is_on_paper, ends)):
            strokes.append((*ends[0], *ends[1], min(1.0, width * way.wider)))
    return {"strokes": strokes} if strokes else None


def _texture(given: Parameters, way: Way) -> Parameters:
    (a, b), (c, d) = way.linear
    peaks = [(a * x + b * y, c * x + d * y) for x, y in given["peaks"]]
    return {**given, "peaks": [(-x, -y) if y < 0 else (x, y) for x, y in peaks]}


def _picked(given: Parameters, way: Way) -> Parameters:
    """What was measured at a place holds when the place itself lies outside."""
    if "place" not in given:
        return given
    (place,) = way.places([given.pop("place")])
    return {**given, "place": place} if _is_on_paper(place) else given


def _crop(given: Parameters, way: Way) -> Parameters:
    left, top, right, bottom = given["box"]
    corners = way.places([(left, top), (right, top), (right, bottom), (left, bottom)])
    across, down = zip(*corners, strict=True)
    return {**given, "box": [_held(side) for side in (min(across), min(down), max(across), max(down))]}


def _keystone(given: Parameters, way: Way) -> Parameters | None:
    if way.quarters is None:
        return None
    corners = list(way.places(given["corners"]))
    return {"corners": corners[-way.quarters :] + corners[: -way.quarters] if way.quarters else corners}


def _fine_turn(given: Parameters, way: Way) -> Parameters | None:
    return given if way.quarters is not None else None


_MOVED: Mapping[str, Callable[[Parameters, Way], Parameters | None]] = {
    "marks": _marks,
    "texture": _texture,
    "fading": _picked,
    "neutral": _picked,
    "keystone": _keystone,
    "fine turn": _fine_turn,
    "crop": _crop,
}
"""Kinds of step that name places, angles or lengths of the view; the others hold for any view of the print."""


def _is_on_paper(place: Point) -> bool:
    return all(0 <= share <= 1 for share in place)


def _held(share: float) -> float:
    return min(1.0, max(0.0, share))
