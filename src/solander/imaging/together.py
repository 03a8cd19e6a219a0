"""Prints that lie together: the sides of all chosen at once.

Convention (see `conventions`): corners in pixels of the middle copy, clockwise; side i runs from corner i on.

Between prints that touch a picture's frame, or the neighbour's, is as plain an edge as the seam, and the network
takes the one for the other now and then. What no side tells by itself all tell together: the prints of one box are
of few sizes, and sheets that touch leave no strip between them. So of each side a few lines are kept, and that
choice of one line a side is sought that is likeliest as a whole: by changing one side, two that face each other,
or both ends of a print with the neighbours there, as long as it gains. Merits are logarithms of odds.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations, product

import numpy as np
from attrs import evolve, frozen
from numpy.typing import NDArray

from solander.imaging.edges import Floats, Pixels, meet, outward
from solander.imaging.seams import STILL, Way, ways_beside, with_sides
from solander.imaging.search import Candidate, Scene

__all__ = ["together"]

Choices = NDArray[np.int_]
"""Which of its lines each side follows: (choices, prints, 4), 0 for its own."""

Place = tuple[int, int]
"""A print and one of its sides."""

ONE_SIZE = 3.0
ALIKE = 0.01
"""Merit of a print that has another's size, and the standard deviation of sizes that are one (logarithms): cut
paper differs by half a millimetre, and a line is placed to a pixel or so."""

TOUCHES = 1.0
APART, OVER = 3.5, 2.5
"""Merit of two sides that touch, and pixels by which they may then lie apart or over one another."""

OWN = 0.7
"""Merit of the line that a side follows already. Of 95 drawn prints that touch 81 came to an IoU of .98 without
all this, 88 with these values, 85 to 87 with sizes alike to .007, or with less for a size or for touching; of 50
more, on which no value was settled, 41 and 42."""

ROUNDS = 4
"""Most times that all changes are tried: it has settled after two or three."""


def together(scene: Scene, edge: Pixels, found: Sequence[Candidate]) -> list[Candidate]:
    """The outlines, in the order given, with the sides that all of them together make likeliest; `edge` is what
    the network tells (`seams.edges_at_middle`). What the search found stays where it faces no other print."""
    if len(found) < 2:
        return list(found)
    lines = _lines(scene, edge, found)
    choice = _likeliest(lines)
    return [_following(scene, edge, *one) for one in zip(found, lines.ways, choice, strict=True)]


@frozen(eq=False)
class _Lines:
    """The lines of every side of every print: `ways`, and the `merits` of each; the logarithms of each print's two
    `sizes` by the lines of the sides 1 and 3, and 0 and 2, that end it; and which lines of two sides that face
    each other are `touching`."""

    ways: list[list[list[Way]]]
    merits: list[list[Floats]]
    sizes: list[tuple[Floats, Floats]]
    touching: dict[tuple[Place, Place], NDArray[np.bool_]]


def _lines(scene: Scene, edge: Pixels, found: Sequence[Candidate]) -> _Lines:
    own = [[Way(one.quad[i], one.quad[(i + 1) % 4], 1.0, 1.0) for i in range(4)] for one in found]
    places = list(product(range(len(found)), range(4)))
    facing = [
        (one, other)
        for one, other in combinations(places, 2)
        if one[0] != other[0] and _gap(own[one[0]][one[1]], own[other[0]][other[1]]) is not None
    ]
    faced = {place for pair in facing for place in pair}
    ways = [
        [
            [own[k][i]] if one.chosen and (k, i) not in faced else ways_beside(scene, edge, one.quad, i)
            for i in range(4)
        ]
        for k, one in enumerate(found)
    ]
    touching = {(one, other): _touching(ways[one[0]][one[1]], ways[other[0]][other[1]]) for one, other in facing}
    merits = [[_merits(of_side) for of_side in four] for four in ways]
    return _Lines(ways, merits, [(_sizes(four, 1), _sizes(four, 0)) for four in ways], touching)


def _merits(ways: list[Way]) -> Floats:
    """Of the lines of a side, its own first."""
    merits = np.log([max(way.worth, 1e-6) for way in ways])
    merits[0] += OWN
    return np.asarray(merits, np.float64)


def _sizes(four: list[list[Way]], i: int) -> Floats:
    """Logarithms of how far side `i` is from the one across, by the lines of both."""
    ahead = four[i][0].end - four[i][0].start + four[i + 2][0].start - four[i + 2][0].end
    out = outward(np.zeros(2), ahead)
    here, across = ([float((way.start + way.end) @ out) / 2 for way in four[k]] for k in (i, i + 2))
    return np.asarray(np.log(np.maximum(np.subtract.outer(here, across), 1.0)), np.float64)


def _touching(ways: list[Way], others: list[Way]) -> NDArray[np.bool_]:
    gaps = [[_gap(way, other) for other in others] for way in ways]
    return np.array([[gap is not None and -OVER <= gap <= APART for gap in row] for row in gaps])


def _gap(one: Way, other: Way) -> float | None:
    """How far two sides lie apart where they are nearest (pixels, negative where one lies over the other); None
    where they don't face each other."""
    length, far = float(np.linalg.norm(one.end - one.start)), float(np.linalg.norm(other.end - other.start))
    ahead = (one.end - one.start) / length
    ends = np.array([other.end, other.start]) - one.start
    along = ends @ ahead
    low, high = max(0.0, float(along[0])), min(length, float(along[1]))
    if (along[1] - along[0]) / far < PARALLEL or high - low < BESIDE * min(length, far):
        return None
    gap = float(np.interp([low, high], along, ends @ outward(one.start, one.end)).min())
    return gap if abs(gap) < NEAR * min(length, far) else None


