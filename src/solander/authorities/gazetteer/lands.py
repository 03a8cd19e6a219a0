"""Lands by what is said: countries, provinces, lakes and ranges, states that are gone."""

from __future__ import annotations

import math
from collections.abc import Collection, Iterator

from attrs import evolve

from solander.authorities.gazetteer import weights
from solander.authorities.gazetteer.distance import km_between
from solander.authorities.gazetteer.index import Index, Stretch, Town
from solander.authorities.gazetteer.phrase import Reading
from solander.authorities.gazetteer.qualifiers import Area, areas_named
from solander.authorities.gazetteer.span import Span
from solander.authorities.gazetteer.weights import Seen, of_people
from solander.core.place_finds import PlaceFound

__all__ = ["lands_called"]

_PEOPLE_PER_KM2 = 100
"""Of a land that is told by a circle (our choice)."""


def lands_called(reading: Reading, index: Index, span: Span, towns: Collection[Town]) -> Iterator[Seen]:
    """The lands that are called so in a phrase about those days; `towns` are called the same."""
    for area in areas_named(reading.head):
        box = index.stretch(sorted(area.countries), sorted(area.regions))
        if box is not None:
            unused = (*reading.left, *reading.others)
            quality = 0.5 ** len(reading.others)
            quality *= weights.QUALITY_OF_A_COMMON_WORD if reading.is_common else 1.0
            weight = _weight(area, box, reading, span, towns)
            yield Seen(evolve(_land(area, box), unused=unused), weight, quality)


def _weight(area: Area, box: Stretch, reading: Reading, span: Span, towns: Collection[Town]) -> float:
    people = int(_PEOPLE_PER_KM2 * math.pi * area.circle[2] ** 2) if area.circle else box.population
    weight = of_people(people) + weights.A_LAND + weights.SUPPOSED * reading.doubt
    if area.is_gone and not (span.is_known and span.meets(area.valid_from, area.valid_to)):
        weight += weights.A_LAND_OF_OTHER_TIMES
    if any(town.main and _lies_in(town, area) for town in towns):
        weight += weights.A_LAND_OF_ITS_TOWN
    if area.circle and not reading.doubt and " " in reading.head:
        weight += weights.A_LAND_SAID_IN_FULL
    return weight + weights.ONLY_THE_LAND * len(reading.others)


def _lies_in(town: Town, area: Area) -> bool:
    return area.holds(town.country, town.region, (town.latitude, town.longitude))


def _land(area: Area, box: Stretch) -> PlaceFound:
    """A land as a circle: its own, else the one around the box of all its places."""
    if area.circle:
        latitude, longitude, radius = area.circle
    else:
        latitude, longitude = (box.south + box.north) / 2, (box.west + box.east) / 2
        corners = ((box.south, box.west), (box.south, box.east), (box.north, box.west), (box.north, box.east))
        radius = max(km_between((latitude, longitude), corner) for corner in corners)
    countries = area.countries | {country for country, _ in area.regions}
    return PlaceFound(
        name=area.name,
        country=next(iter(countries)) if len(countries) == 1 else "",
        latitude=round(latitude, 2),
        longitude=round((longitude + 180) % 360 - 180, 2),
        radius_m=math.ceil(max(radius, 1.0)) * 1000.0,
        reasons=(f"a state of {area.valid_from}–{area.valid_to}",) if area.is_gone else (),
        known_as=f"land:{area.name}",
        what="land",
    )
