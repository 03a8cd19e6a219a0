"""Places out of GeoJSON (RFC 7946): features with a name."""

from __future__ import annotations

import json
import math
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

from solander.authorities.place_files.told import FilePlaces, ToldPlace, circle_around, country_told, names_in
from solander.core.errors import CannotBegin, InvalidValue
from solander.core.places import Place
from solander.core.sentence import Sentence

__all__ = ["read_geojson"]

_NAMES = ("name", "title", "label")
_KINDS = ("what", "kind", "type", "category")
_RADII = ("radius_m", "radius", "accuracy")


def read_geojson(path: Path) -> FilePlaces:
    """The features of the file.

    Raises
    ------
    CannotBegin
        When it is no GeoJSON.
    """
    try:
        whole = json.loads(path.read_text(encoding="utf-8-sig"))
    except (ValueError, RecursionError) as error:
        raise CannotBegin(
            Sentence("%(path)s could not be read", path=path.name),
            Sentence("it is no JSON (%(error)s)", error=error),
            Sentence("Save it again"),
        ) from error
    told: list[ToldPlace] = []
    set_aside: list[str] = []
    for number, feature in enumerate(_features(whole, path), start=1):
        try:
            told.append(_place(feature, path.name))
        except InvalidValue as trouble:
            set_aside.append(
                Sentence(
                    "%(path)s, feature %(number)s: %(trouble)s",
                    path=path.name,
                    number=number,
                    trouble=trouble.sentence,
                )
            )
    return FilePlaces(tuple(told), tuple(set_aside))


def _features(whole: Any, path: Path) -> list[Any]:
    kind = whole.get("type") if isinstance(whole, dict) else None
    features = whole.get("features") if kind == "FeatureCollection" else [whole] if kind == "Feature" else None
    if not isinstance(features, list):
        raise CannotBegin(
            Sentence("%(path)s could not be read", path=path.name),
            Sentence("it holds no features"),
            Sentence("Export places as GeoJSON"),
        )
    return features


def _place(feature: Any, file: str) -> ToldPlace:
    held = feature.get("properties") if isinstance(feature, dict) else None
    held = held if isinstance(held, dict) else {}
    name = _first(held, _NAMES)
    if not name:
        raise InvalidValue(Sentence("it has no name"), "", Sentence("Give it a property “name”"))
    what = _first(held, _KINDS)
    try:
        points = list(_points(_coordinates(feature.get("geometry"))))
        latitude, longitude, radius = circle_around(points, what)
        radius = _radius(_first(held, _RADII)) or radius
        place = Place(
            name,
            country_told(str(held.get("country") or "")),
            latitude,
            longitude,
            radius,
            what=what,
            names=names_in(_first(held, ("also_called", "alt_name", "old_name"))),
        )
    except ValueError as error:
        raise InvalidValue(Sentence("“%(name)s” has no usable position", name=name), str(error)) from error
    except InvalidValue as trouble:
        raise InvalidValue(
            Sentence("“%(name)s” was not taken in", name=name), trouble.what, trouble.todo
        ) from trouble
    told = {"name", "latitude", "longitude", "radius_m"}
    told |= {field for field in ("country", "what", "names") if getattr(place, field)}
    return ToldPlace(place, frozenset(told), _key(feature, file))


def _radius(said: str) -> float:
    """The radius that a feature tells, 0 where it tells none."""
    radius = float(said or 0)
    if not 0 <= radius < math.inf or (said and not radius):
        raise ValueError(Sentence("its radius reads %(said)s", said=said))
    return radius


def _key(feature: Mapping[str, Any], file: str) -> str:
    ident = feature.get("id")
    return f"{file}#{ident}" if isinstance(ident, str | int) and not isinstance(ident, bool) else ""


def _first(held: Mapping[str, Any], names: tuple[str, ...]) -> str:
    found = (held.get(name) for name in names)
    return next((str(one).strip() for one in found if isinstance(one, str | int | float) and str(one).strip()), "")


def _coordinates(geometry: Any) -> Any:
    if not isinstance(geometry, dict):
        return []
    if geometry.get("type") == "GeometryCollection":
        return [_coordinates(one) for one in geometry.get("geometries") or ()]
    return geometry.get("coordinates") or []


def _points(nested: Any, depth: int = 0) -> Iterator[tuple[float, float]]:
    """All positions, however deep; GeoJSON has the longitude first."""
    if not isinstance(nested, list) or depth > 6:
        raise ValueError(Sentence("its coordinates are not written as GeoJSON has them"))
    if nested and all(isinstance(number, int | float) for number in nested):
        if len(nested) < 2:
            raise ValueError(Sentence("a position needs two numbers"))
        yield float(nested[1]), float(nested[0])
    else:
        for part in nested:
            yield from _points(part, depth + 1)
