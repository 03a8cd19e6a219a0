"""What the catalogue knows, as two plain text files: a table for people, and every record for programs.

The table is CSV (RFC 4180) in UTF-8 with one row a picture and Dublin Core terms as headings. The records are
JSON Lines: one JSON object (RFC 8259) a line, each with its `kind`; enough to rebuild the catalogue by hand.

Spreadsheets run a cell that starts with `=`, `+`, `-`, `@` or a control character as a formula, and captions come
from anybody. Such a cell gets one apostrophe before it, by which spreadsheets know a text; `read_rows` takes it
off again, and the records hold every text untouched.
"""

from __future__ import annotations

import csv
import io
import json
import re
from collections.abc import Iterable, Iterator, Sequence
from typing import Any

from attrs import asdict, field, fields, frozen

from solander.core.descriptions import DescribedPrint
from solander.core.errors import InvalidValue
from solander.core.places import Place
from solander.core.prints import Capture, Side, View
from solander.core.treatments import EDITION, Treatment
from solander.delivery.embed_words import (
    description_of,
    extent_of,
    file_identifier,
    keywords_of,
    plain_number,
    title_of,
)
from solander.delivery.tables_records import KINDS, Record, kind_of, record_from

__all__ = [
    "HEADINGS",
    "Record",
    "Row",
    "guarded",
    "read_records",
    "read_rows",
    "row_of",
    "row_of_capture",
    "write_records",
    "write_rows",
]

_BETWEEN = " | "
_PART = re.compile(r"(?:\\.?|[^\\|])+", re.DOTALL)
# The last four are the wide forms that some spreadsheets take for the narrow ones (common advice, from memory).
_FORMULA = re.compile(r"'*[=+\-@\t\r\n＝＋－＠]")
_SURROGATE = re.compile("[\ud800-\udfff]")


def _kept(values: Iterable[str]) -> tuple[str, ...]:
    return tuple(value for value in values if value)


def _several() -> tuple[str, ...]:
    values: tuple[str, ...] = field(default=(), converter=_kept, metadata={"several": True})
    return values


@frozen
class Row:
    """One picture; each field is the Dublin Core term of its name, `date` an EDTF value.

    Where a field has several values they stand in one cell with ` | ` between them; a `|` or a backslash inside
    a value has a backslash before it. Empty values are not kept.
    """

    identifier: str
    filename: str
    title: str = ""
    description: str = ""
    date: str = ""
    spatial: tuple[str, ...] = _several()
    subject: tuple[str, ...] = _several()
    creator: tuple[str, ...] = _several()
    contributor: tuple[str, ...] = _several()
    type: str = "StillImage"
    format: str = "image/jpeg"
    source: tuple[str, ...] = _several()
    relation: tuple[str, ...] = _several()
    rights: str = ""
    extent: str = ""


HEADINGS: tuple[str, ...] = tuple(column.name for column in fields(Row))
"""The columns, in their order."""

_LISTS = frozenset(column.name for column in fields(Row) if column.metadata.get("several"))


def row_of(
    described: DescribedPrint, side: Side, *, filename: str, view: View | None = None, rights: str = ""
) -> Row:
    """The row of the picture of one side, by the name that it has in the release; `view` tells which, where a side
    has several, its first otherwise.

    `spatial` is the place's name and, where known, a `geo:` address (RFC 5870) whose `u` is the radius in metres.
    """
    own = described.print
    view = view or own.view(side)
    others = [other for other in own.views if view is None or other.key != view.key]
    return Row(
        identifier=file_identifier(own.accession, side, own.number_of(view) if view else 1),
        filename=filename,
        title=title_of(described, side),
        description=description_of(described, side),
        date=described.when.edtf,
        spatial=_spatial(described.place),
        subject=keywords_of(described),
        source=(own.accession,),
        relation=tuple(file_identifier(own.accession, other.side, own.number_of(other)) for other in others),
        rights=rights,
        extent=extent_of(view),
    )


def row_of_capture(
    capture: Capture, *, filename: str, accessions: Sequence[str] = (), whole_page: str = "", rights: str = ""
) -> Row:
    """The row of a capture; `date` is when it was taken, `source` the prints that were found in it; `whole_page`
    is the page of an album that it shows as it was found."""
    shows = f" It shows the whole page {whole_page} as it was found." if whole_page else ""
    return Row(
        identifier=capture.sha256,
        filename=filename,
        title=capture.name,
        description=f"The file exactly as camera or scanner made it.{shows}",
        date=capture.taken or "",
        format=capture.media_type,
        source=tuple(accessions),
        rights=rights,
        extent=f"{capture.width} x {capture.height} pixels",
    )