PARALLEL, BESIDE, NEAR = 0.995, 0.2, 0.12
"""Cosine of the angle between two sides that face each other, share of the shorter that lies beside the other, and
share of it by which they may be apart."""


def _likeliest(lines: _Lines) -> NDArray[np.int_]:
    """The line of each side, (prints, 4), that no change of a few betters."""
    now = np.zeros((len(lines.ways), 4), int)
    merit, changes = float(_together(lines, now[None])[0]), _changes(lines)
    for _ in range(ROUNDS):
        before = merit
        for change in changes:
            tried = _tried(lines, now, change)
            merits = _together(lines, tried)
            if merits.max() > merit + LEAST_GAIN:
                merit, now = float(merits.max()), tried[int(merits.argmax())]
        if merit == before:
            break
    return now


LEAST_GAIN = 1e-6
"""Merit that is more than a sum's rounding."""

AT_ONCE = 5
"""Sides that are changed at once at most, or there would be too many choices."""


def _changes(lines: _Lines) -> list[list[Place]]:
    """The sides that are changed together: each alone, two that face each other, both ends of a print with one
    neighbour of each."""
    beside: dict[Place, Place] = {}
    for one, other in lines.touching:
        beside.setdefault(one, other)
        beside.setdefault(other, one)
    changes = [[place] for place in product(range(len(lines.ways)), range(4))]
    changes += [list(pair) for pair in lines.touching]
    for k, i in product(range(len(lines.ways)), range(2)):
        ends = [(k, i), (k, i + 2)]
        changes.append((ends + [beside[end] for end in ends if end in beside])[:AT_ONCE])
    return changes


def _tried(lines: _Lines, now: NDArray[np.int_], change: list[Place]) -> Choices:
    """All choices that differ in the lines of these sides only."""
    several = np.array(list(product(*(range(len(lines.ways[k][i])) for k, i in change))))
    tried = np.repeat(now[None], len(several), axis=0)
    for column, (k, i) in enumerate(change):
        tried[:, k, i] = several[:, column]
    return tried


def _together(lines: _Lines, tried: Choices) -> Floats:
    """Merit of each choice: that of its lines, of prints of one size, of sides that touch."""
    sizes = np.zeros((*tried.shape[:2], 2))
    merits = np.zeros(len(tried))
    for k, four in enumerate(lines.merits):
        merits += sum(of_side[tried[:, k, i]] for i, of_side in enumerate(four))
        for axis, i in enumerate((1, 0)):
            sizes[:, k, axis] = lines.sizes[k][axis][tried[:, k, i], tried[:, k, i + 2]]
    for (one, other), touch in lines.touching.items():
        merits += TOUCHES * touch[tried[:, one[0], one[1]], tried[:, other[0], other[1]]]
    away = _unlike(sizes)
    return np.asarray(merits + np.log1p(np.exp(ONE_SIZE - 0.5 * (away / ALIKE) ** 2)).sum(axis=1), np.float64)


def _unlike(sizes: Floats) -> Floats:
    """By how much each print's sizes (choices, prints, 2) differ from those of the print most like it, upright or
    turned."""
    upright, turned = (np.abs(sizes[:, :, None] - of[:, None]).max(axis=-1) for of in (sizes, sizes[..., ::-1]))
    away = np.minimum(upright, turned)
    itself = np.arange(sizes.shape[1])
    away[:, itself, itself] = np.inf
    return np.asarray(away.min(axis=-1), np.float64)


def _following(
    scene: Scene, edge: Pixels, one: Candidate, ways: list[list[Way]], chosen: NDArray[np.int_]
) -> Candidate:
    """The outline whose sides follow the lines chosen; itself where these are its own, or are hardly seen."""
    if not chosen.any():
        return one
    corners = meet([(ways[i][k].start, ways[i][k].end) for i, k in enumerate(chosen)])
    moved = None if corners is None else with_sides(scene, edge, corners, rounds=(STILL,))
    return one if moved is None or moved.support < LEAST else evolve(moved, doubted=one.doubted)


LEAST = 0.5
"""Support below which an outline with other sides is not believed before its own."""
