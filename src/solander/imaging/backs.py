"""Whether a laid side looks like the back of a print with writing on it.

Convention (see `conventions`): views uint8 sRGB, straightened; colours are CIELAB.

Method. A back is paper: light, hardly coloured, nearly even from edge to edge. Writing on it is thin, darker than
the paper around it, and in many pieces. Each of these is a share from 0 (not at all) to 1 (as backs are), and what
fits least decides: a snowy field is even and a street of wires is thin-stroked, but few photographs are both.
"""

from __future__ import annotations

import cv2
import numpy as np
from numpy.typing import NDArray

from solander.imaging.conventions import Rgb, require_rgb
from solander.imaging.stage import reduce, to_lab

__all__ = ["looks_like_written_back"]

Floats = NDArray[np.float32]

LONG_SIDE = 320
"""Pixels at which a view is looked at: a pen's line of half a millimetre on 9 × 13 cm is one and a half wide."""

STROKE = 13
"""Pixels of the window in which paper shows between strokes: more than the width of any letter's line."""

THIN = 5
"""Pixels of the window that no line of a pen fills."""

INK = 10.0
"""Lab lightness below the paper's from which it is ink."""


def looks_like_written_back(view: Rgb) -> float:
    """How much a side looks like a written back, 0 to 1; from .5 on it may be proposed as one."""
    small = np.asarray(cv2.medianBlur(reduce(require_rgb(view), LONG_SIDE).rgb, 3), np.uint8)
    inner = _inside(small)
    lab = to_lab(inner)
    light = np.ascontiguousarray(lab[..., 0])
    paper = _paper(light)
    ink = (paper - light > INK).astype(np.uint8)
    return min(_like_paper(lab, paper, ink), _like_writing(ink))


def _inside(small: Rgb) -> Rgb:
    """Without a twentieth at each edge, where glue, wear and what lies beside are."""
    y, x = (max(1, side // 20) for side in small.shape[:2])
    return np.ascontiguousarray(small[y:-y, x:-x])


def _paper(light: Floats) -> Floats:
    """The paper's lightness under the strokes."""
    closed = cv2.morphologyEx(light, cv2.MORPH_CLOSE, np.ones((STROKE, STROKE), np.uint8))
    return np.asarray(cv2.GaussianBlur(closed, (0, 0), STROKE / 2), np.float32)


def _like_paper(lab: Floats, paper: Floats, ink: NDArray[np.uint8]) -> float:
    """Light, of little colour, even."""
    bare = ink == 0
    chroma = np.hypot(lab[..., 1], lab[..., 2])[bare]
    low, middle, high = np.quantile(paper, (0.03, 0.5, 0.97))
    grain = float(np.median(np.abs(lab[..., 0] - paper)[bare])) if bare.any() else 99.0
    colours = float(np.hypot(lab[..., 1][bare].std(), lab[..., 2][bare].std())) if bare.any() else 99.0
    return min(
        _between(float(middle), none=45, full=60),
        _between(float(np.quantile(chroma, 0.9)) if len(chroma) else 99.0, none=38, full=28),
        _between(float(high - low), none=34, full=18),
        _between(grain, none=6, full=3),
        _between(colours, none=8, full=4.5),
    )


def _like_writing(ink: NDArray[np.uint8]) -> float:
    """Thin, in many pieces, not all over."""
    covered = float(ink.mean())
    if not covered:
        return 0.0
    thick = cv2.morphologyEx(ink, cv2.MORPH_OPEN, np.ones((THIN, THIN), np.uint8))
    pieces = cv2.connectedComponentsWithStats(ink, connectivity=8)[2][1:, cv2.CC_STAT_AREA]
    return min(
        _between(covered, none=0.002, full=0.006),
        _between(covered, none=0.3, full=0.2),
        _between(float(thick.sum() / ink.sum()), none=0.5, full=0.25),
        _between(float((pieces >= 4).sum()), none=3, full=8),
    )


def _between(value: float, *, none: float, full: float) -> float:
    """0 at `none`, 1 at `full`, straight between, whichever is the larger."""
    return float(np.clip((value - none) / (full - none), 0, 1))
