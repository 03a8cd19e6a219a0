"""Which edges bound the paper: the sides of a rough outline, searched at the middle size.

Convention (see `conventions`): corners in pixels of the middle copy, clockwise; strips as in `edges`, across
positive outside.
"""

from __future__ import annotations

import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from solander.imaging.conventions import Quad, Rgb, area
from solander.imaging.edges import Floats, Line, Strip, coherent_edges, cut_strip, meet, vote_lines
from solander.imaging.stage import STAGE_LIKE, Reduced, StageModel, shadowed, stage_distance

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
    """One side's chosen edge: where its chord starts and ends, its bow, and what speaks for it (0–1 each)."""

    start: Floats
    end: Floats
    bow: float
    coverage: float
    outside: float
    noise: float


@frozen(eq=False)
class Candidate:
    """An outline at the middle size, how far each side bows out (pixels), and the support of its four sides."""

    quad: Quad
    bows: tuple[float, ...]
    support: float


def search(scene: Scene, rough: Quad) -> Candidate | None:
    """The outline that the edges around a rough one bear out, or None."""
    quad = scene.middle.from_full(scene.coarse.to_full(rough))
    sides: list[Side] = []
    for _ in range(2):
        noises: list[float | None] = [side.noise for side in sides] or [None] * 4
        around = [(quad[i], quad[(i + 1) % 4], noises[i]) for i in range(4)]
        sides = [s for a, b, noise in around if (s := _search_side(scene, (a, b), quad, noise=noise))]
        if len(sides) < 4:
            return None
        corners = meet([(s.start, s.end) for s in sides])
        if corners is None:
            return None
        quad = corners
    cover = np.array([s.coverage for s in sides])
    beyond = np.array([s.outside for s in sides])
    support = float((0.5 * cover.mean() + 0.5 * cover.min()) * (0.4 + 0.6 * beyond.mean()))
    return Candidate(quad, tuple(s.bow for s in sides), support)


def _search_side(
    scene: Scene, side: tuple[Floats, Floats], quad: Quad, *, noise: float | None = None
) -> Side | None:
    """The edge that bounds the paper near one side: widely at first, closely once the `noise` is known."""
    bows = _bows(side, close=noise is not None)
    wide = max(18.0, 0.14 * float(np.sqrt(area(quad))))
    inside, beyond_px = (18.0, wide) if noise is None else (5.0 + bows[-1], 6.0 + bows[-1])
    strip = cut_strip(scene.middle.lab, side, inward=inside, outward_px=beyond_px, rows=SEGMENTS * 8)
    strength = coherent_edges(strip, SEGMENTS)
    used = noise or max(NOISE_FLOOR, float(np.median(strength[:, strip.across > 0])))
    lines = vote_lines(strength, strip, reach=10 if noise is None else 3, bows=bows, noise=used)
    chosen = _outermost(scene, strip, lines)
    if chosen is None:
        return None
    line, beyond = chosen
    ends = strip.points(np.array([-1.0, 1.0]), line.middle + line.slope * np.array([-1.0, 1.0]))
    return Side(ends[0], ends[1], line.bow, line.coverage, beyond, used)


def _bows(side: tuple[Floats, Floats], *, close: bool) -> tuple[float, ...]:
    """The bows tried on a side, ascending: three in the wide search, all in steps in the close one."""
    most = MOST_BOW * float(np.linalg.norm(side[1] - side[0]))
    if not close:
        return (-0.6 * most, 0.0, 0.6 * most) if most > 2 * BOW_STEP else (0.0,)
    steps = int(most / BOW_STEP)
    return tuple(BOW_STEP * step for step in range(-steps, steps + 1))


