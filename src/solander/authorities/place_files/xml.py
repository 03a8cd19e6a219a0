"""Places out of KML, KMZ and GPX."""

from __future__ import annotations

import zipfile
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from defusedxml import DefusedXmlException  # type: ignore[import-untyped]
from defusedxml.ElementTree import ParseError, fromstring  # type: ignore[import-untyped]

from solander.authorities.place_files.told import MOST_BYTES, FilePlaces, ToldPlace, circle_around
from solander.core.errors import CannotBegin, InvalidValue
from solander.core.places import Place
from solander.core.sentence import Sentence

__all__ = ["read_gpx", "read_kml"]

Element = Any
"""An element of the standard library's tree, which defusedxml builds."""


def read_kml(path: Path) -> FilePlaces:
    """The placemarks of a KML file, or of the first one in a KMZ.

    Raises
    ------
    CannotBegin
        When it is damaged, too large, or has parts that could harm.
    """
    return _all(path, _placemarks(_tree(_kml_bytes(path), path)), "placemark")


def read_gpx(path: Path) -> FilePlaces:
    """The waypoints of a GPX file; its tracks and routes are no places.

    Raises
    ------
    CannotBegin
        As for `read_kml`.
    """
    tree = _tree(path.read_bytes(), path)
    found = _all(path, _waypoints(tree), "waypoint")
    paths = sum(_bare(element) in ("trk", "rte") for element in tree)
    lines = Sentence("a track or route") if paths == 1 else Sentence("%(paths)s tracks or routes", paths=paths)
    passed = (
        (Sentence("%(path)s: %(lines)s passed over; only waypoints are places.", path=path.name, lines=lines),)
        if paths
        else ()
    )
    return FilePlaces(found.told, found.set_aside, passed)


def _kml_bytes(path: Path) -> bytes:
    if not zipfile.is_zipfile(path):
        return path.read_bytes()
    with zipfile.ZipFile(path) as packed:
        inside = next((one for one in packed.infolist() if one.filename.lower().endswith(".kml")), None)
        if inside is None or inside.file_size > MOST_BYTES:
            raise CannotBegin(
                Sentence("%(path)s could not be read", path=path.name),
                Sentence("it holds no KML file of a usual size"),
                Sentence("Export it again"),
            )
        with packed.open(inside) as file:
            return file.read(MOST_BYTES)


def _tree(content: bytes, path: Path) -> Element:
    try:
        return fromstring(content, forbid_dtd=True)
    except DefusedXmlException as error:
        why = Sentence("it declares a document type or entities, which could harm")
        raise CannotBegin(
            Sentence("%(path)s was not read", path=path.name),
            why,
            Sentence("Export it again from the program it came from"),
        ) from error
    except (ParseError, ValueError, LookupError) as error:
        raise CannotBegin(
            Sentence("%(path)s could not be read", path=path.name),
            Sentence("it is damaged (%(error)s)", error=error),
            Sentence("Export it again"),
        ) from error


def _all(path: Path, places: Iterator[tuple[str, str, str, str]], kind: str) -> FilePlaces:
    """`places` are name, kind, key and coordinates as KML writes them ("longitude,latitude ")."""
    told: list[ToldPlace] = []
    set_aside: list[str] = []
    for number, (name, what, key, coordinates) in enumerate(places, start=1):
        try:
            told.append(_place(name, what, f"{path.name}#{key}" if key else "", coordinates))
        except InvalidValue as trouble:
            set_aside.append(f"{path.name}, {kind} {number}: {trouble.sentence}")
    return FilePlaces(tuple(told), tuple(set_aside))


def _place(name: str, what: str, key: str, coordinates: str) -> ToldPlace:
    if not name:
        raise InvalidValue(Sentence("it has no name"), "", Sentence("Name it"))
    try:
        latitude, longitude, radius = circle_around(_points(coordinates), what)
    except ValueError as error:
        raise InvalidValue(
            Sentence("“%(name)s” was not taken in", name=name),
            Sentence("its coordinates are no numbers"),
            Sentence("Lay it again"),
        ) from error
    except InvalidValue as trouble:
        raise InvalidValue(
            Sentence("“%(name)s” was not taken in", name=name), trouble.what, trouble.todo
        ) from trouble
    fields = {"name", "latitude", "longitude", "radius_m"} | ({"what"} if what else set())
    return ToldPlace(Place(name, "", latitude, longitude, radius, what=what), frozenset(fields), key)


def _points(coordinates: str) -> list[tuple[float, float]]:
    points = (point.split(",") for point in coordinates.split())
    return [(float(point[1]), float(point[0])) for point in points if len(point) > 1]


def _bare(element: Element) -> str:
    """The name of an element without its namespace, which differs from version to version."""
    return str(element.tag).rpartition("}")[2]


def _text(element: Element, name: str) -> str:
    found = next((child for child in element if _bare(child) == name), None)
    return " ".join((found.text or "").split()) if found is not None else ""


def _placemarks(tree: Element) -> Iterator[tuple[str, str, str, str]]:
    for element in tree.iter():
        if _bare(element) == "Placemark":
            coordinates = (one.text or "" for one in element.iter() if _bare(one) == "coordinates")
            yield _text(element, "name"), "", element.get("id") or "", " ".join(coordinates)


def _waypoints(tree: Element) -> Iterator[tuple[str, str, str, str]]:
    for element in tree:
        if _bare(element) == "wpt":
            yield _text(element, "name"), _text(element, "type"), "", f"{element.get('lon')},{element.get('lat')}"
