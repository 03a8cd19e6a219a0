"""Places told less exactly than they are known, for those who need not know more; how much less is told too."""

from __future__ import annotations

import math

from attrs import evolve

from solander.core.places import Place

__all__ = ["on_a_grid"]

_KM_OF_A_DEGREE = 111.195  # of latitude, on a sphere of mean radius 6371.0088 km


def on_a_grid(place: Place, km: float) -> Place:
    """The place as the middle of a square of a fixed grid, `km` wide, with a circle that holds all it may be.

    A place that is known less exactly than that stays as it is. The same place always gives the same square, so
    that many pictures of it tell no more than one.
    """
    if place.latitude is None or place.longitude is None or place.radius_m is None:
        return place
    half_diagonal = 1000 * km * math.sqrt(2) / 2
    if place.radius_m >= half_diagonal:
        return place
    north = _middle(place.latitude, km / _KM_OF_A_DEGREE)
    # Squares of one row are equally wide; towards the poles a degree of longitude is shorter.
    step = km / (_KM_OF_A_DEGREE * max(0.01, math.cos(math.radians(north))))
    east = _middle(place.longitude, step)
    return evolve(
        place,
        latitude=round(max(-90.0, min(90.0, north)), 4),
        longitude=round((east + 180) % 360 - 180, 4),
        radius_m=float(math.ceil(half_diagonal + place.radius_m)),
    )


def _middle(degrees: float, step: float) -> float:
    return (math.floor(degrees / step) + 0.5) * step
