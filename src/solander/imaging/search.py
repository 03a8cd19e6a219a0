"""Which edges bound the paper: the sides of a rough outline, searched at the middle size.

Convention (see `conventions`): corners in pixels of the middle copy, clockwise; strips as in `edges`, across
positive outside.
"""

from __future__ import annotations

from itertools import product

import cv2
import numpy as np
from attrs import Factory, evolve, frozen
from numpy.typing import NDArray

from solander.imaging.choice import Beside, Choice, weigh
from solander.imaging.conventions import Quad, Rgb, area, diagonal
from solander.imaging.edges import (
    SATURATION,
    SEEN,
    Floats,
    Line,
    Pixels,
    Strip,
    coherent_edges,
    cut_strip,
    meet,
    vote_lines,
)
from solander.imaging.segment import Asked, Likely
from solander.imaging.stage import TRUSTED, Reduced, StageModel, spread_of, to_lab

__all__ = ["Candidate", "Scene", "Side", "View", "differ", "is_rival", "search", "view_of", "with_rival"]

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
    network: Asked = Factory(lambda scene: Asked(scene.middle.rgb), takes_self=True)

    @property
    def likely(self) -> Likely | None:
        """Where the small network sees prints; None without its weights."""
        return self.network.likely

    @property
    def likely_closely(self) -> Likely | None:
        """The same at twice the size, for prints that lie close together."""
        return self.network.likely_closely


@frozen(eq=False)
class Side:
    """One side's edge: where its chord starts and ends, the choice that it is, the noise it was seen in, and
    whether a likelier edge lies further out."""

    start: Floats
    end: Floats
    chosen: Choice
    noise: float
    outdone: bool = False


@frozen(eq=False)
class Candidate:
    """An outline at the middle size, how far each side bows out (pixels), and the support of its four sides.

    `merit` is that of its edges together, `chosen` the edges as they were first seen. `rivals` are the next best
    outlines by other edges beside the same sides, best first. `doubted` tells that it may be something else than
    one print, so that a person is asked.
    """

    quad: Quad
    bows: tuple[float, ...]
    support: float
    merit: float = 0.0
    chosen: tuple[Choice, ...] = ()
    rivals: tuple[Candidate, ...] = ()
    doubted: bool = False

    @property
    def margin(self) -> float:
        """Merit by which the best rival is behind; infinite without one."""
        return self.merit - self.rivals[0].merit if self.rivals else np.inf


def search(scene: Scene, rough: Quad) -> Candidate | None:
    """The outline that the edges around a rough one bear out, with its rivals; or None."""
    quad = scene.middle.from_full(scene.coarse.to_full(rough))
    combined = _around(scene, quad)
    if combined and np.linalg.norm(combined[0][1] - quad, axis=1).max() > FAR_OFF * diagonal(quad):
        combined = _around(scene, combined[0][1])
    found: list[Candidate] = []
    for merit, corners, sides in combined:
        if all(differ(corners, other.quad) for other in found):
            candidate = _closely(scene, corners, sides, merit)
            if candidate is not None and all(differ(candidate.quad, other.quad) for other in found):
                found.append(candidate)
        if len(found) == MOST_RIVALS + 1:
            break
    return evolve(found[0], rivals=tuple(found[1:])) if found else None


FAR_OFF = 0.06
"""Share of the diagonal by which a rough outline may be off before its surroundings are looked at once more."""


def _around(scene: Scene, quad: Quad) -> list[tuple[float, Quad, tuple[Side, ...]]]:
    """Outlines by the edges around a rough one, best first."""
    return _combinations([view_of(scene, (quad[i], quad[(i + 1) % 4]), quad) for i in range(4)])


def is_rival(other: Candidate, chosen: Candidate) -> bool:
    """Whether an outline that overlaps the chosen one is another answer, nearly as well borne out."""
    return other.support > 0.8 * chosen.support and differ(other.quad, chosen.quad)


def with_rival(chosen: Candidate, other: Candidate) -> Candidate:
    """The chosen outline with one more rival, the best first."""
    rivals = sorted([*chosen.rivals, evolve(other, rivals=())], key=lambda c: -c.merit)
    return evolve(chosen, rivals=tuple(rivals[:MOST_RIVALS]))


MOST_RIVALS = 1
"""Next best outlines that are kept: one is offered."""

