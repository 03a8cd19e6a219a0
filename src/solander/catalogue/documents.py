"""What words are looked for in: for each print one document of all that is said of it and of its occasion.

The documents are an ordinary table, filled here for any database; `solander.catalogue.search` finds words in it.
"""

from __future__ import annotations

import re
import unicodedata
from collections import defaultdict
from collections.abc import Iterable, Iterator
from itertools import islice

from sqlalchemy import Connection, Table, delete, insert, select

from solander.catalogue.database import rows
from solander.catalogue.records import Row, storable
from solander.catalogue.schema import people, prints, search_documents, statements, views, writings
from solander.core.inscriptions.kept import Writing
from solander.core.spellings import other_spellings
from solander.core.statements import About, Says

__all__ = ["Documents", "documents_missing", "searchable", "write_documents", "write_documents_of"]

_FIELDS = {
    Says.CAPTION: "caption",
    Says.PERSON: "people",
    Says.PLACE: "place",
    Says.OCCASION: "occasion",
    Says.NOTE: "note",
    Says.TRANSCRIPTION: "transcription",
}
_EMPTY = dict.fromkeys(("caption", "people", "place", "occasion", "note", "transcription", "machine"), "")
_AT_ONCE = 400  # subjects in one query; SQLite takes 32,766 values, small batches keep memory small
_LISTED = select(prints.c.accession).where(prints.c.back_of.is_(None), prints.c.taken_out.is_(None))
_WORD = re.compile(r"[^\W_]+")


def searchable(said: str) -> str:
    """Text as it is kept and looked for: one form of each accented letter, nothing that ends it early."""
    # Some systems give names with accents taken apart; NUL would end the text early.
    return unicodedata.normalize("NFC", storable(said)).replace("\0", " ")


class Documents:
    """Which prints' documents a transaction has made stale; `refresh` writes them anew."""

    def __init__(self) -> None:
        self._prints: set[str] = set()
        self._occasions: set[str] = set()
        self._people: set[str] = set()

    def seen(self, table: Table, before: Row | None, after: Row | None) -> None:
        """Takes note of a change."""
        for row in filter(None, (before, after)):
            if table is prints:
                self._prints.add(row["accession"])
            elif table is statements:
                (self._prints if row["about"] == About.PRINT else self._occasions).add(row["subject"])
            elif table is people:
                self._people.add(row["name"])
            elif table is views and _goes_or_comes(before, after):
                self._prints.add(row["accession"])  # a machine's reading goes and comes with its view

    def refresh(self, connection: Connection) -> None:
        """Writes the stale documents anew, in the same transaction as the changes."""
        self._prints |= _prints_saying(connection, Says.OCCASION, self._occasions)
        self._prints |= _prints_saying(connection, Says.PERSON, self._people)
        _write(connection, self._prints)


def _goes_or_comes(before: Row | None, after: Row | None) -> bool:
    """Whether a view comes into use or goes out of it."""
    return (before is not None and not before["superseded"]) != (after is not None and not after["superseded"])


def write_documents_of(connection: Connection, accessions: Iterable[str]) -> None:
    """Writes the documents of these prints anew."""
    _write(connection, accessions)


def documents_missing(connection: Connection) -> bool:
    """Whether a new form of the documents left none of them."""
    written = connection.scalar(select(search_documents.c.id).limit(1))
    return written is None and connection.scalar(_LISTED.limit(1)) is not None


def write_documents(connection: Connection) -> None:
    """Writes the documents of all prints."""
    _write(connection, connection.scalars(_LISTED).all())


def _write(connection: Connection, accessions: Iterable[str]) -> None:
    for some in _batches(accessions):
        connection.execute(delete(search_documents).where(search_documents.c.accession.in_(some)))
        fresh = _documents(connection, some)
        if fresh:
            connection.execute(insert(search_documents), fresh)


def _prints_saying(connection: Connection, says: Says, values: set[str]) -> set[str]:
    found: set[str] = set()
    for some in _batches(values):
        said = statements.c.about == About.PRINT, statements.c.says == says, statements.c.value.in_(some)
        found.update(connection.scalars(select(statements.c.subject).where(*said)))
    return found


