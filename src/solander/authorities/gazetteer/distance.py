"""Distances on the ground, and how large a place is of which only its people are counted."""

from __future__ import annotations

import math
from collections.abc import Sequence

__all__ = ["from_west_to_east", "km_between", "radius_of_town"]

_EARTH_KM = 6371.0088  # mean radius (IUGG)

_PEOPLE_PER_KM2 = 2500
"""How densely towns are settled, outskirts and all (our choice, no source)."""

_LEAST_M, _MOST_M = 1000, 40_000
"""No circle is smaller than a village with its farms or larger than a city with its suburbs (our choice)."""

_UNKNOWN_M = 2000
"""Where nobody counted the people (our choice)."""


def km_between(one: tuple[float, ...], other: tuple[float, ...]) -> float:
    """Kilometres along the great circle between two points (latitude, longitude in degrees; haversine formula)."""
    north, east, north_too, east_too = map(math.radians, (*one[:2], *other[:2]))
    half = (
        math.sin((north_too - north) / 2) ** 2
        + math.cos(north) * math.cos(north_too) * math.sin((east_too - east) / 2) ** 2
    )
    return 2 * _EARTH_KM * math.asin(min(1.0, math.sqrt(half)))


def from_west_to_east(degrees: Sequence[float]) -> tuple[float, float]:
    """The longitudes between which all lie, the shorter way: beyond 180° where it crosses the date line."""
    other_way = [one % 360 for one in degrees]
    straight = min(degrees), max(degrees)
    across = min(other_way), max(other_way)
    return min(straight, across, key=lambda ends: ends[1] - ends[0])


def radius_of_town(population: int) -> int:
    """Metres from its middle within which a town of so many people lies: a disc of 2,500 people per km².

    Rounded up to two figures, so that nobody reads more into it than there is.
    """
    if population <= 0:
        return _UNKNOWN_M
    metres = 1000 * math.sqrt(population / _PEOPLE_PER_KM2 / math.pi)
    step = 10 ** max(1, math.floor(math.log10(metres)) - 1)
    return int(min(_MOST_M, max(_LEAST_M, math.ceil(metres / step) * step)))
