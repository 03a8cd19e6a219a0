"""Which edges bound the paper: the sides of a rough outline, searched at the middle size.

Convention (see `conventions`): corners in pixels of the middle copy, clockwise; strips as in `edges`, across
positive outside.
"""

from __future__ import annotations

from itertools import product

import numpy as np
from attrs import evolve, frozen

from solander.imaging.choice import Beside, Choice, weigh
from solander.imaging.conventions import Quad, Rgb, area, diagonal
from solander.imaging.edges import Floats, Strip, coherent_edges, cut_strip, meet, vote_lines
from solander.imaging.stage import Reduced, StageModel, to_lab

__all__ = ["Candidate", "Scene", "search"]

SEGMENTS = 12
"""Parts of a side that are judged one by one; within each, changes add up with their sign."""

NOISE_FLOOR = 0.25
"""Lab units a pixel: the least change that a segment's mean is believed to show."""

MOST_BOW = 0.02
"""Largest bow of a side looked for, as a share of its length: a curled sheet seen from above."""

BOW_STEP = 2.0
"""Pixels at the middle size between the bows tried; a segment's evidence reaches a pixel to either side."""


@frozen(eq=False)
class Scene:
    """The capture at its three sizes, with the stage model of the smallest."""

    full: Rgb
    middle: Reduced
    coarse: Reduced
    stage: StageModel


@frozen(eq=False)
class Side:
    """One side's edge: where its chord starts and ends, the choice that it is, and the noise it was seen in."""

    start: Floats
    end: Floats
    chosen: Choice
    noise: float


@frozen(eq=False)
class Candidate:
    """An outline at the middle size, how far each side bows out (pixels), and the support of its four sides.

    `rival` is the next best outline by other edges beside the same sides, `margin` the merit by which it is
    behind (a logarithm of odds; infinite without a rival).
    """

    quad: Quad
    bows: tuple[float, ...]
    support: float
    sides: tuple[Choice, ...] = ()
    rival: Candidate | None = None
    margin: float = np.inf


def search(scene: Scene, rough: Quad) -> Candidate | None:
    """The outline that the edges around a rough one bear out, with its rival; or None."""
    quad = scene.middle.from_full(scene.coarse.to_full(rough))
    wide = [_sides(scene, (quad[i], quad[(i + 1) % 4]), quad) for i in range(4)]
    if not all(wide):
        return None
    combined = _combinations(wide)
    if not combined:
        return None
    best = _closely(scene, *combined[0][1:])
    if best is None:
        return None
    for merit, corners, sides in combined[1:]:
        if _differ(corners, combined[0][1]):
            rival = _closely(scene, corners, sides)
            if rival is not None and _differ(rival.quad, best.quad):
                return evolve(best, rival=rival, margin=combined[0][0] - merit)
    return best


BEST_OF_SIDE = 3
"""Edges of a side that are combined with those of the others."""

FAR_BEHIND = 6.0
"""Merit below the best from which an edge or an outline is no rival: 1 to 400."""

DIFFERENT = 0.004
"""Share of the diagonal by which two outlines' corners must differ somewhere to be two answers."""


def _combinations(wide: list[list[Side]]) -> list[tuple[float, Quad, tuple[Side, ...]]]:
    """Outlines of one edge a side, best first."""
    kept = []
    for sides in wide:
        ranked = sorted(sides, key=lambda s: -s.chosen.merit)[:BEST_OF_SIDE]
        kept.append([s for s in ranked if s.chosen.merit > ranked[0].chosen.merit - FAR_BEHIND])
    ranked_sets = sorted(product(*kept), key=lambda four: -sum(s.chosen.merit for s in four))
    combined = []
    for four in ranked_sets[:12]:
        corners = meet([(s.start, s.end) for s in four])
        if corners is not None:
            combined.append((sum(s.chosen.merit for s in four), corners, four))
    best = combined[0][0] if combined else 0.0
    return [c for c in combined if c[0] > best - FAR_BEHIND]


def _differ(one: Quad, other: Quad) -> bool:
    return bool(np.linalg.norm(one - other, axis=1).max() > DIFFERENT * diagonal(one))


def _closely(scene: Scene, quad: Quad, sides: tuple[Side, ...]) -> Candidate | None:
    """The outline searched again near its sides, bows and all."""
    chosen = []
    for i, side in enumerate(sides):
        near = _sides(scene, (quad[i], quad[(i + 1) % 4]), quad, noise=side.noise)
        if not near:
            return None
        chosen.append(max(near, key=lambda s: s.chosen.merit))
    corners = meet([(s.start, s.end) for s in chosen])
    if corners is None:
        return None
    cover = np.array([s.chosen.line.coverage for s in chosen])
    beyond = np.array([max(s.chosen.beyond, w.chosen.beyond) for s, w in zip(chosen, sides, strict=True)])
    support = float((0.5 * cover.mean() + 0.5 * cover.min()) * (0.4 + 0.6 * beyond.mean()))
    bows = tuple(s.chosen.line.bow for s in chosen)
    return Candidate(corners, bows, support, tuple(w.chosen for w in sides))


def _sides(scene: Scene, side: tuple[Floats, Floats], quad: Quad, *, noise: float | None = None) -> list[Side]:
    """The edges near one side, weighed: widely at first, closely once the `noise` is known."""
    bows = _bows(side, close=noise is not None)
    wide = max(18.0, 0.14 * float(np.sqrt(area(quad))))
    inside, beyond_px = (18.0, wide) if noise is None else (5.0 + bows[-1], 6.0 + bows[-1])
    strip = cut_strip(scene.middle.rgb, side, inward=inside, outward_px=beyond_px, rows=SEGMENTS * 8)
    strip = evolve(strip, pixels=to_lab(strip.pixels))
    strength = coherent_edges(strip, SEGMENTS)
    used = noise or max(NOISE_FLOOR, float(np.median(strength[:, strip.across > 0])))
    lines = vote_lines(strength, strip, reach=10 if noise is None else 3, bows=bows, noise=used)
    found = []
    for choice in weigh(strip, lines, _stage_beside(scene, strip)):
        line = choice.line
        ends = strip.points(np.array([-1.0, 1.0]), line.middle + line.slope * np.array([-1.0, 1.0]))
        found.append(Side(ends[0], ends[1], choice, used))
    return found


def _bows(side: tuple[Floats, Floats], *, close: bool) -> tuple[float, ...]:
    """The bows tried on a side, ascending: three in the wide search, all in steps in the close one."""
    most = MOST_BOW * float(np.linalg.norm(side[1] - side[0]))
    if not close:
        return (-0.6 * most, 0.0, 0.6 * most) if most > 2 * BOW_STEP else (0.0,)
    steps = int(most / BOW_STEP)
    return tuple(BOW_STEP * step for step in range(-steps, steps + 1))


def _stage_beside(scene: Scene, strip: Strip) -> Beside:
    """The stage's colour and spread at every second row of a strip and every column."""
    along, across = strip.along[::2], strip.across
    grid = strip.points(np.repeat(along, len(across)), np.tile(across, len(along)))
    coarse = np.rint(scene.coarse.from_full(scene.middle.to_full(grid))).astype(int)
    height, width = scene.stage.distance.shape
    column, row = np.clip(coarse[:, 0], 0, width - 1), np.clip(coarse[:, 1], 0, height - 1)
    shape = (len(along), len(across), 3)
    spread = np.broadcast_to(scene.stage.spread_at(row, column), (row.size, 3)).reshape(shape)
    return Beside(scene.stage.colour[row, column].reshape(shape), spread)
