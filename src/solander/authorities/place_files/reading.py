"""Which kind of file it is, by what it holds rather than what it is called."""

from __future__ import annotations

from collections import defaultdict
from pathlib import Path

from solander.authorities.gazetteer.distance import km_between
from solander.authorities.place_files.geojson import read_geojson
from solander.authorities.place_files.sheet import read_sheet
from solander.authorities.place_files.told import MOST_BYTES, MOST_PLACES, FilePlaces, ToldPlace
from solander.authorities.place_files.xml import read_gpx, read_kml
from solander.core.errors import CannotBegin
from solander.core.sentence import Number, Sentence

__all__ = ["is_geonames_dump", "read_place_file"]

_BEGINNING = 4096
_COLUMNS_OF_A_DUMP = 19
"""Of GeoNames' country files (its readme.txt, from memory), apart by tabs, without a heading."""


def read_place_file(path: Path) -> FilePlaces:
    """The places of a file.

    Raises
    ------
    CannotBegin
        When it can't be read, is too large, or is of no kind that is known.
    """
    beginning = _beginning(path)
    if is_geonames_dump(beginning):
        raise CannotBegin(
            Sentence("%(path)s was not taken in", path=path.name),
            Sentence("it is a country file of GeoNames, with more places than are your own"),
            Sentence("Take it in for all collections: solander landmarks %(path)s", path=path.name),
        )
    return _named_apart(_read(path, beginning), path)


def _beginning(path: Path) -> bytes:
    try:
        if path.stat().st_size > MOST_BYTES:
            raise CannotBegin(
                Sentence("%(path)s was not read", path=path.name),
                Sentence("it is larger than %(what)s MB", what=MOST_BYTES >> 20),
                Sentence("Divide it into smaller files"),
            )
        with path.open("rb") as file:
            return file.read(_BEGINNING)
    except OSError as error:
        raise CannotBegin(
            Sentence("%(path)s could not be read", path=path), error.strerror or "", Sentence("Check the name")
        ) from error


def is_geonames_dump(beginning: bytes) -> bool:
    """Whether a file that begins so is a country file of GeoNames."""
    cells = beginning.partition(b"\n")[0].split(b"\t")
    return len(cells) == _COLUMNS_OF_A_DUMP and cells[0].strip(b"\xef\xbb\xbf").isdigit()


def _read(path: Path, beginning: bytes) -> FilePlaces:
    kind = path.suffix.casefold()
    plain = beginning.lstrip(b"\xef\xbb\xbf \t\r\n")
    if plain.startswith(b"{") or kind in (".geojson", ".json"):
        return read_geojson(path)
    if plain.startswith(b"<"):
        return read_gpx(path) if b"<gpx" in beginning else read_kml(path)
    return read_kml(path) if kind in (".kmz", ".kml") else read_gpx(path) if kind == ".gpx" else read_sheet(path)


def _named_apart(found: FilePlaces, path: Path) -> FilePlaces:
    """Without places that bear one name and lie apart: one heading can't stand for both."""
    by_name: defaultdict[str, list[ToldPlace]] = defaultdict(list)
    for one in found.told:
        by_name[one.place.name].append(one)
    apart = {name for name, ones in by_name.items() if any(_lie_apart(ones[0], other) for other in ones)}
    if len(by_name) > MOST_PLACES:
        raise CannotBegin(
            Sentence("%(path)s was not taken in", path=path.name),
            Sentence("it has more than %(most_places)s places", most_places=Number(MOST_PLACES)),
            Sentence("Leave out what is not yours"),
        )
    sentences = (
        f"{path.name}: “{name}” stands there {len(by_name[name])} times for different places; "
        "give each a name of its own."
        for name in sorted(apart)
    )
    kept = tuple(ones[-1] for name, ones in by_name.items() if name not in apart)
    return FilePlaces(kept, (*found.set_aside, *sentences), found.passed_over)


def _lie_apart(one: ToldPlace, other: ToldPlace) -> bool:
    places = one.place, other.place
    if any(place.latitude is None or place.longitude is None for place in places):
        return False
    here, there = ((place.latitude or 0.0, place.longitude or 0.0) for place in places)
    return km_between(here, there) * 1000 > (one.place.radius_m or 0.0) + (other.place.radius_m or 0.0)
