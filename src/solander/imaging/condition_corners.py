"""Corners of a print that are missing.

Convention (see `conventions`): a `Sheet`; depths in shares of the print's diagonal, so that they hold without a
scale.

Method. From a corner on, stage runs along both sides for a while, and over no paper's edge; then each side begins
as paper, at once; and between the two ends all is stage. That is told along the sides alone, for a picture of the
stage's own grey further in would hide where the loss ends.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from solander.imaging.condition_sheet import BENEATH, LIKE, MOST_ALIKE, OPEN, Distances, Sheet, Torn

__all__ = ["CORNERS", "lost_corners"]

CORNERS = "top left corner", "top right corner", "bottom right corner", "bottom left corner"

SHORTEST, LONGEST, UNEQUAL = 12, 0.3, 3.5
"""Pixels that a leg has at least, shares of the diagonal at most, and how often one may be as long as the
other."""

LANE = 3
"""Pixels side by side in which a leg is followed."""

BEGINS, LENGTH = 5.0, 6
"""Spreads from the stage that paper has where a leg ends, over so many pixels."""

MOST, FILLED = 0.2, 0.85
"""Share of the paper's beginning that may be nearer to the stage; share of the triangle that is stage."""


def lost_corners(sheet: Sheet) -> Iterator[Torn]:
    """The corners that are missing, clockwise from the top left, each with the height of its triangle."""
    alike, around = sheet.alike(), 2 * sum(sheet.size)
    for number, place in enumerate(CORNERS):
        mouths = sheet.mouths[number], sheet.mouths[number - 1][::-1]
        inside = np.rot90(sheet.inside, number)
        legs = _leg(_lane(inside)), _leg(_lane(inside.T))
        if alike - sum(legs) / around > MOST_ALIKE:
            continue
        if _are_legs(legs, sheet.across) and _is_lost(inside, legs, mouths):
            yield Torn(place, legs[0] * legs[1] / float(np.hypot(*legs)) / sheet.across)


def _lane(inside: Distances) -> Distances:
    """Along the top side, just inside the outline."""
    return inside[BENEATH + 1 : BENEATH + 1 + LANE]


def _leg(lane: Distances) -> int:
    """Pixels from the corner on that are stage along the outline: in the lane until three in a row aren't, and
    what a slanting end takes from there out."""
    away = lane.min(axis=0) > LIKE
    ends = away[:-2] & away[1:-1] & away[2:]
    return (int(ends.argmax()) if ends.any() else len(away)) + BENEATH + 1


def _are_legs(legs: tuple[int, int], across: float) -> bool:
    short, long = sorted(legs)
    return short >= SHORTEST and long <= min(LONGEST * across, UNEQUAL * short)


def _is_lost(inside: Distances, legs: tuple[int, int], mouths: tuple[Distances, Distances]) -> bool:
    """Whether a corner, turned to the top left, is open along both legs, ends at paper, and is stage in
    between."""
    wide, high = legs
    if any(float(np.median(mouth[2 : leg - BENEATH - 2])) > OPEN for mouth, leg in zip(mouths, legs, strict=True)):
        return False
    after = [_lane(side)[:, leg : leg + LENGTH] for side, leg in ((inside, wide), (inside.T, high))]
    if any(not paper.size or float(np.quantile(paper, MOST)) < BEGINS for paper in after):
        return False
    y, x = np.mgrid[0.5:high, 0.5:wide]
    between = (x / wide + y / high < 0.9) & (x > BENEATH) & (y > BENEATH)
    return bool(between.any()) and float((inside[:high, :wide][between] < LIKE).mean()) > FILLED
