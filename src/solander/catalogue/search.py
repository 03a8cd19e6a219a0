"""Words found in what is said of the prints.

For each print one document holds its accession number and all that is said of it and of its occasion. The
documents are an ordinary table, filled here for any database; how words are found in it is behind `SearchIndex`,
filled here for SQLite's FTS5.
"""

from __future__ import annotations

import re
import unicodedata
from collections import defaultdict
from collections.abc import Iterable, Iterator
from itertools import islice
from typing import Protocol

from sqlalchemy import Connection, Table, delete, insert, select, text

from solander.catalogue.database import rows
from solander.catalogue.records import Row, storable
from solander.catalogue.schema import people, prints, search_documents, statements
from solander.core.statements import About, Says

__all__ = ["Documents", "Fts5", "SearchIndex"]

_FIELDS = {
    Says.CAPTION: "caption",
    Says.PERSON: "people",
    Says.PLACE: "place",
    Says.OCCASION: "occasion",
    Says.NOTE: "note",
    Says.TRANSCRIPTION: "transcription",
}
_EMPTY = dict.fromkeys(("caption", "people", "place", "occasion", "note", "transcription"), "")
_AT_ONCE = 400  # subjects in one query; SQLite takes 32,766 values, small batches keep memory small
_MOST_WORDS = 32  # FTS5 refuses expressions deeper than 256; nobody types more words than this


# A number that is typed is meant; a name says more than a sentence. Our choice, not measured.
_WEIGHTS = {"accession": 10, "caption": 5, "people": 5, "place": 4, "occasion": 4, "note": 2, "transcription": 2}


class SearchIndex(Protocol):
    """How words are found in the documents."""

    def find(self, connection: Connection, sought: str, limit: int) -> list[str]:
        """Accession numbers, best first, of the prints that have every word, each as the beginning of a word."""
        ...


class Fts5:
    """SQLite's full-text index: accents and case do not matter."""

    def find(self, connection: Connection, sought: str, limit: int) -> list[str]:
        """Accession numbers, best first; none when nothing is sought. Any text is allowed."""
        words = _words(sought)
        if not words:
            return []
        query = text(
            "SELECT accession FROM search WHERE search MATCH :words "
            f"ORDER BY bm25(search, {', '.join(map(str, _WEIGHTS.values()))}), accession LIMIT :limit"
        )
        # Each word is a quoted phrase: nothing that is typed can be taken for the index's own language.
        phrases = " ".join(f'"{word}"*' for word in words)
        return [row.accession for row in connection.execute(query, {"words": phrases, "limit": limit})]


def _words(sought: str) -> list[str]:
    clean = _plain(sought).replace('"', " ")
    return [word for word in clean.split() if re.search(r"[^\W_]", word)][:_MOST_WORDS]


def _plain(said: str) -> str:
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

    def refresh(self, connection: Connection) -> None:
        """Writes the stale documents anew, in the same transaction as the changes."""
        self._prints |= _prints_saying(connection, Says.OCCASION, self._occasions)
        self._prints |= _prints_saying(connection, Says.PERSON, self._people)
        for some in _batches(self._prints):
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
    listed = prints.c.back_of.is_(None), prints.c.taken_out.is_(None)
    there = select(prints.c.accession).where(prints.c.accession.in_(accessions), *listed)
    said = _said(connection, About.PRINT, accessions)
    shared = _said(connection, About.OCCASION, _values(said, Says.OCCASION))
    known_as = _known_as(connection, _values(said, Says.PERSON))
    return [
        _document(accession, said[accession], shared=shared, known_as=known_as)
        for accession in connection.scalars(there)
    ]


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
            found[row.name] = " ".join(row.also_called)
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
    fields = {name: _plain("\n".join(dict.fromkeys(filter(None, words)))) for name, words in parts.items()}
    return {"accession": accession, **_EMPTY, **fields}


def _batches(subjects: Iterable[str]) -> Iterator[list[str]]:
    rest = iter(sorted(subjects))
    while some := list(islice(rest, _AT_ONCE)):
        yield some