def _outermost(scene: Scene, strip: Strip, lines: list[Line]) -> tuple[Line, float] | None:
    """The outermost line that is seen well, has stage beyond it and is no shadow's edge."""
    if not lines:
        return None
    seen = _stage_beyond(scene, strip, lines)
    merit = [
        min(line.strength / PLAIN, 1.0) * line.coverage * (0.1 + 0.9 * beyond) * (0.4 + 0.6 * departs)
        for line, (beyond, departs) in zip(lines, seen, strict=True)
    ]
    good = [(line, s[0]) for line, s, m in zip(lines, seen, merit, strict=True) if m >= RIVAL * max(merit)]
    while len(good) > 1 and _is_shadow(strip, outer=good[-1][0], inner=good[-2][0]):
        shadow = good.pop()
        good[-1] = (good[-1][0], max(good[-1][1], shadow[1]))  # the stage begins beyond the shadow
    return good[-1]


PLAIN = 6.0
"""Noise units from which an edge is as good as any."""

RIVAL = 0.6
"""Share of the best line's merit from which a line further out is preferred to it."""


def _is_shadow(strip: Strip, *, outer: Line, inner: Line) -> bool:
    """Whether the band between two lines is stage in the paper's shadow: darker than the stage beyond it, of much
    the same colour, narrow, and the paper inside is brighter than it by twice as much."""
    length = float(np.linalg.norm(strip.end - strip.start))
    if outer.middle - inner.middle > 0.08 * length or inner.coverage < 0.8:
        return False
    beyond = _colour(strip, outer.middle + 2, outer.middle + 7)
    band = _colour(strip, inner.middle + 1.5, outer.middle - 1.5)
    paper = _colour(strip, inner.middle - 6, inner.middle - 2)
    fall = beyond[0] - band[0]
    same_hue = np.linalg.norm(beyond[1:] - band[1:]) < 4 + 0.4 * fall
    return bool(fall > 1 and same_hue and paper[0] - band[0] > 2 * fall)


def _colour(strip: Strip, low: float, high: float) -> NDArray[np.float32]:
    """Median Lab of the columns between two distances (the nearest one where none lies between)."""
    middle = (low + high) / 2
    inside = (strip.across >= low) & (strip.across <= high)
    if not inside.any():
        inside = np.arange(len(strip.across)) == int(np.abs(strip.across - middle).argmin())
    return np.asarray(np.median(strip.pixels[:, inside].reshape(-1, 3), axis=0), np.float32)


def _stage_beyond(scene: Scene, strip: Strip, lines: list[Line]) -> list[tuple[float, float]]:
    """For each line: the share of the places just outside it that look like stage, be it in shadow, and how far
    those just inside depart from the stage more than those outside do (0 not at all – 1 clearly)."""
    pixels = strip.pixels[::2]
    stage = _stage_beside(scene, strip)
    plain = stage_distance(pixels, stage, scene.stage.spread)
    tolerant = stage_distance(pixels, shadowed(pixels, stage), scene.stage.spread)
    told = []
    for line in lines:
        column = np.rint(line.at(strip.along[::2]) - strip.across[0]).astype(int)[:, None]
        row = np.arange(len(column))[:, None]
        outside = np.clip(column + OUTSIDE, 0, pixels.shape[1] - 1)
        inside = np.clip(column - INSIDE, 0, pixels.shape[1] - 1)
        departs = float(np.median(plain[row, inside]) - np.median(plain[row, outside])) / DEPARTS
        told.append((float((tolerant[row, outside] < STAGE_LIKE).mean()), float(np.clip(departs, 0, 1))))
    return told


def _stage_beside(scene: Scene, strip: Strip) -> NDArray[np.float32]:
    """The stage's colour at every second row of a strip and every column."""
    along, across = strip.along[::2], strip.across
    grid = strip.points(np.repeat(along, len(across)), np.tile(across, len(along)))
    coarse = np.rint(scene.coarse.from_full(scene.middle.to_full(grid))).astype(int)
    height, width = scene.stage.distance.shape
    column, row = np.clip(coarse[:, 0], 0, width - 1), np.clip(coarse[:, 1], 0, height - 1)
    return np.asarray(scene.stage.colour[row, column].reshape(len(along), len(across), 3), np.float32)


OUTSIDE = np.arange(2, 6)
INSIDE = np.arange(2, 5)
"""Pixels at the middle size beside an edge that are looked at: beyond its blur, within the narrowest border."""

DEPARTS = 1.5
"""Spreads from the stage by which paper departs clearly."""
