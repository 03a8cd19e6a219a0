"""The outline at full size, to sub-pixels: a curve fitted to each side's edge, neighbours intersected.

Convention (see `conventions`): corners in pixels of the capture, clockwise; strips as in `edges`, in linear light.
"""

from __future__ import annotations

import numpy as np
from attrs import evolve, frozen

from solander.imaging.contact import WIDEST, inner_flank
from solander.imaging.conventions import Quad, Rgb, area, diagonal, is_convex
from solander.imaging.curves import Curve, edge_places, fit_curve, fit_curves
from solander.imaging.edges import (
    Floats,
    Strip,
    coherent_edges,
    crossings,
    cut_strip,
    cut_strips,
    outward,
    vote_lines,
)
from solander.imaging.ends import FAINT, FURTHEST, plainness, to_its_ends
from solander.imaging.search import Candidate, Scene

__all__ = ["Refined", "refine"]

ROWS = 160
"""Places along a side at which its edge is looked for."""

SEGMENTS = 20
"""Parts of a side that must agree on where it runs."""

ORDER = 3
"""Of the curve: a curled sheet's side and the lens's bow, seen in perspective."""


@frozen(eq=False)
class Refined:
    """The outline's corners in the capture, and how the fits went.

    `agreement` is the share of each side's length that agrees with its curve (0–1), `spread` their distance from
    it, `doubt` the greatest standard deviation of a corner that the fits leave, `moved` how far the corners went
    from the searched ones: all in shares of the diagonal. `softness` is how wide each edge is, in pixels of the
    capture; `deckled` tells that the corners are the crests'. `bows` is how far the middle of each side lies
    outside the line between its corners, px, None where they are straight as far as can be told. `plainness` is
    each edge's height in medians of what lies outside it. Empty where no curve could be fitted: the corners are
    then those of the search.
    """

    corners: Quad
    agreement: tuple[float, ...] = ()
    spread: float = 1.0
    doubt: float = 1.0
    moved: float = 1.0
    softness: tuple[float, ...] = ()
    deckled: bool = False
    bows: tuple[float, float, float, float] | None = None
    plainness: tuple[float, ...] = ()


def refine(scene: Scene, candidate: Candidate) -> Refined:
    """The outline to sub-pixels of the capture."""
    reach = 1.6 * scene.middle.scale + 1.2
    near = _fitted(scene, candidate, (reach, max(2.5, 0.6 * reach))) or _fitted(
        scene, candidate, (OUT_OF_FOCUS * reach, reach)
    )
    if near is None:
        return Refined(scene.middle.to_full(candidate.quad))
    before, fit = near
    strips = _around(scene.full, before, fit.curves)
    plain = [plainness(*one) for one in zip(strips, fit.curves, strict=True)]
    sides = list(zip(strips, fit.curves, plain, strict=True))
    fit = fit.moved(before, [curve if p < FAINT else to_its_ends(strip, curve) for strip, curve, p in sides])
    searched = scene.middle.to_full(candidate.quad)
    moved = float(np.linalg.norm(fit.corners - searched, axis=1).max())
    paper = [_on_paper(*one) for one in zip(strips, fit.curves, strict=True)]
    deckled = None
    if any(new is not old for new, old in zip(paper, fit.curves, strict=True)):
        fit = fit.moved(before, paper)
    elif min(plain) >= FAINT:
        deckled = _outer_rectangle(scene.full, before, curves=fit.curves)
    return evolve(_told(before, fit, moved, deckled=deckled), plainness=tuple(plain))


def _told(before: Quad, fit: _Fit, moved: float, *, deckled: Quad | None = None) -> Refined:
    """What is told of a fit; `deckled` are the corners of the crests, if they were looked for and found."""
    curves, size = fit.curves, diagonal(fit.corners)
    ends = [np.hypot(curves[i].doubt[0], curves[i - 1].doubt[1]) for i in range(4)]
    corners = fit.corners if deckled is None else deckled
    return Refined(
        corners=corners,
        agreement=tuple(curve.agreement for curve in curves),
        spread=max(curve.spread for curve in curves) / size,
        doubt=float(max(ends)) / size,
        moved=moved / size,
        softness=tuple(curve.softness for curve in curves),
        deckled=deckled is not None,
        bows=_bows(before, corners, curves),
    )


@frozen(eq=False)
class _Fit:
    """Corners in the capture, and the curves that meet there."""

    corners: Quad
    curves: list[Curve]

    def moved(self, before: Quad, curves: list[Curve]) -> _Fit:
        """Other curves beside the same sides and their corners; itself where they don't meet."""
        corners = _corners(before, curves)
        return self if corners is None else _Fit(corners, curves)


OUT_OF_FOCUS = 5.0
"""How much further an edge is looked for where none is seen at first: out of focus it is as wide as that, and the
middle size, not in linear light, shows it towards the dark."""


