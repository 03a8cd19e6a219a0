"""Places from a spreadsheet saved as CSV.

UTF-8 with commas or semicolons; any subset of the columns, in any order; `name` is needed. Nothing is guessed:
a row that can't be read is set aside with its line number and the rest goes on.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Callable, Collection, Iterator
from pathlib import Path
from typing import Generic, TypeVar

from attrs import evolve, frozen

from solander.core.errors import CannotBegin, InvalidValue
from solander.core.people import Person
from solander.core.places import Place

__all__ = ["ListRead", "read_places", "updated"]

Record = TypeVar("Record", Person, Place)


@frozen
class ListRead(Generic[Record]):
    """The records of a list, and a sentence for each row that was set aside.

    `columns` are those that the list has, of the ones that are understood: what stands in no column is not told,
    and what is empty in one is told to be unknown. `passed_over` has a sentence for each column that is not
    understood.
    """

    records: tuple[Record, ...]
    set_aside: tuple[str, ...] = ()
    columns: tuple[str, ...] = ()
    passed_over: tuple[str, ...] = ()


def read_places(path: Path) -> ListRead[Place]:
    """The places of a CSV with `name, country, latitude, longitude, radius_m`: degrees (WGS 84) and metres.

    Raises
    ------
    CannotBegin
        When the file is missing, not UTF-8 or has no `name` column.
    """
    return _read(path, _place, ("name", "country", "latitude", "longitude", "radius_m"))


def updated(known: Record, told: Record, columns: Collection[str]) -> Record:
    """What is known of a person or a place with what a list tells: the columns that it has, empty ones too.

    A person's life may no longer be true then (born by the one, dead by the other): see `check_life`.
    """
    return evolve(known, **{name: getattr(told, name) for name in columns})


def _place(row: dict[str, str]) -> Place:
    numbers = [row.get(column, "") for column in ("latitude", "longitude", "radius_m")]
    if not any(numbers):
        return Place(_name(row), row.get("country", ""))
    try:
        latitude, longitude, radius = (float(number) for number in numbers)
        return Place(_name(row), row.get("country", ""), latitude, longitude, radius)
    except ValueError as error:
        raise InvalidValue(
            f"“{row['name']}” has no usable position",
            f"latitude, longitude and radius_m read {', '.join(n or 'nothing' for n in numbers)}",
            "Give all three: degrees −90 to 90 and −180 to 180, and metres above 0; or none",
        ) from error


def _name(row: dict[str, str]) -> str:
    if not row.get("name"):
        raise InvalidValue("A row has no name", "", "Fill in the column “name”")
    return row["name"]


def _read(path: Path, record: Callable[[dict[str, str]], Record], understood: tuple[str, ...]) -> ListRead[Record]:
    reader = _reader(path)
    head = list(reader.fieldnames or ())
    records: list[Record] = []
    set_aside: list[str] = []
    for line, row in _rows(reader):
        try:
            records.append(record(row))
        except InvalidValue as trouble:
            set_aside.append(f"{path.name}, line {line}: {trouble.sentence}")
    unknown = dict.fromkeys(heading for heading in head if heading and heading not in understood)
    return ListRead(
        tuple(records),
        tuple(set_aside),
        tuple(column for column in understood if column in head),
        tuple(f"The column “{name}” of {path.name} is not known and was passed over." for name in unknown),
    )


def _reader(path: Path) -> csv.DictReader[str]:
    text = _text(path)
    first = text.partition("\n")[0]
    reader = csv.DictReader(io.StringIO(text), delimiter=";" if first.count(";") > first.count(",") else ",")
    reader.fieldnames = [heading.strip().lower() for heading in reader.fieldnames or ()]
    if "name" not in reader.fieldnames:
        raise CannotBegin(
            f"{path.name} has no column “name”", "its first line holds the headings", "Add one and save again"
        )
    return reader


def _rows(reader: csv.DictReader[str]) -> Iterator[tuple[int, dict[str, str]]]:
    for row in reader:
        cells = {heading: (cell or "").strip() for heading, cell in row.items() if heading}
        if any(cells.values()):
            yield reader.line_num, cells


def _text(path: Path) -> str:
    try:
        return path.read_text(encoding="utf-8-sig")
    except UnicodeDecodeError as error:
        raise CannotBegin(
            f"{path.name} could not be read",
            "it is not saved as UTF-8",
            "In the spreadsheet choose “CSV UTF-8” when saving",
        ) from error
    except OSError as error:
        raise CannotBegin(f"{path} could not be read", error.strerror or "", "Check the name") from error
