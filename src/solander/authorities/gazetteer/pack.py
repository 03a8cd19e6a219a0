"""Regional packs: landmarks of one country out of a country file of GeoNames, beside the towns of the world.

GeoNames gives such files as `XX.zip` with `XX.txt` inside: UTF-8, nineteen columns apart by tabs, no heading (its
readme.txt, from memory). A pack is a file of the gazetteer's own form.
"""

from __future__ import annotations

import io
import zipfile
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any, TextIO

from solander.authorities.gazetteer.build import write_places
from solander.core.errors import CannotBegin
from solander.core.sentence import Number, Sentence

__all__ = ["build_pack"]

_MOST_ROWS = 600_000
"""A file of more than this is more than one country, or a very large one (our choice: memory)."""

_KINDS = {
    "P": ("town", 0),
    "S": ("building", 200),
    "H": ("water", 3000),
    "T": ("height", 1500),
    "L": ("area", 2000),
    "V": ("wood", 2000),
    "R": ("road", 1000),
}
"""GeoNames' feature classes: what it is, and metres from its middle within which such a thing usually lies (our
choice; a town's follow from its people). Administrative areas are left out."""

_ISLANDS = frozenset({"ISL", "ISLS", "PEN"})
_ISLAND_M = 5000


def build_pack(dump: Path, target: Path) -> int:
    """Writes the pack to `target`, whole or not at all; gives how many places it holds.

    Raises
    ------
    CannotBegin
        When the file is none of GeoNames', is too large, or the pack can't be written.
    """
    try:
        with _lines(dump) as lines:
            places = list(_places(lines, dump))
    except (OSError, UnicodeDecodeError, zipfile.BadZipFile) as error:
        why = (getattr(error, "strerror", None) or str(error)).lower()
        raise CannotBegin(
            Sentence("%(dump)s could not be read", dump=dump), why, Sentence("Check the name, or get it again")
        ) from error
    if not places:
        raise CannotBegin(
            Sentence("%(dump)s holds no places", dump=dump.name),
            "",
            Sentence("Use a country file of GeoNames, such as NO.txt"),
        )
    write_places(target, places, origin=dump.name)
    return len(places)


@contextmanager
def _lines(dump: Path) -> Iterator[TextIO]:
    if not zipfile.is_zipfile(dump):
        with dump.open(encoding="utf-8-sig", newline="\n") as file:
            yield file
        return
    with zipfile.ZipFile(dump) as packed:
        names = [name for name in packed.namelist() if name.endswith(".txt") and "readme" not in name.casefold()]
        if not names:
            raise CannotBegin(
                Sentence("%(dump)s holds no country file", dump=dump.name),
                "",
                Sentence("Use a country file of GeoNames"),
            )
        with packed.open(names[0]) as file:
            yield io.TextIOWrapper(file, encoding="utf-8-sig", newline="\n")


def _places(lines: Iterable[str], dump: Path) -> Iterator[dict[str, Any]]:
    for number, line in enumerate(lines, start=1):
        if number > _MOST_ROWS:
            raise CannotBegin(
                Sentence("%(dump)s was not taken in", dump=dump.name),
                Sentence("it has more than %(most_rows)s places", most_rows=Number(_MOST_ROWS)),
                Sentence("Leave out the lines of regions that you don't need"),
            )
        cells = line.rstrip("\r\n").split("\t")
        if len(cells) != 19:
            raise CannotBegin(
                Sentence("%(dump)s was not taken in", dump=dump.name),
                Sentence(
                    "line %(number)s has %(count)s columns and not the 19 of GeoNames' country files",
                    number=number,
                    count=len(cells),
                ),
                Sentence("Use a country file of GeoNames, such as NO.txt"),
            )
        if cells[6] in _KINDS:
            yield _place(cells, dump, number)


def _place(cells: list[str], dump: Path, number: int) -> dict[str, Any]:
    what, radius = _KINDS[cells[6]]
    try:
        return {
            "geonameid": int(cells[0]),
            "name": cells[1],
            "alternatenames": cells[3].split(",") if cells[3] else [],
            "latitude": float(cells[4]),
            "longitude": float(cells[5]),
            "countrycode": cells[8],
            "admin1code": cells[10],
            "population": int(cells[14] or 0),
            "what": what,
            "radius_m": _ISLAND_M if cells[7] in _ISLANDS else radius,
        }
    except ValueError as error:
        raise CannotBegin(
            Sentence("%(dump)s was not taken in", dump=dump.name),
            Sentence("line %(number)s has a number that is none", number=number),
            Sentence("Get it again"),
        ) from error
