"""Places out of a spreadsheet: CSV or XLSX with `name`, and any of the other columns."""

from __future__ import annotations

from pathlib import Path

from solander.authorities.place_files.told import (
    FilePlaces,
    ToldPlace,
    country_told,
    names_in,
    number_told,
    usual_radius_m,
)
from solander.authorities.tables import read_table
from solander.core.errors import CannotBegin, InvalidValue
from solander.core.places import Place
from solander.core.sentence import Sentence

__all__ = ["COLUMNS", "read_sheet"]

COLUMNS = ("name", "country", "latitude", "longitude", "radius_m", "what", "also_called")

_FIELD_OF = {"also_called": "names"}
_ALSO_WRITTEN = {
    "lat": "latitude", "breite": "latitude", "lon": "longitude", "lng": "longitude", "long": "longitude",
    "länge": "longitude", "radius": "radius_m", "land": "country", "also called": "also_called", "ort": "name",
}  # fmt: skip
"""Headings as other programs write them (common practice, no source)."""


def read_sheet(path: Path) -> FilePlaces:
    """The rows of the table.

    Raises
    ------
    CannotBegin
        When it can't be read or has no column `name`.
    """
    table = read_table(path)
    headings = {heading: _meant(heading) for heading in table.headings}
    if "name" not in headings.values():
        raise CannotBegin(
            Sentence("%(path)s has no column “name”", path=path.name),
            Sentence("its first line holds the headings"),
            Sentence("Add one and save again"),
        )
    told: list[ToldPlace] = []
    set_aside: list[str] = []
    columns = frozenset(headings.values())
    for row in table.rows:
        try:
            told.append(_place({headings[heading]: cell for heading, cell in row.cells.items()}, columns))
        except InvalidValue as trouble:
            set_aside.append(f"{path.name}, {row.where}: {trouble.sentence}")
    unknown = [heading for heading, meant in headings.items() if meant and meant not in COLUMNS]
    passed = (
        Sentence("The column “%(name)s” of %(path)s is not known and was passed over.", name=name, path=path.name)
        for name in unknown
    )
    return FilePlaces(tuple(told), tuple(set_aside), tuple(passed))


def _meant(heading: str) -> str:
    plain = heading.strip().casefold()
    return _ALSO_WRITTEN.get(plain, plain)


def _place(row: dict[str, str], columns: frozenset[str]) -> ToldPlace:
    name = row.get("name", "")
    if not name:
        raise InvalidValue(Sentence("A row has no name"), "", Sentence("Fill in the column “name”"))
    what = row.get("what", "")
    latitude, longitude, radius = _position(row, what)
    place = Place(
        name,
        country_told(row.get("country", "")),
        latitude,
        longitude,
        radius,
        what=what,
        names=names_in(row.get("also_called", "")),
    )
    fields = {_FIELD_OF.get(column, column) for column in columns if column in COLUMNS}
    return ToldPlace(place, frozenset(fields | ({"radius_m"} if {"latitude", "longitude"} <= fields else set())))


def _position(row: dict[str, str], what: str) -> tuple[float | None, float | None, float | None]:
    latitude, longitude, radius = (row.get(column, "") for column in ("latitude", "longitude", "radius_m"))
    if not (latitude or longitude or radius):
        return None, None, None
    try:
        north, east = number_told(latitude), number_told(longitude)
        reach = number_told(radius) if radius else usual_radius_m(what)
        Place(row["name"], "", north, east, reach)
    except ValueError as error:
        read = ", ".join(number or "nothing" for number in (latitude, longitude, radius))
        raise InvalidValue(
            Sentence("“%(name)s” has no usable position", name=row["name"]),
            Sentence("latitude, longitude and radius_m read %(read)s", read=read),
            Sentence("Give degrees −90 to 90 and −180 to 180, and metres above 0; or none"),
        ) from error
    return north, east, reach
