"""Which of the edges beside a side is the paper's: what is seen beside each, weighed.

Convention: strips as in `edges`, in Lab, across positive outside. A line's `merit` is a logarithm of odds up to a
constant: of the lines of one side, exp(merit) goes with the chance that this one bounds the paper.
"""

from __future__ import annotations

from functools import cached_property

import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from solander.imaging.edges import Floats, Line, Strip, length_of
from solander.imaging.stage import STAGE_LIKE, median_of, shadowed, stage_distance

__all__ = ["FEATURES", "Beside", "Choice", "weigh"]

Pixels = NDArray[np.float32]


@frozen(eq=False)
class Beside:
    """What is seen beside a side, every second row and every column: the `pixels`, the stage's `colour` there and
    its `spread`."""

    pixels: Pixels
    colour: Pixels
    spread: Pixels

    @cached_property
    def departs(self) -> Pixels:
        """How many spreads each place is from the stage."""
        return stage_distance(self.pixels, self.colour, self.spread)

    @cached_property
    def like_stage(self) -> NDArray[np.bool_]:
        """Where stage is seen, be it in shadow."""
        tolerant = stage_distance(self.pixels, shadowed(self.pixels, self.colour), self.spread)
        return np.asarray(tolerant < STAGE_LIKE)


@frozen(eq=False)
class Choice:
    """A line, its merit, and what was `seen` of it (in the order of `FEATURES`).

    `beyond` is the share of the places just outside it that look like stage (0–1), `apart` how far inside it the
    next plain line lies (pixels; 0 without), `inside` the colour (Lab) just inside it.
    """

    line: Line
    merit: float
    seen: Floats
    beyond: float
    apart: float
    inside: Pixels

    @property
    def is_rim(self) -> bool:
        """Whether it looks like the rim of a shadow."""
        return bool(self.seen[FEATURES.index("shadow's rim")])


FEATURES = (
    "strength",
    "coverage",
    "beyond",
    "departs",
    "sharp",
    "clear",
    "shadow's rim",
    "has a shadow",
    "apart",
    "goes on",
)
"""What a line is weighed by, each about 0–1.

strength: of its evidence, up to what is plain. coverage: share of its length with an edge. beyond: share of the
places just outside that look like stage, be it in shadow. departs: how far those just inside differ from the stage
more than those outside. sharp: share of the change that falls within two pixels (paper is sharp, a shadow soft).
clear: share of all places further out that look like stage. shadow's rim: it bounds stage in the shadow of a line
just inside. has a shadow: the next line outside is such a rim. apart: distance of the next plain line inside, in
tenths of the side (a border). goes on: how much of it is seen beyond the side's ends as well (a board's joint, a
table's edge, not paper).
"""

WEIGHTS = np.array([0.6, 2.3, 3.1, 1.4, 2.1, 1.1, -1.0, 1.0, 2.0, -1.2])
"""Conditional logit of which line is the paper's, settled between two fits: that of
`benchmarks/calibrate_finder.py` (1,082 sides) and one on 1,125 sides with harder shadows of paper, whose rims the
former alone takes for paper too often (91 % of these sides right; with these weights 97 %)."""


def weigh(strip: Strip, lines: list[Line], beside: Beside, going_on: list[float]) -> list[Choice]:
    """Each line (from inside to outside) with its merit; `going_on` tells of each how much of it is seen beyond
    the side's ends (0–1)."""
    if not lines:
        return []
    seen, apart = _seen(strip, lines, beside)
    seen = np.column_stack([seen, going_on])
    return [
        Choice(line, float(WEIGHTS @ features), features, float(features[2]), width, _inside(strip, line))
        for line, features, width in zip(lines, seen, apart, strict=True)
    ]


def _inside(strip: Strip, line: Line) -> Pixels:
    return _colour(strip, line.middle - 4, line.middle - 2)


PLAIN = 6.0
"""Noise units from which an edge is as good as any."""


