"""The slip file: one row a picture or an occasion, as people keep it in a spreadsheet."""

from __future__ import annotations

import csv
import io
import unicodedata
from collections.abc import Callable, Iterator, Mapping
from pathlib import Path
from typing import Any

from attrs import fields, frozen

from solander.core.errors import CannotBegin, InvalidValue
from solander.core.prints import Side
from solander.core.sentence import Sentence

__all__ = ["COLUMNS", "SlipFile", "SlipRow", "read_slips"]


@frozen
class SlipRow:
    """What one row says, as written and trimmed; empty where it says nothing.

    `line` is the line of the file on which the row begins, counted from 1. A row without `file` describes its
    occasion. `order` is the print's place on its roll, else in the sequence that its container keeps; `roll` the
    name of the film or the laboratory order. `evidence` is what was seen on the print that dates it ("deckle
    edge"); `source` is who says what the row says.
    """

    line: int
    file: str = ""
    side: Side | None = None
    occasion: str = ""
    date: str = ""
    place: str = ""
    people: tuple[str, ...] = ()
    caption: str = ""
    note: str = ""
    transcription: str = ""
    container: str = ""
    order: int | None = None
    roll: str = ""
    evidence: tuple[str, ...] = ()
    source: str = ""


@frozen
class SlipFile:
    """The rows that could be read, and one sentence for each thing that could not.

    `columns` are those of `COLUMNS` that the file has; `whole` is False when a row was set aside.
    """

    rows: tuple[SlipRow, ...]
    warnings: tuple[str, ...] = ()
    columns: tuple[str, ...] = ()
    whole: bool = True


COLUMNS = tuple(field.name for field in fields(SlipRow) if field.name != "line")
"""The columns that are understood, any subset in any order, capitals or not."""

_SIDES: Mapping[str, Side | None] = {
    "": None,
    **dict.fromkeys(["recto", "front", "r"], Side.RECTO),
    **dict.fromkeys(["verso", "back", "v"], Side.VERSO),
    "detail": Side.DETAIL,
}


def read_slips(path: Path) -> SlipFile:
    """The rows of a slip file: UTF-8 (with a byte order mark or without), comma or semicolon between cells.

    Names in `people` and kinds of `evidence` are separated by semicolons within their cell, which is quoted where
    cells are too. A row with a wrong value is set aside with a warning that names its line; columns that are not
    known are named once and passed over.

    Raises
    ------
    CannotBegin
        When the file is not there, is not UTF-8 text, or its first row names no known column.
    """
    text = _text(path)
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=_delimiter(text), strict=True)
    try:
        lined = list(_lined(reader))
    except csv.Error as error:
        why = Sentence("line %(line)s: %(said)s", line=reader.line_num, said=str(error))
        raise _refused(path, why, Sentence("Close the quotation marks")) from error
    head = [cell.strip().casefold() for cell in lined[0][1]] if lined else []
    rows, set_aside = [], []
    for line, cells in lined[1:]:
        try:
            rows.append(_row(line, head, cells))
        except InvalidValue as wrong:
            set_aside.append(wrong.sentence)
    warnings = (*_doubts_of_head(path, head), *set_aside)
    columns = tuple(column for column in COLUMNS if column in head)
    return SlipFile(tuple(rows), warnings, columns, whole=not set_aside)


def _text(path: Path) -> str:
    try:
        raw = path.read_bytes()
    except OSError as error:
        reason: str = (error.strerror or str(error)).lower()
        if isinstance(error, FileNotFoundError):
            reason = Sentence("there is no such file")
        raise _refused(path, reason, Sentence("Check the path")) from error
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = raw[: error.start].count(b"\n") + 1
        raise _refused(path, Sentence("line %(line)s is not UTF-8 text", line=line), _SAVE) from error
    if "\0" in text:
        raise _refused(path, Sentence("it is not a text file"), _SAVE)
    return text


_SAVE = Sentence("Save it as “CSV UTF-8” in the spreadsheet")


def _delimiter(text: str) -> str:
    """The one of comma and semicolon that the first row has more of; names of columns hold neither."""
    head = next((line for line in text.splitlines() if line.strip()), "")
    return ";" if head.count(";") > head.count(",") else ","


def _lined(reader: Any) -> Iterator[tuple[int, list[str]]]:
    """Each row that has anything in it, with the line on which it begins (cells may hold line breaks)."""
    begins = 1
    for cells in reader:
        if any(cell.strip() for cell in cells):
            yield begins, cells
        begins = reader.line_num + 1


def _doubts_of_head(path: Path, head: list[str]) -> Iterator[str]:
    if not set(head) & set(COLUMNS):
        why = Sentence("its first row names no column that is known")
        todo = Sentence("Name the columns in the first row: %(columns)s", columns=", ".join(COLUMNS))
        raise _refused(path, why, todo)
    for unknown in dict.fromkeys(name for name in head if name and name not in COLUMNS):
        yield Sentence(
            "The column “%(column)s” of %(file)s is not known and was passed over.", column=unknown, file=path.name
        )
    for twice in dict.fromkeys(name for name in head if name in COLUMNS and head.count(name) > 1):
        yield Sentence(
            "The column “%(column)s” of %(file)s is there more than once; the first was read.",
            column=twice,
            file=path.name,
        )


def _row(line: int, head: list[str], cells: list[str]) -> SlipRow:
    if any(cell.strip() for cell in cells[len(head) :]):
        why = Sentence("it has %(cells)s cells under %(columns)s columns", cells=len(cells), columns=len(head))
        raise _set_aside(line, why, Sentence("Quote cells that hold a comma"))
    said: dict[str, Any] = {}
    for name, cell in zip(head, cells, strict=False):
        if name in COLUMNS:
            said.setdefault(name, _READS.get(name, _plain)(cell, line))
    row = SlipRow(line, **said)
    if not row.file and not row.occasion:
        why = Sentence("it names neither a file nor an occasion")
        raise _set_aside(line, why, Sentence("Fill in one of the two"))
    return row


def _plain(cell: str, line: int) -> str:
    return cell.strip()


def _file(cell: str, line: int) -> str:
    """A name as arrivals have it: NFC, `/` between folders."""
    return unicodedata.normalize("NFC", cell.strip()).replace("\\", "/")


def _side(cell: str, line: int) -> Side | None:
    try:
        return _SIDES[cell.strip().casefold()]
    except KeyError:
        todo = Sentence("Write recto or front, verso or back, detail, or nothing")
        raise _set_aside(line, Sentence("“%(cell)s” is no side", cell=cell.strip()), todo) from None


def _order(cell: str, line: int) -> int | None:
    if not cell.strip():
        return None
    try:
        return int(cell)
    except ValueError:
        todo = Sentence("Write the order as 1, 2, 3 …")
        raise _set_aside(line, Sentence("“%(cell)s” is no whole number", cell=cell.strip()), todo) from None


def _several(cell: str, line: int) -> tuple[str, ...]:
    return tuple(one for part in cell.split(";") if (one := part.strip()))


_READS: Mapping[str, Callable[[str, int], Any]] = {
    "file": _file,
    "side": _side,
    "order": _order,
    "people": _several,
    "evidence": _several,
}


def _set_aside(line: int, why: str, todo: str) -> InvalidValue:
    return InvalidValue(Sentence("Line %(line)s of the slip file was set aside", line=line), why, todo)


def _refused(path: Path, why: str, todo: str) -> CannotBegin:
    return CannotBegin(Sentence("The slip file %(path)s could not be read", path=path.name), why, todo)