BEST_OF_SIDE = 3
"""Edges of a side that are combined with those of the others."""

FAR_BEHIND = 5.0
"""Merit below the best from which an edge or an outline is no rival: 1 to 150."""

DIFFERENT = 0.004
"""Share of the diagonal by which two outlines' corners must differ somewhere to be two answers."""


def _combinations(views: list[View]) -> list[tuple[float, Quad, tuple[Side, ...]]]:
    """Outlines of one edge a side, best first."""
    sets = [*product(*(_best_of(view.sides) for view in views)), *_bordered(views)]
    combined = []
    for four in sorted(sets, key=lambda four: -_merit(four))[:12]:
        corners = meet([(s.start, s.end) for s in four])
        if corners is not None:
            combined.append((_merit(four), corners, four))
    best = combined[0][0] if combined else 0.0
    return [c for c in combined if c[0] > best - FAR_BEHIND]


def _best_of(sides: tuple[Side, ...]) -> list[Side]:
    ranked = sorted(sides, key=lambda s: -s.chosen.merit)[:BEST_OF_SIDE]
    return [s for s in ranked if s.chosen.merit > ranked[0].chosen.merit - FAR_BEHIND]


def _merit(four: tuple[Side, ...]) -> float:
    """Of four edges together: each its own, more where a border of even width and one colour lies within, less
    where one side is unlike the others."""
    merit = sum(s.chosen.merit for s in four)
    if all(s.chosen.is_rim for s in four):
        merit += 4 * RIM_TAKEN_BACK
    if _has_odd_side(four):
        return merit - ODD_SIDE
    apart = np.array([s.chosen.apart for s in four])
    even = apart.min() > 0 and np.ptp(apart) < UNEVEN * apart.mean() + 2
    return merit + (EVEN_BORDER if even and not any(s.outdone for s in four) else 0.0)


def _has_odd_side(four: tuple[Side, ...]) -> bool:
    """Whether three sides have the same colour just inside, and the fourth quite another."""
    colours = np.array([s.chosen.inside for s in four])
    away = np.sort(np.linalg.norm(colours - np.median(colours, axis=0), axis=1))
    return bool(away[2] < SAME_COLOUR and away[3] > 3 * SAME_COLOUR)


UNEVEN = 0.2
EVEN_BORDER = 5.0
"""Merit of a border that is as wide on all four sides, to within a fifth and two pixels; not where it would have
to be cut short for that on any side."""

RIM_TAKEN_BACK = 2.0
"""Merit that a rim lost to the line inside it: a shadow doesn't lie on all four sides, a dark border does."""

SAME_COLOUR = 5.0
"""Lab units within which paper is the same on all sides of a print, light and yellowing apart."""

ODD_SIDE = 3.0
"""Merit that an outline loses where one side is bounded by something else than the others."""


def _bordered(views: list[View]) -> list[tuple[Side, ...]]:
    """Outlines that lie around the plainest edges at one distance on all sides, where the four sides together show
    something there: a white border on white may be too faint for any side alone."""
    if not all(view.sides for view in views):
        return []
    plain = [max(view.sides, key=lambda s: s.chosen.line.strength * s.chosen.line.coverage) for view in views]
    traces = [view.trace(side.chosen.line) for view, side in zip(views, plain, strict=True)]
    length = min(len(trace) for trace in traces)
    if length <= NARROWEST:
        return []
    all_four = np.sort([trace[:length] for trace in traces], axis=0)
    together = np.where(all_four[1] >= TRACED_SIDE, all_four.mean(axis=0), 0.0)
    together[:NARROWEST] = 0
    width = int(together.argmax())
    if together[width] < TRACED:
        return []
    four = [view.beside(side, width) for view, side in zip(views, plain, strict=True)]
    return [tuple(side for side in four if side is not None)] if all(four) else []


NARROWEST = 6
"""Pixels at the middle size that the narrowest border measures."""

TRACED = 2.0
"""Noise units that the four sides must show on average for a faint border."""

TRACED_SIDE = 1.7
"""Noise units that three of them must show each: two plain edges make no border of the other two sides."""


def differ(one: Quad, other: Quad) -> bool:
    """Whether two outlines are two answers."""
    return bool(np.linalg.norm(one - other, axis=1).max() > DIFFERENT * diagonal(one))


