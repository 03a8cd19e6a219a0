"""Tables from spreadsheets, CSV and XLSX, as rows of plain words."""

from __future__ import annotations

import codecs
import csv
import io
import re
import warnings
import zipfile
from collections.abc import Iterable, Iterator, Sequence
from datetime import date, datetime
from pathlib import Path
from typing import Any

from attrs import frozen

from solander.core.errors import CannotBegin
from solander.core.sentence import Sentence

__all__ = ["Row", "Table", "read_table", "text_of_list"]

_LONGEST_CELL = 1 << 20
"""Characters; the csv module refuses more than it is told to take."""


_SAYS_ITS_SIGN = re.compile(r"sep=([,;\t])\r?\n", re.IGNORECASE)


@frozen
class Row:
    """The cells of a row by their headings as written; `unsaved` are the headings of formulas without a result."""

    where: str
    cells: dict[str, str]
    unsaved: tuple[str, ...] = ()


@frozen
class Table:
    """The headings of a table as they are written, and its rows that hold anything."""

    headings: tuple[str, ...]
    rows: tuple[Row, ...]


def read_table(path: Path) -> Table:
    """The table in a CSV (UTF-8 or UTF-16; commas, semicolons or tabs), or on the first filled sheet of an XLSX.

    Raises
    ------
    CannotBegin
        When the file is missing, its letters are not known, or it is damaged.
    """
    try:
        with path.open("rb") as file:
            packed = file.read(2) == b"PK"
    except OSError as error:
        raise CannotBegin(
            Sentence("%(path)s could not be read", path=path), error.strerror or "", Sentence("Check the name")
        ) from error
    return _from_workbook(path) if packed else _from_text(text_of_list(path), path)


def text_of_list(path: Path) -> str:
    """The text of a list.

    Raises
    ------
    CannotBegin
        When the file can't be read or is neither UTF-8 nor UTF-16 with its mark.
    """
    try:
        data = path.read_bytes()
    except OSError as error:
        raise CannotBegin(
            Sentence("%(path)s could not be read", path=path), error.strerror or "", Sentence("Check the name")
        ) from error
    marked = data.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE))
    try:
        return data.decode("utf-16" if marked else "utf-8-sig")
    except UnicodeDecodeError as error:
        raise CannotBegin(
            Sentence("%(path)s could not be read", path=path.name),
            Sentence("it is not saved as UTF-8"),
            Sentence("In the spreadsheet choose “CSV UTF-8” when saving"),
        ) from error


def _from_text(text: str, path: Path) -> Table:
    if said := _SAYS_ITS_SIGN.match(text):  # as some spreadsheets want it; no line of the table
        text = text[said.end() :]
    first = text.partition("\n")[0]
    delimiter = said[1] if said else max(",;\t", key=first.count)
    csv.field_size_limit(_LONGEST_CELL)
    reader = csv.reader(io.StringIO(text), delimiter=delimiter)
    rows: list[Row] = []
    headings: tuple[str, ...] = ()
    try:
        for cells in reader:
            if not headings:
                headings = tuple(cell.strip() for cell in cells)
            elif row := _row(Sentence("line %(line_num)s", line_num=reader.line_num), headings, cells):
                rows.append(row)
    except csv.Error as error:
        raise CannotBegin(
            Sentence("%(path)s could not be read", path=path.name),
            Sentence("line %(line_num)s is no line of a table (%(error)s)", line_num=reader.line_num, error=error),
            Sentence("Save it again"),
        ) from error
    return Table(headings, tuple(rows))


def _row(where: str, headings: Sequence[str], cells: Iterable[str]) -> Row | None:
    """The cells by heading; of two columns of one heading the first that holds anything."""
    found: dict[str, str] = {}
    for heading, cell in zip(headings, cells, strict=False):
        if heading and cell.strip():
            found.setdefault(heading, cell.strip())
    return Row(where, found) if found else None


def _from_workbook(path: Path) -> Table:
    # Loaded only when it is needed; it takes a while.
    import openpyxl

    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # it warns of what it leaves out: colours, checks of what is typed
            book = openpyxl.load_workbook(path, read_only=True, data_only=True)
            try:
                number, rows = next(
                    ((place, rows) for place, sheet in enumerate(book.worksheets) if (rows := _filled(sheet))),
                    (0, []),
                )
            finally:
                book.close()
            formulas = _formulas(path, number) if rows else set()
    except (zipfile.BadZipFile, KeyError, ValueError, EOFError, OSError, TypeError, SyntaxError) as error:
        raise CannotBegin(
            Sentence("%(path)s could not be read", path=path.name),
            Sentence("it is no workbook (XLSX), or damaged"),
            Sentence("Save it again, or as CSV UTF-8"),
        ) from error
    return _table(rows, formulas)


def _filled(sheet: Any) -> list[tuple[int, tuple[Any, ...]]]:
    """The rows of a sheet that hold anything, each with its number."""
    rows = enumerate(sheet.iter_rows(values_only=True), 1)
    return [(number, cells) for number, cells in rows if any(cell is not None for cell in cells)]


def _formulas(path: Path, sheet: int) -> set[tuple[int, int]]:
    """Where formulas stand on a sheet, by row and column; looked for only where there are any."""
    import openpyxl

    with zipfile.ZipFile(path) as package:
        sheets = [name for name in package.namelist() if name.startswith("xl/worksheets/sheet")]
        if not any(b"<f" in package.read(name) for name in sheets):
            return set()
    book = openpyxl.load_workbook(path, read_only=True)
    try:
        rows = enumerate(book.worksheets[sheet].iter_rows(values_only=True), 1)
        return {
            (number, place)
            for number, cells in rows
            for place, cell in enumerate(cells)
            if isinstance(cell, str) and cell.startswith("=")
        }
    finally:
        book.close()


def _table(rows: Sequence[tuple[int, tuple[Any, ...]]], formulas: set[tuple[int, int]]) -> Table:
    if not rows:
        return Table((), ())
    headings = tuple(_words(cell) for cell in rows[0][1])
    return Table(headings, tuple(_rows_under(headings, rows[1:], formulas)))


def _rows_under(
    headings: Sequence[str], rows: Iterable[tuple[int, tuple[Any, ...]]], formulas: set[tuple[int, int]]
) -> Iterator[Row]:
    for number, cells in rows:
        unsaved = tuple(
            heading
            for place, (heading, cell) in enumerate(zip(headings, cells, strict=False))
            if heading and cell is None and (number, place) in formulas
        )
        row = _row(Sentence("row %(number)s", number=number), headings, map(_words, cells))
        if row or unsaved:
            yield Row(Sentence("row %(number)s", number=number), row.cells if row else {}, unsaved)


def _words(cell: Any) -> str:
    """A cell as a person would write it: a day as its date, a whole number without a point."""
    if cell is None:
        return ""
    if isinstance(cell, datetime):
        return cell.date().isoformat()
    if isinstance(cell, date):
        return cell.isoformat()
    if isinstance(cell, float) and cell.is_integer():
        return str(int(cell))
    return str(cell).strip()