def write_rows(rows: Iterable[Row]) -> bytes:
    """The table as the bytes of a CSV file; what UTF-8 cannot hold is shown as U+FFFD."""
    file = io.StringIO(newline="")
    writer = csv.writer(file)
    writer.writerow(HEADINGS)
    writer.writerows([guarded(_cell(getattr(row, name))) for name in HEADINGS] for row in rows)
    return _SURROGATE.sub("\ufffd", file.getvalue()).encode("utf-8")


def read_rows(table: bytes) -> list[Row]:
    """The rows of a CSV file that `write_rows` made; its columns may have been put in another order.

    Raises
    ------
    InvalidValue
        When it is no such table.
    """
    reader = csv.reader(io.StringIO(_text(table), newline=""), strict=True)
    try:
        headings = next(reader, [])
        if sorted(headings) != sorted(HEADINGS):
            raise InvalidValue("The table could not be read", f"its first line should be {','.join(HEADINGS)}")
        return [_row(headings, cells, line=reader.line_num) for cells in reader if cells]
    except csv.Error as error:
        raise InvalidValue(f"Line {reader.line_num} of the table could not be read", str(error)) from error


def write_records(records: Iterable[Record]) -> Iterator[bytes]:
    """One line of JSON for each record, its line end included."""
    for record in records:
        values = {"kind": kind_of(record), **asdict(record, value_serializer=_as_data)}
        text = json.dumps(values, ensure_ascii=False, allow_nan=False)
        # Half a character, as in odd file names, has no form in UTF-8 but one in JSON.
        yield _SURROGATE.sub(lambda half: f"\\u{ord(half[0]):04x}", text).encode("utf-8") + b"\n"


def _as_data(_record: object, _field: object, value: object) -> object:
    """A treatment as the list of its steps that `read_treatment` reads, with its sentences for people."""
    if not isinstance(value, Treatment):
        return value
    return {**value.as_json(), "edition": EDITION, "told": list(value.sentences)} if value.steps else None


def read_records(lines: Iterable[bytes]) -> Iterator[Record]:
    """The records of the lines, in order; empty lines are passed over.

    Raises
    ------
    InvalidValue
        When a line is no record; its number is named.
    """
    for number, line in enumerate(lines, start=1):
        if line.strip():
            try:
                yield _record(json.loads(line.decode("utf-8")))
            except (ValueError, TypeError) as error:
                raise InvalidValue(f"Line {number} of the records could not be read", str(error)) from error


def _record(values: object) -> Record:
    if not isinstance(values, dict) or values.get("kind") not in KINDS:
        raise ValueError(f"it should be an object whose kind is one of {', '.join(KINDS)}")
    return record_from(KINDS[values.pop("kind")], values)


def _spatial(place: Place | None) -> tuple[str, ...]:
    if place is None:
        return ()
    named = f"{place.name}, {place.country}" if place.country else place.name
    if place.latitude is None or place.longitude is None:
        return (named,)
    radius = f";u={plain_number(place.radius_m)}" if place.radius_m is not None else ""
    return named, f"geo:{plain_number(place.latitude)},{plain_number(place.longitude)}{radius}"


def _cell(value: str | Sequence[str]) -> str:
    if isinstance(value, str):
        return value
    return _BETWEEN.join(re.sub(r"([\\|])", r"\\\1", one) for one in value)


def _values(cell: str) -> tuple[str, ...]:
    """The values of a cell, parted at each bar that has no backslash before it."""
    parts = _PART.findall(cell)
    bare = [
        part.removeprefix(" " if number else "").removesuffix(" " if number < len(parts) - 1 else "")
        for number, part in enumerate(parts)
    ]
    return tuple(re.sub(r"\\(.)", r"\1", part, flags=re.DOTALL) for part in bare)


def guarded(cell: str) -> str:
    """A cell that no spreadsheet takes for a formula."""
    return f"'{cell}" if _FORMULA.match(cell) else cell


def _unguarded(cell: str) -> str:
    return cell[1:] if cell.startswith("'") and _FORMULA.match(cell) else cell


def _row(headings: Sequence[str], cells: Sequence[str], *, line: int) -> Row:
    if len(cells) != len(headings):
        raise InvalidValue(
            f"Line {line} of the table has {len(cells)} cells", f"there are {len(headings)} columns"
        )
    texts = {name: _unguarded(cell) for name, cell in zip(headings, cells, strict=True)}
    values: dict[str, Any] = {name: _values(text) if name in _LISTS else text for name, text in texts.items()}
    return Row(**values)


def _text(table: bytes) -> str:
    try:
        return table.decode("utf-8-sig")  # spreadsheets add a mark at the head
    except UnicodeDecodeError as error:
        raise InvalidValue("The table could not be read", "it is no UTF-8 text", "Save it as UTF-8") from error
