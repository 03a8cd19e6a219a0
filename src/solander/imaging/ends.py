"""A side followed to its ends, where a corner of the paper lifts and a low-order curve doesn't go along.

Convention (see `conventions`): strips as in `edges`, in linear light.
"""

from __future__ import annotations

import cv2
import numpy as np
from attrs import evolve
from numpy.typing import NDArray

from solander.imaging.curves import Curve
from solander.imaging.edges import Floats, Strip, gradient, length_of

__all__ = ["FAINT", "FURTHEST", "plainness", "to_its_ends"]

Pixels = NDArray[np.float32]

FROM = 0.45
"""Share of the half side, from its middle, from which it is followed."""

STRAY = 2
"""Columns to either side of where an edge should go on within which it is looked for."""

SEEN = 0.35
"""Share of the usual height that the followed edge must have in a row to count there."""

FOLLOWED = 0.8
"""Share of the rows in which it must be seen."""

LIFTED = 0.002
"""Share of the side by which the followed edge must leave the curve at the end for the corner to be lifted."""

FURTHEST = 0.04
"""Share of the side by which it may at most: more is another thing's edge."""

ORDER = 6
"""Of the curve with lifted ends."""


FAINT = 5.0
"""Height of an edge, in medians of what lies outside it, below which its way can't be followed row by row: dark
paper on black had 2 to 4 where it was followed astray, curled sheets 9 and more."""


def plainness(strip: Strip, curve: Curve) -> float:
    """Height of the edge along a curve, in medians of the changes outside it; 0 where nothing lies outside."""
    strength = _strength(strip)
    outside = strength[:, strip.across > float(curve.at(strip.along).max()) + BESIDE]
    noise = float(np.median(outside)) if outside.size else np.inf
    return _height(strength, curve.at(strip.along) - strip.across[0]) / max(noise, 1e-6)


BESIDE = 4.0
"""Pixels outside an edge from which its own blur is no more seen."""


def _strength(strip: Strip) -> Pixels:
    change = cv2.blur(gradient(strip.pixels), (1, 3), borderType=cv2.BORDER_REPLICATE)
    return length_of(np.asarray(change, np.float32))


def to_its_ends(strip: Strip, curve: Curve) -> Curve:
    """The curve, or where the edge leaves it steadily outwards towards an end, one of higher order along it.
    Inwards it is a rounded corner that is left."""
    strength = _strength(strip)
    length = float(np.linalg.norm(strip.end - strip.start))
    places = curve.at(strip.along) - strip.across[0]
    usual = _height(strength, places)
    least = max(2.0, 4 * curve.spread, LIFTED * length)
    lifted = False
    for rows in (np.flatnonzero(strip.along > FROM), np.flatnonzero(strip.along < -FROM)[::-1]):
        followed = _follow(strength, places, rows, SEEN * usual)
        if followed is None:
            continue
        away = float(np.median((followed - places[rows])[-5:]))
        if least < away < FURTHEST * length:
            places[rows] = followed
            lifted = True
    if not lifted:
        return curve
    coefficients = np.polyfit(strip.along, places + strip.across[0], ORDER)
    away = places + strip.across[0] - np.polyval(coefficients, strip.along)
    return evolve(curve, coefficients=coefficients, spread=max(curve.spread, float(np.sqrt(np.mean(away**2)))))


def _height(strength: Pixels, places: Floats) -> float:
    rows = np.arange(len(places))
    columns = np.clip(np.rint(places).astype(int), 1, strength.shape[1] - 2)[:, None] + np.arange(-1, 2)
    return float(np.median(strength[rows[:, None], columns].max(axis=1)))


def _follow(strength: Pixels, places: Floats, rows: NDArray[np.int_], least: float) -> Floats | None:
    """The columns of the edge in rows towards an end, each sought where those before lead; None if lost."""
    place, slope, seen = float(places[rows[0]]), 0.0, 0
    followed = []
    for of_row in strength[rows].tolist():
        expected = place + slope
        low = round(expected) - STRAY
        if low < 1 or low + 2 * STRAY + 2 >= len(of_row):
            return None
        near = of_row[low : low + 2 * STRAY + 1]
        here = max(near)
        top = low + near.index(here)
        left, right = of_row[top - 1], of_row[top + 1]
        if here >= max(left, right, least):
            bend = left - 2 * here + right
            found = top + (0.5 * (left - right) / bend if bend < 0 else 0.0)
            seen += 1
            step = (1 - STEADY) * (found - expected)
            slope += TURNS * step
            expected += step
        place = expected
        followed.append(place)
    return np.array(followed) if seen >= FOLLOWED * len(rows) else None


STEADY, TURNS = 0.5, 0.3
"""How much the way so far counts against the row's own edge, and the share of the rest by which it turns there
(our choice: slow enough to pass over a gap of a row or two)."""
