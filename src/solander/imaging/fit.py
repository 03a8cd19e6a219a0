"""An outline set roughly by hand, brought to the paper's edge beside it.

Convention (see `conventions`): corners in pixels of the capture, clockwise; strips as in `edges`.

Unlike the search, which must choose among all edges of a capture, this looks only a little way to either side of
where a person put a side: they know what the paper is, the machine knows where its edge runs.
"""

from __future__ import annotations

import numpy as np
from attrs import frozen
from numpy.typing import ArrayLike

from solander.imaging.conventions import Quad, Rgb, as_quad, diagonal, require_rgb
from solander.imaging.curves import fit_curve
from solander.imaging.edges import Floats, Line, coherent_edges, cut_strip, meet, vote_lines
from solander.imaging.refine import ROWS, refine
from solander.imaging.search import MOST_BOW, NOISE_FLOOR, SEGMENTS, Candidate, Scene
from solander.imaging.stage import Reduced, reduce, stage_from_margin

__all__ = ["Fitted", "bows_beside", "fit_to_paper"]

MIDDLE = 1024
"""Long side at which the edge beside a side is looked for."""

COARSE = 256
"""Long side at which the stage is learnt, on which little hangs here."""

REACH = 16
"""Pixels at the middle size to either side within which it is looked for: 1.6 % of the frame, further than a hand
errs with a magnifier beside it (our choice)."""

TILT = 10
"""Pixels at the middle size by which the edge may leave the drawn side at its ends."""

CLEAR, MOSTLY = 3.0, 0.5
"""Noise units of strength and share of the side from which an edge is believed."""

RIVAL = 0.5
"""Share of the best edge's merit from which one further out is taken: a white border before the picture in it."""


SAME_EDGE = 0.004
"""Share of the diagonal within which all corners must lie to be those of the edge found (our choice)."""


@frozen(eq=False)
class _Edge:
    """The paper's edge near a side of the middle copy: its ends and its bow between them, in pixels there."""

    ends: tuple[Floats, Floats]
    bow: float


@frozen(eq=False)
class Fitted:
    """The corners (4, 2); for each side, the first from the first corner to the second, whether an edge was found
    beside it (a side without stays as it was drawn); how far the middles of the sides lie outside the lines
    between the corners, in pixels, None where they are straight or an edge is missing."""

    corners: Quad
    sides: tuple[bool, bool, bool, bool]
    bows: tuple[float, float, float, float] | None = None


def fit_to_paper(rgb: Rgb, drawn: ArrayLike) -> Fitted:
    """The outline that the paper's edges beside a drawn one give, to sub-pixels; `drawn` runs clockwise."""
    quad = as_quad(drawn)
    middle = reduce(require_rgb(rgb), MIDDLE)
    rough = middle.from_full(quad)
    sides = [(rough[i], rough[(i + 1) % 4]) for i in range(4)]
    edges = [_edge_beside(middle, side) for side in sides]
    found = [edge is not None for edge in edges]
    corners = meet([side if edge is None else edge.ends for edge, side in zip(edges, sides, strict=True)])
    if corners is None or not any(found):
        return Fitted(quad, (False, False, False, False))
    coarse = reduce(middle.rgb, COARSE)
    scene = Scene(rgb, middle, coarse, stage_from_margin(coarse))
    first, second, third, fourth = found
    if all(found):
        refined = refine(scene, Candidate(corners, tuple(edge.bow for edge in edges if edge), 1.0))
        return Fitted(refined.corners, (True, True, True, True), refined.bows)
    some = _some_sides(rgb, middle.to_full(corners), quad, found=found, window=middle.scale + 1.5)
    return Fitted(some, (first, second, third, fourth))


def bows_beside(rgb: Rgb, drawn: ArrayLike) -> tuple[float, float, float, float] | None:
    """How far the middles of a drawn outline's sides lie outside the lines between its corners, in pixels, as the
    paper's edges tell it; None where they are straight, or run elsewhere than the outline."""
    quad = as_quad(drawn)
    fitted = fit_to_paper(rgb, quad)
    apart = np.linalg.norm(fitted.corners - quad, axis=1)
    return fitted.bows if apart.max() < SAME_EDGE * diagonal(quad) else None


def _edge_beside(middle: Reduced, side: tuple[Floats, Floats]) -> _Edge | None:
    """The paper's edge near a side of the middle copy, None where none is clear."""
    strip = cut_strip(middle.lab, side, inward=REACH, outward_px=REACH, rows=SEGMENTS * 8)
    strength = coherent_edges(strip, SEGMENTS)
    noise = max(NOISE_FLOOR, float(np.median(strength)))
    most = min(MOST_BOW * float(np.linalg.norm(side[1] - side[0])), REACH / 2)
    bows = tuple(most * share for share in (-1.0, -0.5, 0.0, 0.5, 1.0))
    lines = vote_lines(strength, strip, reach=TILT, bows=bows, noise=noise)
    clear = [line for line in lines if line.strength >= CLEAR and line.coverage >= MOSTLY]
    if not clear:
        return None
    line = next(line for line in reversed(clear) if _merit(line) >= RIVAL * max(map(_merit, clear)))
    ends = strip.points(np.array([-1.0, 1.0]), line.at(np.array([-1.0, 1.0])))
    return _Edge((ends[0], ends[1]), line.bow)


def _merit(line: Line) -> float:
    """How well an edge is seen, the more the nearer it runs to where a person put it."""
    return line.strength * line.coverage * (1 - 0.5 * min(1.0, abs(line.middle) / REACH))


def _some_sides(rgb: Rgb, near: Quad, drawn: Quad, *, found: list[bool], window: float) -> Quad:
    """The corners where straight edges, fitted to sub-pixels, meet the sides that stay as they were drawn."""
    sides = []
    for i, seen in enumerate(found):
        of = near if seen else drawn
        side = of[i], of[(i + 1) % 4]
        sides.append(_straight_edge(rgb, side, window) if seen else side)
    corners = meet(sides)
    return drawn if corners is None else corners


def _straight_edge(rgb: Rgb, side: tuple[Floats, Floats], window: float) -> tuple[Floats, Floats]:
    wide = window + 5
    strip = cut_strip(rgb, side, inward=wide, outward_px=wide, rows=ROWS, ends=0.05, linear=True)
    curve = fit_curve(strip, np.zeros(2), order=1, window=window)
    if curve is None:
        return side
    ends = strip.points(np.array([-1.0, 1.0]), curve.at(np.array([-1.0, 1.0])))
    return ends[0], ends[1]
