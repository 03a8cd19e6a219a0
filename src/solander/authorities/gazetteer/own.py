"""The collection's own places by what is said: their names, their other names in the years in which those held."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from rapidfuzz.distance import OSA

from solander.authorities.gazetteer.folding import key_of
from solander.authorities.gazetteer.span import Span
from solander.core.place_finds import PlaceFound
from solander.core.places import Place

__all__ = ["own_places_like"]

_LEAST_ALIKE = 0.84
"""Own names are few, so that a slip shows; yet “Nordgard” is not “Nygard” (our choice)."""

_OUT_OF_ITS_YEARS = 0.5


def own_places_like(heads: Sequence[str], own: Sequence[Place], years: Span) -> tuple[PlaceFound, ...]:
    """Own places with a position that are called so, the best first; `heads` are ways to take what was said."""
    keys = [key_of(head) for head in heads]
    found = []
    for place in own:
        if place.latitude is not None and place.longitude is not None:
            score, reason = max(_scores(keys, place, years), default=(0.0, ""))
            if score >= _LEAST_ALIKE * _OUT_OF_ITS_YEARS:
                found.append(_found(place, place.latitude, place.longitude, score, reason))
    return tuple(sorted(found, key=lambda one: (-one.score, one.name)))


def _scores(keys: Sequence[str], place: Place, years: Span) -> Iterator[tuple[float, str]]:
    for key in keys:
        yield _alike(key, key_of(place.name)), "one of your own places"
        for name in place.names:
            held = years.meets(name.valid_from, name.valid_to)
            score = _alike(key, key_of(name.text))
            yield (
                score if held else score * _OUT_OF_ITS_YEARS,
                f"{name.text} is a name of your own place {place.name}",
            )


def _alike(key: str, other: str) -> float:
    alike = OSA.normalized_similarity(key, other, score_cutoff=_LEAST_ALIKE)
    return float(alike) if len(key) > 3 or alike == 1 else 0.0


def _found(place: Place, latitude: float, longitude: float, score: float, reason: str) -> PlaceFound:
    return PlaceFound(
        name=place.name,
        country=place.country,
        latitude=latitude,
        longitude=longitude,
        radius_m=place.radius_m or 1.0,
        score=round(score, 3),
        reasons=(reason,),
        region=place.region,
        known_as=next(iter(place.known_as), ""),
        what=place.what,
        own=place,
    )