def _seen(strip: Strip, lines: list[Line], beside: Beside) -> tuple[Floats, list[float]]:
    pixels, stage = beside.pixels, beside.like_stage
    length = float(np.linalg.norm(strip.end - strip.start))
    places = np.array([line.at(strip.along[::2]) for line in lines])
    column = np.rint(places - strip.across[0]).astype(int)[..., None]
    row = np.arange(len(pixels))[:, None]
    last = pixels.shape[1] - 1
    outside, inside = np.clip(column + OUTSIDE, 0, last), np.clip(column - INSIDE, 0, last)
    departs = (_medians(beside.departs[row, inside]) - _medians(beside.departs[row, outside])) / DEPARTS
    further = column.max(axis=(1, 2)) + 2
    rims = _rims(strip, lines, length)
    strength = np.array([min(line.strength / PLAIN, 1.0) for line in lines])
    coverage = np.array([line.coverage for line in lines])
    apart = _apart(lines, strength * coverage)
    seen = (
        strength,
        coverage,
        stage[row, outside].mean(axis=(1, 2)),
        np.clip(departs, 0, 1),
        _sharpness(pixels, column),
        [float(stage[:, first:].mean()) if first <= last else 1.0 for first in further],
        rims,
        [*rims[1:], False],
        np.minimum(10 * np.array(apart) / length, 1.0),
    )
    return np.column_stack(seen), apart


def _apart(lines: list[Line], evidence: Floats) -> list[float]:
    """How far inside each line the next plain one lies (pixels; 0 without)."""
    apart = []
    for i, line in enumerate(lines):
        within = [line.middle - other.middle for other, e in zip(lines[:i], evidence[:i], strict=True) if e > 0.5]
        apart.append(min(within, default=0.0))
    return apart


def _medians(values: Pixels) -> Floats:
    """The median of each of (n, …)."""
    return np.asarray(median_of(values.reshape(len(values), -1).T), np.float64)


OUTSIDE = np.arange(2, 6)
INSIDE = np.arange(2, 5)
"""Pixels at the middle size beside an edge that are looked at: beyond its blur, within the narrowest border."""

DEPARTS = 1.5
"""Spreads from the stage by which paper departs clearly."""


PARTS = 12
"""Parts of a side within which changes add up with their sign."""


def _sharpness(pixels: Pixels, column: NDArray[np.int_]) -> Floats:
    """Share of the change from well inside to well outside that falls near each line, added up over parts of it;
    `column` is (lines, rows, 1)."""
    at = np.clip(column + np.array([-6, -5, -4, -2, -1, 1, 2, 4, 5, 6]), 0, pixels.shape[1] - 1)
    rows = len(pixels) // PARTS * PARTS
    beside = pixels[np.arange(rows)[:, None], at[:, :rows]]
    parts = beside.reshape(len(column), PARTS, -1, 10, 3).mean(axis=2)
    near = length_of(parts[:, :, 5:7].mean(axis=2) - parts[:, :, 3:5].mean(axis=2)).sum(axis=1)
    far = length_of(parts[:, :, 7:].mean(axis=2) - parts[:, :, :3].mean(axis=2)).sum(axis=1)
    return np.asarray(near / np.maximum(np.maximum(near, far), 1e-6), np.float64)


def _rims(strip: Strip, lines: list[Line], length: float) -> list[bool]:
    """For each line whether it is the rim of the shadow that the next line inside throws."""
    return [i > 0 and _is_rim(strip, outer=lines[i], inner=lines[i - 1], length=length) for i in range(len(lines))]


def _is_rim(strip: Strip, *, outer: Line, inner: Line, length: float) -> bool:
    """Whether the band between two lines is stage in the paper's shadow: darker than the stage beyond it, of much
    the same colour, narrow, and the paper inside is brighter than it by twice as much."""
    if outer.middle - inner.middle > 0.08 * length or inner.coverage < 0.8:
        return False
    beyond = _colour(strip, outer.middle + 2, outer.middle + 7)
    band = _colour(strip, inner.middle + 1.5, outer.middle - 1.5)
    paper = _colour(strip, inner.middle - 6, inner.middle - 2)
    fall = beyond[0] - band[0]
    darkened = shadowed(band[None], beyond[None])[0]
    same_hue = np.linalg.norm(darkened[1:] - band[1:]) < 4 + 0.2 * fall
    least = RISES if outer.middle - inner.middle < THIN * length else 2.0
    return bool(fall > 1 and same_hue and paper[0] - band[0] > least * fall)


THIN, RISES = 0.012, 0.5
"""Share of the side up to which a band is a line, and share of its fall by which paper within need be brighter
than it: no border is printed as thin, paper's shadow where it lies is."""


def _colour(strip: Strip, low: float, high: float) -> Pixels:
    """Median Lab of the columns between two distances (the nearest one where none lies between)."""
    first = int(np.searchsorted(strip.across, low))
    last = int(np.searchsorted(strip.across, high, side="right"))
    if first >= last:
        first = int(np.abs(strip.across - (low + high) / 2).argmin())
        last = first + 1
    return median_of(strip.pixels[:, first:last].reshape(-1, 3))