def _documents(connection: Connection, accessions: list[str]) -> list[dict[str, str]]:
    there = _LISTED.where(prints.c.accession.in_(accessions))
    said = _said(connection, About.PRINT, accessions)
    shared = _said(connection, About.OCCASION, _values(said, Says.OCCASION))
    known_as = _known_as(connection, _values(said, Says.PERSON))
    machine = _read_by_machine(connection, [one for one in accessions if not _is_written_down(said[one])])
    return [
        {**_document(accession, said[accession], shared=shared, known_as=known_as), **machine.get(accession, {})}
        for accession in connection.scalars(there)
    ]


def _is_written_down(said: list[Row]) -> bool:
    """Whether somebody says what is written on the back: a machine's reading gives way to it."""
    return any(row["says"] in (Says.TRANSCRIPTION, Says.BLANK) for row in said)


def _read_by_machine(connection: Connection, accessions: list[str]) -> dict[str, dict[str, str]]:
    """The words that a machine read on these prints, of lines that surely are writing."""
    found: defaultdict[str, list[str]] = defaultdict(list)
    for some in _batches(accessions):
        there = views.c.accession.in_(some), views.c.superseded.is_(None), writings.c.written
        query = select(views.c.accession, writings.c.told).join_from(writings, views).where(*there)
        for row in rows(connection, query.order_by(views.c.sequence)):
            lines = Writing.of_kept(row["told"]).inscription.lines
            found[row["accession"]] += [line.text for line in lines if line.is_writing]
    return {accession: {"machine": searchable("\n".join(texts))} for accession, texts in found.items()}


def _values(said: dict[str, list[Row]], says: Says) -> set[str]:
    return {row["value"] for group in said.values() for row in group if row["says"] == says}


def _said(connection: Connection, about: About, subjects: Iterable[str]) -> defaultdict[str, list[Row]]:
    found: defaultdict[str, list[Row]] = defaultdict(list)
    for some in _batches(subjects):
        live = statements.c.about == about, statements.c.subject.in_(some), statements.c.withdrawn.is_(None)
        for row in rows(connection, select(statements).where(*live).order_by(statements.c.entry)):
            found[row["subject"]].append(row)
    return found


def _known_as(connection: Connection, names: Iterable[str]) -> dict[str, str]:
    found: dict[str, str] = {}
    for some in _batches(names):
        for row in connection.execute(select(people).where(people.c.name.in_(some))):
            found[row.name] = "\n".join(dict.fromkeys([*row.also_called, *(text for _, text, _ in row.names)]))
    return found


def _document(
    accession: str, said: list[Row], *, shared: dict[str, list[Row]], known_as: dict[str, str]
) -> dict[str, str]:
    parts: defaultdict[str, list[str]] = defaultdict(list)
    of_occasions = [row for one in said if one["says"] == Says.OCCASION for row in shared.get(one["value"], ())]
    for row in [*said, *of_occasions]:
        if row["says"] in _FIELDS:
            parts[_FIELDS[Says(row["says"])]] += [row["value"], row["words"]]
        if row["says"] == Says.PERSON:
            parts["people"].append(known_as.get(row["value"], ""))
    fields = {name: searchable("\n".join(dict.fromkeys(filter(None, words)))) for name, words in parts.items()}
    return {"accession": accession, **_EMPTY, **fields, "also": _also(accession, fields.values())}


def _also(accession: str, texts: Iterable[str]) -> str:
    """What is typed for it as well: other spellings, and the number without the noughts before it."""
    spelt = [other for text in texts for word in _WORD.findall(text) for other in other_spellings(word)]
    return " ".join(dict.fromkeys([accession.rpartition("-")[2].lstrip("0"), *spelt]))


def _batches(subjects: Iterable[str]) -> Iterator[list[str]]:
    rest = iter(sorted(subjects))
    while some := list(islice(rest, _AT_ONCE)):
        yield some