def _merit_close(side: Side) -> float:
    """Merit of an edge seen closely: what lies away from the edge that was chosen is another one."""
    return side.chosen.merit - AWAY * max(0.0, abs(side.chosen.line.middle) - 2)


AWAY = 0.7
"""Merit lost with every pixel at the middle size beyond the two that the wide search may be off."""


def _closely(scene: Scene, quad: Quad, sides: tuple[Side, ...], merit: float) -> Candidate | None:
    """The outline searched again near its sides, bows and all."""
    chosen = []
    for i, side in enumerate(sides):
        near = view_of(scene, (quad[i], quad[(i + 1) % 4]), quad, noise=side.noise).sides
        chosen.append(max(near, key=_merit_close) if near else side)
    corners = meet([(s.start, s.end) for s in chosen])
    if corners is None:
        return None
    cover = np.array([s.chosen.line.coverage for s in chosen])
    beyond = np.array([max(s.chosen.beyond, w.chosen.beyond) for s, w in zip(chosen, sides, strict=True)])
    support = float((0.5 * cover.mean() + 0.5 * cover.min()) * (0.4 + 0.6 * beyond.mean()))
    bows = tuple(s.chosen.line.bow for s in chosen)
    return Candidate(corners, bows, support, merit, tuple(w.chosen for w in sides))


@frozen(eq=False)
class View:
    """What is seen beside one side: the strip (Lab), the strength of its edges, their noise, and those weighed."""

    strip: Strip
    strength: NDArray[np.float32]
    noise: float
    stage: Beside
    sides: tuple[Side, ...] = ()

    def trace(self, line: Line) -> NDArray[np.float32]:
        """Mean evidence (noise units, saturating) at each pixel outside a line, along lines parallel to it."""
        segments, columns = self.strength.shape
        middles = (2 * (np.arange(segments) + 0.5) / segments - 1) * float(self.strip.along.max())
        start = np.rint(line.at(middles) - self.strip.across[0]).astype(int)
        length = columns - 2 - int(start.max())
        if length <= 0:
            return np.zeros(0, np.float32)
        evidence = cv2.dilate(np.minimum(self.strength / self.noise, TRACE_CAP), np.ones((1, 5), np.uint8))
        return np.asarray(evidence[np.arange(segments)[:, None], start[:, None] + np.arange(length)].mean(axis=0))

    def beside(self, side: Side, width: float) -> Side | None:
        """The edge at about that distance outside another, whether or not it is seen."""
        near = [s for s in self.sides if abs(s.chosen.line.middle - side.chosen.line.middle - width) < 3]
        if near:
            return max(near, key=lambda s: s.chosen.merit)
        line = side.chosen.line
        faint = evolve(line, middle=line.middle + width, strength=TRACED, coverage=0.5)
        lines = sorted([*(s.chosen.line for s in self.sides), faint], key=lambda one: one.middle)
        choice = next(c for c in weigh(self.strip, lines, self.stage, [0.0] * len(lines)) if c.line is faint)
        return _side(self.strip, choice, self.noise)


TRACE_CAP = 4.0


def view_of(scene: Scene, side: tuple[Floats, Floats], quad: Quad, *, noise: float | None = None) -> View:
    """What is seen near one side: widely at first, closely once the `noise` is known."""
    bows = _bows(side, close=noise is not None)
    size = float(np.sqrt(area(quad)))
    inside, beyond_px = (
        (5.0 + bows[-1], 6.0 + bows[-1]) if noise else (max(18.0, 0.06 * size), max(18.0, 0.14 * size))
    )
    strip = cut_strip(scene.middle.rgb, side, inward=inside, outward_px=beyond_px, rows=SEGMENTS * 8)
    strip = evolve(strip, pixels=to_lab(strip.pixels))
    strength = coherent_edges(strip, SEGMENTS)
    used = noise or max(NOISE_FLOOR, float(np.median(strength[:, strip.across > 0])))
    lines = vote_lines(strength, strip, reach=3 if noise else 10, bows=bows, noise=used)
    stage = _stage_beside(scene, strip) if scene.stage.explained > TRUSTED else _surroundings(strip)
    going_on = [0.0] * len(lines) if noise else _going_on(scene, strip, lines, used)
    choices = weigh(strip, lines, stage, going_on)
    sides = tuple(
        _side(strip, choice, used, outdone=any(c.merit > choice.merit + OUTDONE for c in choices[i + 1 :]))
        for i, choice in enumerate(choices)
    )
    return View(strip, strength, used, stage, sides)


