"""Prints in a capture, found to the pixel.

Convention (see `conventions`): picture uint8 sRGB; corners (x, y) float64, (0, 0) the centre of the first
pixel, on the paper's edge, clockwise from the corner nearest the picture's top left.

Method. The stage's colour is learnt from the margin (`stage`); what differs from it is proposed, roughly, at a
small size (`proposals`); each side of a proposal is searched at a middle size for straight edges, coherent
along the side and with stage beyond them, and the outermost such edge is taken (a white border before the
picture inside it); then at full size the edge is fitted as a slightly bowed curve to sub-pixels (`edges`), and
neighbours are intersected. What was seen on the four sides is the confidence.
"""

from __future__ import annotations

from itertools import pairwise

import numpy as np
from attrs import field, frozen
from numpy.typing import NDArray

from solander.imaging.conventions import Quad, Rgb, area, clockwise_from_top_left, iou, is_convex, require_rgb
from solander.imaging.edges import (
    Curve,
    Floats,
    Line,
    Strip,
    coherent_edges,
    cut_strip,
    fit_curve,
    outward,
    vote_lines,
)
from solander.imaging.proposals import propose
from solander.imaging.stage import (
    STAGE_LIKE,
    Reduced,
    StageModel,
    reduce,
    shadowed,
    stage_distance,
    stage_from_empty,
    stage_from_margin,
)

__all__ = ["Found", "locate_prints"]

COARSE = 448
"""Long side at which prints are proposed."""

MIDDLE = 1024
"""Long side at which sides are searched."""

SEGMENTS = 12

NOISE_FLOOR = 0.25
"""Lab units a pixel: the least change that a segment's mean is believed to show."""

LEAST = 0.35
"""Confidence below which a find is not told at all."""


@frozen
class Found:
    """One print: its corners (4, 2) and how well its outline is borne out, 0–1."""

    corners: Quad = field(eq=lambda corners: bytes(corners.tobytes()))
    confidence: float


@frozen(eq=False)
class Side:
    """One side's chosen edge at the middle size, and what speaks for it (0–1 each)."""

    start: Floats
    end: Floats
    coverage: float
    outside: float
    noise: float


@frozen(eq=False)
class Candidate:
    """An outline at the middle size with the support of its four sides."""

    quad: Quad
    support: float


@frozen(eq=False)
class Scene:
    """The capture at its three sizes, with the stage model of the smallest."""

    full: Rgb
    middle: Reduced
    coarse: Reduced
    stage: StageModel


def locate_prints(rgb: Rgb, *, empty_stage: Rgb | None = None) -> tuple[Found, ...]:
    """The prints in a capture, in reading order: rows from top to bottom, in a row from left to right.

    Each is a `Found`: its four corners in pixels of `rgb`, and a confidence from 0 to 1; below about 0.6 a person
    should look. Nothing found, or nothing that can be told from the stage: an empty tuple. `empty_stage` is a
    capture of the same stage without prints, from the same place.
    """
    require_rgb(rgb)
    if min(rgb.shape[:2]) < SMALLEST_FRAME:
        return ()
    scene = _look(rgb, empty_stage)
    candidates = [c for quad in propose(scene.coarse, scene.stage) if (c := _search(scene, quad)) is not None]
    found = [_refined(scene, chosen) for chosen in _without_rivals(candidates)]
    return _reading_order([f for f in found if f is not None and f.confidence >= LEAST])


SMALLEST_FRAME = 48


def _look(rgb: Rgb, empty_stage: Rgb | None) -> Scene:
    middle = reduce(rgb, MIDDLE)
    again = reduce(middle.rgb, COARSE)
    coarse = Reduced(again.rgb, again.lab, again.scale * middle.scale)
    stage = stage_from_margin(coarse) if empty_stage is None else stage_from_empty(coarse, empty_stage)
    return Scene(rgb, middle, coarse, stage)


# --- middle size: which edges bound the paper -----------------------------------------------------------------


def _search(scene: Scene, rough: Quad) -> Candidate | None:
    """The outline that the edges around a rough one bear out, or None."""
    quad = scene.middle.from_full(scene.coarse.to_full(rough))
    sides: list[Side] = []
    for _ in range(2):
        noises: list[float | None] = [side.noise for side in sides] or [None] * 4
        around = [(quad[i], quad[(i + 1) % 4], noises[i]) for i in range(4)]
        sides = [s for a, b, noise in around if (s := _search_side(scene, (a, b), quad, noise=noise))]
        if len(sides) < 4:
            return None
        corners = _intersections([(s.start, s.end) for s in sides])
        if corners is None:
            return None
        quad = corners
    cover = np.array([s.coverage for s in sides])
    beyond = np.array([s.outside for s in sides])
    support = float((0.5 * cover.mean() + 0.5 * cover.min()) * (0.4 + 0.6 * beyond.mean()))
    return Candidate(quad, support)


def _search_side(
    scene: Scene, side: tuple[Floats, Floats], quad: Quad, *, noise: float | None = None
) -> Side | None:
    """The edge that bounds the paper near one side: widely at first, closely once the `noise` is known."""
    short = np.sqrt(area(quad))
    inside, beyond_px = (18.0, max(18.0, 0.14 * short)) if noise is None else (5.0, 6.0)
    strip = cut_strip(scene.middle.lab, side, inward=inside, outward_px=beyond_px, rows=SEGMENTS * 8)
    strength = coherent_edges(strip, SEGMENTS)
    used = noise or max(NOISE_FLOOR, float(np.median(strength[:, strip.across > 0])))
    lines = vote_lines(strength, strip, reach=10 if noise is None else 3, noise=used)
    chosen = _outermost(scene, strip, lines)
    if chosen is None:
        return None
    line, beyond = chosen
    ends = strip.points(np.array([-1.0, 1.0]), line.middle + line.slope * np.array([-1.0, 1.0]))
    return Side(ends[0], ends[1], line.coverage, beyond, used)


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
        column = np.rint(line.middle + line.slope * strip.along[::2] - strip.across[0]).astype(int)[:, None]
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


