"""Which of the edges beside a side is the paper's: what is seen beside each, weighed.

Convention: strips as in `edges`, in Lab, across positive outside. A line's `merit` is a logarithm of odds up to a
constant: of the lines of one side, exp(merit) goes with the chance that this one bounds the paper.
"""

from __future__ import annotations

import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from solander.imaging.edges import Floats, Line, Strip
from solander.imaging.stage import STAGE_LIKE, median_of, shadowed, stage_distance

__all__ = ["FEATURES", "Beside", "Choice", "weigh"]

Pixels = NDArray[np.float32]


@frozen(eq=False)
class Beside:
    """The stage's `colour` beside a strip (every second row, every column) and its `spread` there."""

    colour: Pixels
    spread: Pixels


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
    pixels = strip.pixels[::2]
    plain = stage_distance(pixels, beside.colour, beside.spread)
    tolerant = stage_distance(pixels, shadowed(pixels, beside.colour), beside.spread)
    stage = tolerant < STAGE_LIKE
    length = float(np.linalg.norm(strip.end - strip.start))
    columns = [np.rint(line.at(strip.along[::2]) - strip.across[0]).astype(int)[:, None] for line in lines]
    row = np.arange(len(pixels))[:, None]
    last = pixels.shape[1] - 1
    rims = _rims(strip, lines, length)
    evidence = [min(line.strength / PLAIN, 1.0) * line.coverage for line in lines]
    seen = []
    apart = []
    for i, (line, column) in enumerate(zip(lines, columns, strict=True)):
        outside, inside = np.clip(column + OUTSIDE, 0, last), np.clip(column - INSIDE, 0, last)
        departs = float(np.median(plain[row, inside]) - np.median(plain[row, outside])) / DEPARTS
        within = [line.middle - other.middle for other, e in zip(lines[:i], evidence[:i], strict=True) if e > 0.5]
        apart.append(min(within, default=0.0))
        seen.append(
            (
                min(line.strength / PLAIN, 1.0),
                line.coverage,
                float(stage[row, outside].mean()),
                float(np.clip(departs, 0, 1)),
                _sharpness(pixels, column),
                float(stage[:, int(column.max()) + 2 :].mean()) if column.max() + 2 <= last else 1.0,
                float(rims[i]),
                float(i + 1 < len(lines) and rims[i + 1]),
                min(10 * apart[-1] / length, 1.0),
            )
        )
    return np.array(seen), apart


OUTSIDE = np.arange(2, 6)
INSIDE = np.arange(2, 5)
"""Pixels at the middle size beside an edge that are looked at: beyond its blur, within the narrowest border."""

DEPARTS = 1.5
"""Spreads from the stage by which paper departs clearly."""


def _sharpness(pixels: Pixels, column: NDArray[np.int_]) -> float:
    """Share of the change from well inside to well outside that falls near the line, added up over segments."""
    at = np.clip(column + np.array([-6, -5, -4, -2, -1, 1, 2, 4, 5, 6]), 0, pixels.shape[1] - 1)
    beside = pixels[np.arange(len(pixels))[:, None], at]
    rows = len(beside) // 12 * 12 or len(beside)
    parts = beside[:rows].reshape(-1, max(1, rows // 12), 10, 3).mean(axis=1)
    near = np.linalg.norm(parts[:, 5:7].mean(axis=1) - parts[:, 3:5].mean(axis=1), axis=1).sum()
    far = np.linalg.norm(parts[:, 7:].mean(axis=1) - parts[:, :3].mean(axis=1), axis=1).sum()
    return float(near / max(near, far, 1e-6))


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
    middle = (low + high) / 2
    inside = (strip.across >= low) & (strip.across <= high)
    if not inside.any():
        inside = np.arange(len(strip.across)) == int(np.abs(strip.across - middle).argmin())
    return median_of(strip.pixels[:, inside].reshape(-1, 3))