OUTDONE = 1.5
"""Merit by which an edge further out must be likelier to outdo one: a shadow's rim is about as likely."""


def _going_on(scene: Scene, strip: Strip, lines: list[Line], noise: float) -> list[float]:
    """Of each line how much is seen beyond the side's ends, against what is seen of it between them (0–1)."""
    if not lines:
        return []
    strength = np.concatenate([_beyond(scene, strip, place) for place in (-1.0, 1.0)])
    evidence = cv2.dilate(np.minimum(strength / noise, SATURATION), np.ones((1, 5), np.uint8))
    past = PAST + (FURTHEST - PAST) * np.array([0.25, 0.75])
    places = np.concatenate([-past[::-1], past])
    going_on = []
    for line in lines:
        column = np.rint(line.middle + line.slope * places - strip.across[0]).astype(int)
        seen = evidence[np.arange(len(column)), np.clip(column, 0, evidence.shape[1] - 1)].mean()
        going_on.append(float(min(1.0, seen / max(line.strength, SEEN))))
    return going_on


PAST, FURTHEST = 1.2, 1.6
"""Places along a side, beyond its ends at −1 and 1, between which it is looked at."""


def _beyond(scene: Scene, strip: Strip, end: float) -> Pixels:
    """Edge strength in two segments beyond one end of a side, in the columns of its strip."""
    low, high = sorted((end * PAST, end * FURTHEST))
    start, stop = strip.points(np.array([low, high]), np.zeros(2))
    reach = -float(strip.across[0]), float(strip.across[-1])
    beyond = cut_strip(scene.middle.rgb, (start, stop), inward=reach[0], outward_px=reach[1], rows=8, ends=0.0)
    return coherent_edges(evolve(beyond, pixels=to_lab(beyond.pixels)), 2)


def _side(strip: Strip, choice: Choice, noise: float, *, outdone: bool = False) -> Side:
    line = choice.line
    ends = strip.points(np.array([-1.0, 1.0]), line.middle + line.slope * np.array([-1.0, 1.0]))
    return Side(ends[0], ends[1], choice, noise, outdone)


def _bows(side: tuple[Floats, Floats], *, close: bool) -> tuple[float, ...]:
    """The bows tried on a side, ascending: three in the wide search, all in steps in the close one."""
    most = MOST_BOW * float(np.linalg.norm(side[1] - side[0]))
    if not close:
        return (-0.6 * most, 0.0, 0.6 * most) if most > 2 * BOW_STEP else (0.0,)
    steps = int(most / BOW_STEP)
    return tuple(BOW_STEP * step for step in range(-steps, steps + 1))


def _surroundings(strip: Strip) -> Beside:
    """What lies furthest out beside a side, as if it were the stage."""
    pixels = strip.pixels[::2]
    far = strip.pixels[:, strip.across > 0.6 * strip.across[-1]].reshape(-1, 3)
    colour = np.median(far, axis=0)
    return Beside(
        pixels, np.broadcast_to(colour, pixels.shape), np.broadcast_to(spread_of(far - colour), pixels.shape)
    )


def _stage_beside(scene: Scene, strip: Strip) -> Beside:
    """The stage's colour and spread beside a strip, from the nearest places of the coarse copy."""
    pixels = strip.pixels[::2]
    corners = strip.points(strip.along[[0, 0, 2]], strip.across[[0, 1, 0]])
    first, over, down = scene.coarse.from_full(scene.middle.to_full(corners))
    to_coarse = np.column_stack([over - first, down - first, first])

    def picked(of_coarse: Pixels) -> Pixels:
        flags = cv2.INTER_NEAREST | cv2.WARP_INVERSE_MAP
        size = pixels.shape[1::-1]
        return np.asarray(cv2.warpAffine(of_coarse, to_coarse, size, flags=flags, borderMode=cv2.BORDER_REPLICATE))

    spread = scene.stage.spread
    return Beside(
        pixels,
        picked(scene.stage.colour),
        np.broadcast_to(spread, pixels.shape) if spread.ndim == 1 else picked(spread),
    )