def _fitted(scene: Scene, candidate: Candidate, windows: tuple[float, float]) -> tuple[Quad, _Fit] | None:
    """The corners that the last curves were fitted from, and the fit; or None."""
    before = quad = scene.middle.to_full(candidate.quad)
    shapes = [np.array([-bow, 0.0, bow]) * scene.middle.scale for bow in candidate.bows]
    curves = list[Curve]()
    for window in windows:
        last = window == windows[-1]
        fitted = _curves(scene.full, quad, shapes, window=window, softness=last, flat=not candidate.chosen)
        corners = _corners(quad, fitted) if fitted else None
        if fitted is None or corners is None:
            return None
        shapes = [_on_new_chord(curve) for curve in fitted]
        before, quad, curves = quad, corners, fitted
    return before, _Fit(quad, curves)


def _around(rgb: Rgb, before: Quad, curves: list[Curve]) -> list[Strip]:
    """What lies beside each side, far enough in for a shadow as thin as a line and out for a corner that lifts."""
    strips = []
    for start, end, curve in zip(before, np.roll(before, -1, axis=0), curves, strict=True):
        length = float(np.linalg.norm(end - start))
        bowed = float(np.abs(curve.at(np.linspace(-1, 1, 9))).max())
        inward, outward_px = 2 * WIDEST * length + bowed + 10, FURTHEST * length + bowed + 7
        side = (start, end)
        strips.append(
            cut_strip(rgb, side, inward=inward, outward_px=outward_px, rows=ROWS, ends=0.02, linear=True)
        )
    return strips


def _on_paper(strip: Strip, curve: Curve) -> Curve:
    """The curve itself, or where it runs along the rim of a shadow as thin as a line, that of the paper within."""
    within = inner_flank(strip, curve)
    if within is None:
        return curve
    shifted = curve.coefficients.copy()
    shifted[-1] += within
    again = fit_curve(strip, shifted, order=ORDER, window=1.6)
    return curve if again is None or again.agreement < 0.5 * curve.agreement else again


BOWED = 5e-4
"""Bow of a side, as a share of its length, from which it is told: corners are found to about as much."""

LEAST_BOW_PX = 0.5
"""Below half a pixel nobody sees a bow, and a plain homography is quicker."""


def _bows(before: Quad, corners: Quad, curves: list[Curve]) -> tuple[float, float, float, float] | None:
    """Each curve's height over the chord of its own ends, half-way between the corners."""
    bows = []
    for i, curve in enumerate(curves):
        start, half = before[i], (before[(i + 1) % 4] - before[i]) / 2
        first, last = (float((corners[j % 4] - start) @ half / (half @ half)) - 1 for j in (i, i + 1))
        ends = (curve.at(first) + curve.at(last)) / 2
        bows.append(float(curve.at((first + last) / 2) - ends))
    lengths = np.linalg.norm(np.roll(corners, -1, axis=0) - corners, axis=1)
    if (np.abs(bows) < np.maximum(BOWED * lengths, LEAST_BOW_PX)).all():
        return None
    top, right, bottom, left = bows
    return top, right, bottom, left


def _curves(
    rgb: Rgb, quad: Quad, shapes: list[Floats], *, window: float, softness: bool, flat: bool
) -> list[Curve] | None:
    wide = window + max(abs(float(shape[2])) for shape in shapes) + 5
    strips = cut_strips(rgb, quad, wide=wide, rows=ROWS, ends=0.05, linear=True)
    expected = [_agreed(strip, shape, window) for strip, shape in zip(strips, shapes, strict=True)]
    near = max(2.0, 0.4 * window)
    fitted = fit_curves(strips, expected, order=ORDER, window=near, softness=softness)
    if flat:
        fitted = [_held(*one, window=near) for one in zip(strips, expected, fitted, strict=True)]
    curves = [curve for curve in fitted if curve is not None]
    return curves if len(curves) == len(fitted) else None


ASTRAY = 1.5
"""Windows by which a curve may lie off the line that was expected, where only the network told the outline: such
prints touch others, and so lie flat, and beside them a curve may bend over to another line. Of 25 drawn sides that
went further 17 were wrong by .5 % of the diagonal or more. Of a curled print that lies alone they go as far."""

STIFFER = (2, 1)
"""Orders that such a side is then fitted with in turn."""


def _held(strip: Strip, expected: Floats, curve: Curve | None, *, window: float) -> Curve | None:
    """The curve, or a stiffer one where it strays from the line that was expected."""
    along = np.linspace(-1.0, 1.0, 9)
    for order in STIFFER:
        if curve is None or np.abs(curve.at(along) - np.polyval(expected, along)).max() <= ASTRAY * window:
            break
        curve = fit_curve(strip, expected, order=order, window=window) or curve
    return curve