def _intersections(sides: list[tuple[Floats, Floats]]) -> Quad | None:
    """Corners where neighbouring sides, two points each, meet; the first is where the last meets the first."""
    corners = []
    for (a, b), (c, d) in pairwise([sides[-1], *sides]):
        u, v = b - a, d - c
        cross = u[0] * v[1] - u[1] * v[0]
        if abs(cross) < 1e-9:
            return None
        corners.append(a + u * ((c - a)[0] * v[1] - (c - a)[1] * v[0]) / cross)
    quad = np.array(corners)
    return quad if is_convex(quad) and area(quad) > 0 else None


def _without_rivals(candidates: list[Candidate]) -> list[Candidate]:
    """Of outlines that overlap, the one with most support; the larger where the smaller is hardly better."""
    kept: list[Candidate] = []
    for candidate in sorted(candidates, key=lambda c: -c.support * area(c.quad) ** 0.1):
        if candidate.support >= LEAST and all(_overlap(candidate.quad, k.quad) < 0.15 for k in kept):
            kept.append(candidate)
    return kept


def _overlap(a: Quad, b: Quad) -> float:
    """Shared area over the smaller of the two."""
    shared = iou(a, b)
    together = area(a) + area(b)
    return shared / (1 + shared) * together / min(area(a), area(b))


# --- full size: to sub-pixels ---------------------------------------------------------------------------------


def _refined(scene: Scene, candidate: Candidate) -> Found | None:
    quad = scene.middle.to_full(candidate.quad)
    reach = 1.6 * scene.middle.scale + 1.2
    agreement = []
    for window in (reach, max(2.5, 0.5 * reach)):
        curves = _curves(scene.full, quad, window)
        if curves is None:
            return Found(clockwise_from_top_left(quad), candidate.support * 0.5)
        corners = _meet(quad, curves)
        if corners is None:
            return Found(clockwise_from_top_left(quad), candidate.support * 0.5)
        quad = corners
        agreement = [curve.agreement for curve in curves]
    confidence = candidate.support * (0.5 + 0.5 * float(np.mean(agreement)))
    return Found(clockwise_from_top_left(quad), min(1.0, confidence))


def _curves(rgb: Rgb, quad: Quad, window: float) -> list[Curve] | None:
    curves = []
    for i in range(4):
        side = (quad[i], quad[(i + 1) % 4])
        strip = cut_strip(rgb, side, inward=window + 5, outward_px=window + 5, rows=160, ends=0.05, linear=True)
        curve = fit_curve(strip, (0.0, 0.0), order=2, window=window)
        if curve is None:
            return None
        curves.append(curve)
    return curves


def _meet(quad: Quad, curves: list[Curve]) -> Quad | None:
    """Corners where neighbouring curves meet: tangents at the corner so far, three times."""
    corners = quad.copy()
    for _ in range(3):
        tangents = [_tangent(quad, curves, i, corners) for i in range(4)]
        met = [_intersections_of(tangents[i - 1][1], tangents[i][0]) for i in range(4)]
        if any(m is None for m in met):
            return None
        corners = np.array(met)
    return corners if is_convex(corners) and area(corners) > 0 else None


def _tangent(quad: Quad, curves: list[Curve], i: int, corners: Quad) -> tuple[tuple[Floats, Floats], ...]:
    """The curve of side `i` near its first and its last corner, each as two points."""
    start, end = quad[i], quad[(i + 1) % 4]
    direction = (end - start) / 2
    out = outward(start, end)
    lines = []
    for corner in (corners[i], corners[(i + 1) % 4]):
        along = float(np.dot(corner - start, direction) / np.dot(direction, direction)) - 1
        points = [start + direction * (s + 1) + out * curves[i].at(s) for s in (along - 0.01, along + 0.01)]
        lines.append((points[0], points[1]))
    return tuple(lines)


def _intersections_of(one: tuple[Floats, Floats], other: tuple[Floats, Floats]) -> NDArray[np.float64] | None:
    (a, b), (c, d) = one, other
    u, v = b - a, d - c
    cross = u[0] * v[1] - u[1] * v[0]
    if abs(cross) < 1e-12:
        return None
    return np.asarray(a + u * ((c - a)[0] * v[1] - (c - a)[1] * v[0]) / cross)


# --- order ----------------------------------------------------------------------------------------------------


def _reading_order(found: list[Found]) -> tuple[Found, ...]:
    """Rows from top to bottom, left to right in each; a print belongs to a row when its middle lies within half of
    the height of the row's first print."""
    waiting = sorted(found, key=lambda f: float(f.corners[:, 1].mean()))
    ordered: list[Found] = []
    while waiting:
        first = waiting[0]
        middle, height = float(first.corners[:, 1].mean()), float(np.ptp(first.corners[:, 1]))
        row = [f for f in waiting if float(f.corners[:, 1].mean()) <= middle + height / 2]
        ordered += sorted(row, key=lambda f: float(f.corners[:, 0].mean()))
        waiting = waiting[len(row) :]
    return tuple(ordered)
