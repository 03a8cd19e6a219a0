"""What a file tells of a place, and what a whole file told."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

from attrs import field, frozen

from solander.authorities.gazetteer.distance import from_west_to_east, km_between
from solander.authorities.gazetteer.qualifiers import country_code
from solander.core.errors import InvalidValue
from solander.core.places import Place, PlaceName
from solander.core.sentence import Sentence

__all__ = [
    "MOST_BYTES",
    "MOST_PLACES",
    "FilePlaces",
    "ToldPlace",
    "circle_around",
    "country_told",
    "names_in",
    "number_told",
    "usual_radius_m",
]

MOST_BYTES = 64 << 20
"""Files beyond this are no list of own places (our choice)."""

MOST_PLACES = 50_000
"""So many own places at most come from one file (our choice)."""

_USUAL_RADIUS_M = {
    "house": 30, "cabin": 30, "farm": 200, "school": 100, "church": 100, "cemetery": 150, "station": 150,
    "lake": 1500, "island": 2000, "mountain": 1000, "forest": 2000, "village": 1000, "town": 3000,
}  # fmt: skip
"""How far such a thing reaches from its middle (our choice, but for the house: 30 m, as Darwin Core's own example
of a position by satellite)."""

_POINT_M = 30.0

_NAME_WITH_YEARS = re.compile(r"(?P<name>.*?)\s*\((?P<first>\d{4})?\s*[–—-]\s*(?P<last>\d{4})?\)")


@frozen
class ToldPlace:
    """A place as a file tells it; `fields` are those of `Place` that the file says something of, and `key` is its
    lasting key in that file, or empty."""

    place: Place
    fields: frozenset[str]
    key: str = ""


@frozen
class FilePlaces:
    """The places of a file, a sentence for each that was set aside, and one for each thing passed over."""

    told: tuple[ToldPlace, ...] = ()
    set_aside: tuple[str, ...] = ()
    passed_over: tuple[str, ...] = field(default=())


def usual_radius_m(what: str) -> float:
    """Metres from its middle within which a thing of that kind lies."""
    return float(_USUAL_RADIUS_M.get(what.strip().casefold(), _POINT_M))


def country_told(said: str) -> str:
    """The two letters of a country that a file names.

    Raises
    ------
    InvalidValue
        When it names none.
    """
    code = country_code(said) if said.strip() else ""
    if said.strip() and not code:
        raise InvalidValue(
            Sentence("The country “%(said)s” is not known", said=said),
            "",
            Sentence("Write its English name or its two letters"),
        )
    return code


def number_told(said: str) -> float:
    """A number as spreadsheets write it, a comma for the point too; ValueError where it is none."""
    return float(said.replace(",", ".") if "." not in said else said)


def circle_around(points: Sequence[tuple[float, float]], what: str) -> tuple[float, float, float]:
    """Latitude, longitude and radius in metres of a circle that holds all points (latitude, longitude in degrees).

    Raises
    ------
    InvalidValue
        When there is no point, or one lies nowhere on earth.
    """
    if not points:
        raise InvalidValue(Sentence("it has no position"), "", Sentence("Give it one"))
    if any(not (abs(north) <= 90 and abs(east) <= 180) for north, east in points):
        raise InvalidValue(
            Sentence("its position is nowhere on earth"),
            "",
            Sentence("Latitudes go to 90 degrees, longitudes to 180"),
        )
    north = (min(point[0] for point in points) + max(point[0] for point in points)) / 2
    west_end, east_end = from_west_to_east([point[1] for point in points])
    east = ((west_end + east_end) / 2 + 180) % 360 - 180
    reach = 1000 * max(km_between((north, east), point) for point in points)
    return round(north, 6), round(east, 6), round(max(reach, usual_radius_m(what)), 1)


def names_in(said: str | Iterable[str]) -> tuple[PlaceName, ...]:
    """Other names out of "Petrograd (1914–1924); Leningrad (1924–1991); Piter"."""
    parts = said.split(";") if isinstance(said, str) else said
    return tuple(_name(part.strip()) for part in parts if part.strip())


def _name(part: str) -> PlaceName:
    found = _NAME_WITH_YEARS.fullmatch(part)
    if not found or not (found["first"] or found["last"]):
        return PlaceName(part)
    return PlaceName(found["name"], found["first"] or "", found["last"] or "")
