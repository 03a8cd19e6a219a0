"""People and places from a spreadsheet saved as CSV.

UTF-8 with commas or semicolons; any subset of the columns, in any order; `name` is needed. Nothing is guessed:
a row that can't be read is set aside with its line number and the rest goes on.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Callable, Collection, Iterable, Iterator
from datetime import UTC, datetime
from pathlib import Path
from typing import Generic, TypeVar

from attrs import evolve, frozen

from solander.core.dates import parse_edtf, words
from solander.core.errors import CannotBegin, InvalidValue
from solander.core.people import Person, life_of
from solander.core.phrases import read_date
from solander.core.places import Place

__all__ = ["ListRead", "check_life", "read_people", "read_places", "updated"]

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


def read_people(path: Path) -> ListRead[Person]:
    """The people of a CSV with `name, also_called (;), born, died`; dates as EDTF or in words.

    Raises
    ------
    CannotBegin
        When the file is missing, not UTF-8 or has no `name` column.
    """
    return _read(path, _person, ("name", "also_called", "born", "died"))


def read_places(path: Path) -> ListRead[Place]:
    """The places of a CSV with `name, country, latitude, longitude, radius_m`: degrees (WGS 84) and metres.

    Raises
    ------
    CannotBegin
        When the file is missing, not UTF-8 or has no `name` column.
    """
    return _read(path, _place, ("name", "country", "latitude", "longitude", "radius_m"))


def _person(row: dict[str, str]) -> Person:
    called = tuple(name.strip() for name in row.get("also_called", "").split(";") if name.strip())
    born, died = (_date(row, column) for column in ("born", "died"))
    person = Person(_name(row), called, born, died)
    check_life(person)
    return person


def updated(known: Record, told: Record, columns: Collection[str]) -> Record:
    """What is known of a person or a place with what a list tells: the columns that it has, empty ones too.

    A person's life may no longer be true then (born by the one, dead by the other): see `check_life`.
    """
    return evolve(known, **{name: getattr(told, name) for name in columns})


def check_life(person: Person) -> None:
    """Refuses a person who died before being born, whichever list tells the one and the other.

    Raises
    ------
    InvalidValue
        When the last possible day of life lies before the first.
    """
    if life_of(person).ends_before_it_begins:
        raise InvalidValue(
            f"“{person.name}” has a life that ends before it begins",
            f"{person.born} to {person.died}",
            "Correct one",
        )


def _date(row: dict[str, str], column: str) -> str:
    """The date in EDTF: written so, or as people write dates (“5 March 1921”, “about 1921”)."""
    said = row.get(column, "")
    try:
        return str(parse_edtf(said)) if said else ""
    except InvalidValue:
        understood = read_date(said, today=datetime.now(UTC).date())
    dated = [reading.edtf for reading in understood.readings if "XXXX" not in reading.edtf]
    if len(dated) == 1 and not understood.unused:
        return dated[0]
    meant = " or ".join(words(edtf) for edtf in _told_once(dated))
    raise InvalidValue(
        f"“{row.get('name', '')}”: “{said}” in the column “{column}” was not understood",
        f"it may be {meant}" if meant else "",
        "Write it as 1921-03-05, 1921, 1921~ for about 1921, or in words",
    )


def _told_once(readings: Iterable[str]) -> list[str]:
    """The readings without those whose days an earlier one has already: "4 March or 3 April" says both."""
    kept: list[str] = []
    known: set[tuple[int | None, int | None]] = set()
    for edtf in readings:
        pieces = parse_edtf(edtf).pieces()
        if not known.issuperset(pieces):
            kept.append(edtf)
            known.update(pieces)
    return kept


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
