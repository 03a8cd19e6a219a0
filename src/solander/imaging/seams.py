"""Where the sides of touching prints run: at the seam between them, at the outermost edge elsewhere.

Convention (see `conventions`): corners in pixels of the middle copy, clockwise.

A print with a white border shows two edges along each side, the border's and the picture's frame, and beside it
those of its neighbour. Seen from one print, its own frame stops short of the side's ends; what is an edge for both
neighbours is the seam.
"""

from __future__ import annotations

from collections.abc import Sequence

import cv2
import numpy as np
from attrs import evolve, frozen
from numpy.typing import NDArray

from solander.imaging.edges import Line, Strip, coherent_edges, cut_strip, meet
from solander.imaging.rectangles import CHANGE
from solander.imaging.search import Candidate, Scene

__all__ = ["ENDS", "Edge", "edges_beside", "face", "free_ground", "last_edge", "plain_lines", "to_their_edges"]

Mask = NDArray[np.uint8]
Floats = NDArray[np.float64]

ENDS = 0.005
"""Share of a side left out at its ends: seams reach them, the frames of pictures within borders don't."""

SEGMENTS = 32
"""Parts of a side judged one by one: the narrowest border is about one long."""

STILL_TURNS = 4
"""Pixels by which a line may turn at its ends against a side that is nearly right."""


def plain_lines(strip: Strip, *, turns: int = STILL_TURNS, crest_px: int = 5) -> list[Line]:
    """Straight lines in a strip, from inside to outside: where an edge is seen on more of its length than beside.
    Lines may turn by `turns` pixels at their ends. A place counts where no stronger change lies within
    `crest_px` around it. Strength is the mean change in multiples of `CHANGE`, at most 1."""
    strength = coherent_edges(strip, SEGMENTS)
    crest = strength >= cv2.dilate(strength, np.ones((1, crest_px), np.uint8))
    seen = cv2.dilate((crest & (strength > 0.7 * CHANGE)).astype(np.float32), np.ones((1, 3), np.uint8))
    plain = np.minimum(cv2.dilate(strength, np.ones((1, 3), np.uint8)) / CHANGE, 1.0)
    middles = 2 * (np.arange(SEGMENTS) + 0.5) / SEGMENTS - 1
    slopes = np.arange(-turns, turns + 1)
    columns = np.arange(strength.shape[1])
    at = np.clip(columns + np.rint(slopes[:, None, None] * middles[:, None]).astype(int), 0, columns[-1])
    row = np.arange(SEGMENTS)[:, None]
    coverage, evidence = seen[row, at].mean(axis=1), plain[row, at].mean(axis=1)
    merit = coverage * evidence - 0.002 * np.abs(slopes)[:, None]
    best = merit.argmax(axis=0)
    top = merit[best, columns]
    highest = cv2.dilate(top[None].astype(np.float32), np.ones((1, 5), np.uint8))[0]
    return [
        Line(float(strip.across[c]), float(slopes[k]), 0.0, float(evidence[k, c]), float(coverage[k, c]))
        for c, k in zip(columns, best, strict=True)
        if top[c] >= highest[c] - 1e-6 and top[c] > 0.3
    ]


@frozen(eq=False)
class Edge:
    """An edge beside a side: its two end points (2, 2), how far outside it lies (px), and its merit (0–1)."""

    points: Floats
    outside: float
    merit: float


def to_their_edges(scene: Scene, parts: Sequence[Candidate], blob: Mask) -> list[Candidate]:
    """The parts of a blob (of the middle copy's size) with each side moved to the edge that bounds the paper."""
    edges = [[edges_beside(scene, part, i) for i in range(4)] for part in parts]
    moved = []
    for k, part in enumerate(parts):
        free = free_ground(scene, blob, [p for p in parts if p is not part])
        sides = []
        for i in range(4):
            facing = [
                edges[other][j]
                for other in range(len(parts)) if other != k
                for j in range(4) if face(part, i, parts[other], j)
            ]  # fmt: skip
            best = _shared_edge(edges[k][i], facing) if facing else last_edge(part, i, edges[k][i], free)
            line = best.points if best else np.array([part.quad[i], part.quad[(i + 1) % 4]])
            sides.append((line[0], line[1]))
        corners = meet(sides)
        moved.append(part if corners is None else evolve(part, quad=corners))
    return moved


WIDEST_BORDER = 0.15
"""Widest border of a picture, as a share of the print."""

PALE = 80.0
"""Lightness of a stage from which a white border may lie outside the blob."""


def free_ground(scene: Scene, blob: Mask, others: Sequence[Candidate]) -> Mask:
    """Where a print may lie: the blob and its rim (everywhere on a white stage) less the other prints."""
    free: Mask = np.asarray(cv2.dilate(blob, np.ones((9, 9), np.uint8)), np.uint8)
    if float(scene.stage.colour[..., 0].mean()) > PALE:
        free[:] = 1
    for other in others:
        cv2.fillConvexPoly(free, np.rint(other.quad * 16).astype(np.int32), (0,), shift=4)
    return free