RIVAL = 0.6
"""Evidence, as a share of the best line's, from which a line further out is believed before it."""


def _agreed(strip: Strip, shape: Floats, window: float) -> Floats:
    """The curve of the expected bow that most of the side agrees on; of rivals the outermost. A picture without
    border has stronger changes beside its edge than at it, but they don't run along it."""
    strength = coherent_edges(strip, SEGMENTS)
    noise = max(1e-4, float(np.median(strength)))
    bow = float(shape[2])
    lines = vote_lines(strength, strip, reach=round(window), bows=(bow,), noise=noise)
    near = [line for line in lines if abs(line.middle) <= window]
    if not near:
        return shape
    best = max(line.strength * line.coverage for line in near)
    chosen = next(line for line in reversed(near) if line.strength * line.coverage >= RIVAL * best)
    return np.array([-bow, chosen.slope, chosen.middle + bow])


def _outer_rectangle(rgb: Rgb, before: Quad, *, curves: list[Curve]) -> Quad | None:
    """The corners, moved out to the crests where the paper is deckled: where all sides waver, evenly white."""
    moved = []
    for i, curve in enumerate(curves):
        crest = _crest(rgb, (before[i], before[(i + 1) % 4]), curve)
        if crest is None:
            return None
        coefficients = curve.coefficients.copy()
        coefficients[-1] += crest
        moved.append(evolve(curve, coefficients=coefficients))
    return _corners(before, moved)


DECKLED = 0.0015
"""Waver of an edge about its curve, as a share of the side, from which it is deckled: the straightest side of 13
simulated deckled prints had 0.0017, of 56 others that waver anywhere 0.0013 at most."""

UNEVEN = 0.2
"""Median deviation of the edge's contrast, as a share of it, up to which an edge is a white margin's: deckled
prints had 0.09 at most, pictures without border mostly more."""

CREST = 0.97
"""Quantile of the waver that is taken for the crests, which touch the outer rectangle."""


def _crest(rgb: Rgb, side: tuple[Floats, Floats], curve: Curve) -> float | None:
    """How far the crests of a deckled edge lie outside its curve, in pixels; None where it isn't deckled."""
    length = float(np.linalg.norm(side[1] - side[0]))
    reach = 0.02 * length + 2
    wide = reach + 1 + float(np.abs(curve.at(np.linspace(-1, 1, 9))).max())
    rows = int(np.clip(length / 2, 40, 500))
    strip = cut_strip(rgb, side, inward=wide, outward_px=wide, rows=rows, ends=0.05, linear=True)
    across, height = edge_places(strip, curve.at(strip.along), reach)
    seen = height > 0
    if seen.mean() < 0.7:
        return None
    contrast = float(np.median(height[seen]))
    low, high, crest = np.quantile((across - curve.at(strip.along))[seen], (0.25, 0.75, CREST))
    wavers = (high - low) / INTERQUARTILE > max(1.0, DECKLED * length)
    even = float(np.median(np.abs(height[seen] - contrast))) < UNEVEN * contrast
    return float(crest) if wavers and even else None


INTERQUARTILE = 1.349
"""Interquartile range of a normal distribution, in standard deviations."""


def _on_new_chord(curve: Curve) -> Floats:
    """The curve as seen from the chord between its own ends, to second order."""
    start, end, middle = curve.at(-1.0), curve.at(1.0), curve.at(0.0)
    bow = float(middle - (start + end) / 2)
    return np.array([-bow, 0.0, bow])


def _corners(quad: Quad, curves: list[Curve]) -> Quad | None:
    """Corners where neighbouring curves meet: tangents at the corner so far, three times."""
    corners = quad
    for _ in range(3):
        tangents = _tangents(quad, curves, corners=corners)
        met = crossings(np.roll(tangents[:, 1], 1, axis=0), tangents[:, 0])
        if met is None:
            return None
        corners = met
    return corners if is_convex(corners) and area(corners) > 0 else None


def _tangents(quad: Quad, curves: list[Curve], *, corners: Quad) -> Floats:
    """Each curve near its first and its last corner, each as two points: (sides, ends, 2, 2)."""
    half = (np.roll(quad, -1, axis=0) - quad)[:, None] / 2
    out = np.array([outward(start, end) for start, end in zip(quad, np.roll(quad, -1, axis=0), strict=True)])
    ends = np.stack([corners, np.roll(corners, -1, axis=0)], axis=1)
    along = ((ends - quad[:, None]) * half).sum(axis=2) / (half * half).sum(axis=2) - 1
    near = along[..., None] + np.array([-0.01, 0.01])
    across = np.array([curve.at(places) for curve, places in zip(curves, near, strict=True)])
    return np.asarray(
        quad[:, None, None] + half[:, None] * (near[..., None] + 1) + out[:, None, None] * across[..., None]
    )
