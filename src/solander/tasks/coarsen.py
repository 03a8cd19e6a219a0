"""Tells places less exactly in a release: by the nearest town, or by a grid; the uncertainty goes with them."""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache

from attrs import evolve

from solander.authorities.gazetteer.distance import km_between
from solander.authorities.gazetteer.finder import Gazetteer
from solander.authorities.gazetteer.names_then import words_of_place
from solander.core.coarse import on_a_grid
from solander.core.descriptions import DescribedPrint
from solander.core.errors import CannotBegin
from solander.core.places import GEONAMES, Place
from solander.tasks.places import place_reader

__all__ = ["EXACT", "Coarsen", "coarsening"]

EXACT = "exact"

Coarsen = Callable[[DescribedPrint], DescribedPrint]

_LEAST_KM, _MOST_KM = 0.1, 1000.0


def coarsening(how: str) -> Coarsen | None:
    """What makes places as coarse as `how` says: "exact" (None), "town", or the width of a grid such as "10 km".

    Raises
    ------
    CannotBegin
        When that is not understood, or there is no gazetteer for "town".
    """
    if how == EXACT:
        return None
    return _of_prints(_by_town() if how == "town" else _by_grid(how))


def _of_prints(coarse: Callable[[Place], Place]) -> Coarsen:
    def told(one: DescribedPrint) -> DescribedPrint:
        if one.place is None or not one.place.is_located:
            return one
        place = coarse(one.place)
        return evolve(one, place=place, place_words=words_of_place(place, one.when.edtf))

    return told


def _by_grid(how: str) -> Callable[[Place], Place]:
    try:
        km = float(how.casefold().removesuffix("km").strip().replace(",", "."))
    except ValueError:
        km = 0.0
    if not _LEAST_KM <= km <= _MOST_KM:
        raise CannotBegin(
            f"Places can't be told as “{how}”", "", "Say exact, town, or the width of a grid such as 10km"
        )
    return lambda place: on_a_grid(place, km)


def _by_town() -> Callable[[Place], Place]:
    reader = place_reader()
    gazetteer = reader.gazetteer
    if gazetteer is None:
        raise CannotBegin(reader.why_none)
    return lru_cache(maxsize=None)(lambda place: _as_town(place, gazetteer))


def _as_town(place: Place, gazetteer: Gazetteer) -> Place:
    """The nearest town in the place's stead, its circle as large as holds both; a town stays as it is."""
    if place.source == GEONAMES or place.latitude is None or place.longitude is None:
        return place
    town = gazetteer.nearest_town(place.latitude, place.longitude)
    if town is None or (place.radius_m or 0) >= town.radius_m:
        return place
    away = 1000 * km_between((place.latitude, place.longitude), (town.latitude, town.longitude))
    return Place(
        town.name,
        country=town.country,
        latitude=town.latitude,
        longitude=town.longitude,
        radius_m=float(round(max(town.radius_m, away + (place.radius_m or 0)))),
        what="town",
        known_as=(town.known_as,),
        town=town.name,
        region=town.region,
        source=GEONAMES,
        sure=place.sure,
    )
