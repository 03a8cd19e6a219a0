"""Prints that touch, as a small network tells them apart: of each side the edge that the prints share.

Convention (see `conventions`): corners in pixels of the middle copy, clockwise.

Method. The network's outlines tell how many prints there are and roughly where. Beside each side edges are seen:
the paper's, the frame of the picture inside its border, the neighbour's. One edge a side is chosen so that
together each is seen from end to end, neighbours meet at one seam, and prints of one scan are of one size where
they can be; from a first choice, single sides and the two sides of a seam are changed while that gains (iterated
conditional modes, Besag 1986).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import product

import cv2
import numpy as np
from attrs import evolve, frozen
from numpy.typing import NDArray

from solander.imaging.conventions import Quad
from solander.imaging.edges import Strip, coherent_edges, cut_strip, meet
from solander.imaging.rectangles import CHANGE
from solander.imaging.seams import ENDS, WIDEST_BORDER, Edge, Mask, edges_beside, face, free_ground, last_edge
from solander.imaging.search import Candidate, Scene

__all__ = ["told_apart"]

Floats = NDArray[np.float64]
Side = tuple[int, int]

MOST_EDGES = 9
"""Edges of one side that are considered."""


def told_apart(scene: Scene, rough: Sequence[Quad], blob: Mask) -> list[Candidate]:
    """The prints of a blob (of the middle copy's size) near their rough outlines, each side at an edge; as many as
    are given, or none where an outline falls apart."""
    prints = [Candidate(quad, (0.0, 0.0, 0.0, 0.0), 1.0) for quad in rough]
    for turns in TURNS:
        layout = _layout(scene, prints, blob, turns)
        choice = _settled(layout)
        prints = [_print(layout, choice, k) for k in range(len(prints))]
    return prints


TURNS = (12, 4, 4)
"""Pixels by which edges may turn against the outlines so far, round by round: the strips are cut again along the
outlines found before, for along rough ones a long edge is blurred."""


@frozen(eq=False)
class Layout:
    """What a choice is made of: the prints, each side's edges, which sides face, how far apart their edges are.

    `gaps[side, other][a, b]` tells how far edge b of the other side lies outside edge a (px, negative inside).
    """

    prints: Sequence[Candidate]
    edges: dict[Side, list[Edge]]
    gaps: dict[tuple[Side, Side], Floats]
    sizes: Floats

    def facing(self, side: Side) -> Iterator[Side]:
        """The sides that run against a side."""
        return (other for one, other in self.gaps if one == side)


Chosen = dict[Side, int]


def _layout(scene: Scene, prints: Sequence[Candidate], blob: Mask, turns: int) -> Layout:
    sides = list(product(range(len(prints)), range(4)))
    pairs = [
        (one, other) for one in sides for other in sides
        if one[0] != other[0] and face(prints[one[0]], one[1], prints[other[0]], other[1])
    ]  # fmt: skip
    met = {one for one, _ in pairs}
    edges = {}
    for side in sides:
        others = [p for k, p in enumerate(prints) if k != side[0]]
        seen = edges_beside(scene, prints[side[0]], side[1], turns=turns, crest_px=CREST)
        if side not in met:
            last = last_edge(prints[side[0]], side[1], seen, free_ground(scene, blob, others))
            seen = [] if last is None else [last]
        else:
            seen = _to_the_ends(scene, prints[side[0]], side[1], seen)
        edges[side] = _distinct(seen)[:MOST_EDGES] or [_as_it_was(prints, side)]
    gaps = {(one, other): _gaps(edges[one], edges[other]) for one, other in pairs}
    return Layout(prints, edges, gaps, np.array([_size(p.quad) for p in prints]))


def _to_the_ends(scene: Scene, part: Candidate, i: int, edges: Sequence[Edge]) -> list[Edge]:
    """The edges, less worth where they aren't seen up to the side's ends: the frame of a picture stops there."""
    start, end = part.quad[i], part.quad[(i + 1) % 4]
    reach = WIDEST_BORDER * float(np.linalg.norm(part.quad[i - 1] - start)) + 20
    strip = cut_strip(scene.middle.lab, (start, end), inward=reach, outward_px=reach, rows=256, ends=ENDS)
    strength = np.concatenate([_corner(strip, slice(0, END)), _corner(strip, slice(-END, None))])
    evidence = cv2.dilate(np.minimum(strength / CHANGE, 1.0), np.ones((1, 3), np.uint8))
    told = []
    for edge in edges:
        off = (edge.points - start) @ strip.outward - strip.across[0]
        columns = np.clip(np.rint(np.repeat(off, END // 4)).astype(int), 0, evidence.shape[1] - 1)
        seen = evidence[np.arange(len(columns)), columns].reshape(2, -1).mean(axis=1)
        told.append(evolve(edge, merit=edge.merit * (0.25 + 0.75 * float(0.5 * seen.min() + 0.5 * seen.mean()))))
    return told


END = 8
"""Rows, of 256 along a side, that are its end: 3 %, a narrow border."""


def _corner(strip: Strip, rows: slice) -> NDArray[np.float32]:
    return coherent_edges(evolve(strip, pixels=strip.pixels[rows]), END // 4)


def _distinct(edges: Sequence[Edge]) -> list[Edge]:
    """The edges, best first, no two within a pixel or so."""
    kept: list[Edge] = []
    for edge in sorted(edges, key=lambda e: -e.merit):
        if all(abs(edge.outside - other.outside) > 1.5 for other in kept):
            kept.append(edge)
    return kept


def _as_it_was(prints: Sequence[Candidate], side: Side) -> Edge:
    quad, i = prints[side[0]].quad, side[1]
    return Edge(np.array([quad[i], quad[(i + 1) % 4]]), 0.0, UNSEEN)


CREST = 3
"""Pixels within which the strongest change is the edge: a seam may run four from the frame of a narrow border."""

UNSEEN = 0.1
"""Merit of a side where no edge is seen."""


def _gaps(ours: Sequence[Edge], theirs: Sequence[Edge]) -> Floats:
    return np.array([[_gap(one, other) for other in theirs] for one in ours])


def _gap(one: Edge, other: Edge) -> float:
    """How far outside an edge another lies, where both are, on average."""
    a, b = one.points
    along = (b - a) / np.linalg.norm(b - a)
    off = other.points - a
    place, away = off @ along, off @ np.array([along[1], -along[0]])
    common = np.clip(place, 0.0, float(np.linalg.norm(b - a)))
    slope = (away[1] - away[0]) / min(-1e-9, place[1] - place[0])
    return float(np.mean(away + slope * (common - place)))


def _size(quad: Quad) -> Floats:
    """Between the middles of the sides that face: sides 1 and 3, sides 0 and 2."""
    middles = (quad + np.roll(quad, -1, axis=0)) / 2
    return np.array([np.linalg.norm(middles[1] - middles[3]), np.linalg.norm(middles[0] - middles[2])])


def _settled(layout: Layout) -> Chosen:
    """The choice that no change of a side or of a seam betters."""
    chosen = dict.fromkeys(layout.edges, 0)
    seams = [pair for pair in layout.gaps if pair[0] < pair[1]]
    groups: list[tuple[Side, ...]] = [*seams, *((side,) for side in layout.edges if len(layout.edges[side]) > 1)]
    for _ in range(MOST_SWEEPS):
        before = dict(chosen)
        for group in groups:
            options = product(*(range(len(layout.edges[side])) for side in group))
            changes = [dict(zip(group, option, strict=True)) for option in options]
            worth = [_worth(layout, {**chosen, **change}, group) for change in changes]
            chosen.update(changes[int(np.argmax(worth))])
        if chosen == before:
            break
    return chosen


MOST_SWEEPS = 4


def _worth(layout: Layout, chosen: Chosen, group: Sequence[Side]) -> float:
    """What a choice is worth as far as the sides of a group bear on it."""
    worth = sum(float(np.log(max(layout.edges[side][chosen[side]].merit, 0.05))) for side in group)
    for side in group:
        for other in layout.facing(side):
            if other not in group or side < other:
                worth += _met(float(layout.gaps[side, other][chosen[side], chosen[other]]))
    sizes = _sizes(layout, chosen)
    for k in {side[0] for side in group}:
        worth += ONE_SIZE * _alike(sizes, k)
    return worth


def _met(gap: float) -> float:
    """What it is worth that the edges of two prints are so far apart: best is one seam; paper hardly overlaps."""
    if abs(gap) <= SEAM:
        return 0.0
    return -APART * min(1.0, gap / WIDE) if gap > 0 else -APART * min(2.0, -gap / SEAM)


SEAM = 2.0
"""Pixels at the middle size between two edges that are one seam."""

WIDE = 12.0
"""Pixels between prints from which they don't touch."""

APART = 1.0
"""Worth lost where prints that face don't meet: as much as an edge seen on three quarters of a side loses."""

ONE_SIZE = 0.5
"""Worth of a print of another one's size: less than any edge that stops well short of a side's end loses."""


def _sizes(layout: Layout, chosen: Chosen) -> Floats:
    """Width and height of each print as chosen."""
    moved = np.array(
        [[layout.edges[k, i][chosen[k, i]].outside for i in range(4)] for k in range(len(layout.prints))]
    )
    return np.asarray(
        layout.sizes + np.stack([moved[:, 1] + moved[:, 3], moved[:, 0] + moved[:, 2]], axis=1), np.float64
    )


def _alike(sizes: Floats, k: int) -> float:
    """How nearly a print is of the size of any other, upright or across (0–1)."""
    one, others = np.sort(sizes[k]), np.sort(np.delete(sizes, k, axis=0), axis=1)
    if not len(others):
        return 0.0
    off = np.abs(others / one - 1).max(axis=1).min()
    return float(np.exp(-((off / SIZE_SPREAD) ** 2)))


SIZE_SPREAD = 0.015
"""Share of a print's side by which prints of one size differ: trimming and perspective (common practice, no
source)."""


def _print(layout: Layout, chosen: Chosen, k: int) -> Candidate:
    edges = [layout.edges[k, i][chosen[k, i]] for i in range(4)]
    corners = meet([(edge.points[0], edge.points[1]) for edge in edges])
    merit = [edge.merit for edge in edges]
    support = 0.5 * float(np.mean(merit)) + 0.5 * min(merit)
    straight = (0.0, 0.0, 0.0, 0.0)
    return Candidate(layout.prints[k].quad if corners is None else corners, straight, support)