def edges_beside(
    scene: Scene, part: Candidate, i: int, *, turns: int = STILL_TURNS, crest_px: int = 5
) -> list[Edge]:
    """The edges beside side `i`, from inside to outside."""
    start, end = part.quad[i], part.quad[(i + 1) % 4]
    reach = WIDEST_BORDER * float(np.linalg.norm(part.quad[i - 1] - start))
    strip = cut_strip(scene.middle.lab, (start, end), inward=reach, outward_px=reach, rows=96, ends=ENDS)
    ends = np.array([-1.0, 1.0])
    return [
        Edge(strip.points(ends, line.middle + line.slope * ends), line.middle, line.strength * line.coverage**4)
        for line in plain_lines(strip, turns=turns, crest_px=crest_px)
    ]


def face(one: Candidate, i: int, other: Candidate, j: int) -> bool:
    """Whether side `j` of another part runs against side `i` of this one, within a border's width."""
    a, b = one.quad[i], one.quad[(i + 1) % 4]
    c, d = other.quad[j], other.quad[(j + 1) % 4]
    along = (b - a) / np.linalg.norm(b - a)
    if along @ (d - c) > -0.98 * np.linalg.norm(d - c):
        return False
    gap = abs(float(along[0] * ((c + d) / 2 - a)[1] - along[1] * ((c + d) / 2 - a)[0]))
    low, high = sorted((float((c - a) @ along), float((d - a) @ along)))
    length = float(np.linalg.norm(b - a))
    together = min(high, length) - max(low, 0.0)
    depth = min(float(np.linalg.norm(p.quad[k - 1] - p.quad[k])) for p, k in ((one, i), (other, j)))
    return together > 0.25 * min(length, high - low) and gap < WIDEST_BORDER * depth


def _shared_edge(edges: Sequence[Edge], facing: Sequence[Sequence[Edge]]) -> Edge | None:
    """The edge that is best for this side and for those that face it; of the two sides of a gap the nearer one."""
    worth = []
    for edge in edges:
        merit = edge.merit * (1.0 if abs(edge.outside) <= STILL else MOVED)
        for theirs in facing:
            merit *= max((one.merit for one in theirs if _same(edge, one)), default=LONELY)
        worth.append(merit)
    best = max(worth, default=0.0)
    if best <= 0:
        return None
    top = edges[worth.index(best)]
    return next(
        edge for edge, merit in zip(edges, worth, strict=True)
        if merit >= NEARLY * best and edge.outside > top.outside - GAP
    )  # fmt: skip


STILL = 2.0
MOVED = 0.85
"""What an edge counts that is more than `STILL` pixels away from where the rectangles put the side."""

GAP = 8.0
"""Pixels across the widest gap between prints that touch."""

LONELY = 0.3
"""Merit of an edge for a neighbour that doesn't see it."""

SAME = 5.0
"""Pixels within which two edges are one seam: a hair of shadow has two sides."""


def _same(one: Edge, other: Edge) -> bool:
    """Whether two edges lie in one line where both are."""
    a, b = one.points
    along = (b - a) / np.linalg.norm(b - a)
    share = np.clip((other.points - a) @ along, 0.0, float(np.linalg.norm(b - a)))
    c, d = other.points
    other_along = (d - c) / np.linalg.norm(d - c)
    for at in a + along * share[:, None]:
        away = at - c
        if abs(float(other_along[0] * away[1] - other_along[1] * away[0])) > SAME:
            return False
    return True


def last_edge(part: Candidate, i: int, edges: Sequence[Edge], free: Mask) -> Edge | None:
    """The outermost good edge before other ground begins."""
    within = _within(part, i, edges, free)
    best = max((edge.merit for edge in within), default=0.0)
    good = [edge for edge in within if edge.merit > NEARLY * best]
    return good[-1] if good else None


def _within(part: Candidate, i: int, edges: Sequence[Edge], free: Mask) -> list[Edge]:
    """The edges before other ground begins."""
    side = (part.quad[i], part.quad[(i + 1) % 4])
    reach = WIDEST_BORDER * float(np.linalg.norm(part.quad[i - 1] - part.quad[i]))
    ground = cut_strip(free[..., None], side, inward=0.0, outward_px=reach, rows=24).pixels[..., 0].mean(axis=0)
    taken = np.nonzero(ground[2:] < 0.5)[0]
    limit = (float(taken[0]) if len(taken) else reach) + 4
    return [edge for edge in edges if edge.outside < limit]


NEARLY = 0.85
"""Share of the best edge's merit from which one further out is preferred to it."""
