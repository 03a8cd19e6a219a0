"""Words found in what is said of the prints: behind `SearchIndex`, filled here for SQLite's FTS5.

Each word that is typed is the beginning of one that was said; accents and case do not matter, and a word is found
under its other spellings too (`core.spellings`).
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from contextlib import AbstractContextManager
from typing import Protocol

from sqlalchemy import Connection, select, text

from solander.catalogue.database import rows
from solander.catalogue.documents import searchable
from solander.catalogue.records import Row
from solander.catalogue.schema import search_documents
from solander.core.spellings import other_spellings

__all__ = ["Fts5", "ReadingWords", "SearchIndex", "expression", "phrase", "words_sought"]

MOST_WORDS = 32
"""FTS5 refuses expressions deeper than 256; nobody types more words than this."""

# A number that is typed is meant; a name says more than a sentence, and anybody's word more than a machine's
# reading. Our choice, not measured.
_WEIGHTS = {
    "accession": 10,
    "caption": 5,
    "people": 5,
    "place": 4,
    "occasion": 4,
    "note": 2,
    "transcription": 2,
    "also": 4,
    "machine": 0.5,
}


def words_sought(sought: str) -> list[str]:
    """The words of what was typed, at most `MOST_WORDS`; signs alone are no words."""
    clean = searchable(sought).replace('"', " ")
    return [word for word in clean.split() if re.search(r"[^\W_]", word)][:MOST_WORDS]


def expression(word: str) -> str:
    """The expression that finds a word as a beginning, in any of its spellings.

    Each spelling is a quoted phrase: nothing that is typed can be taken for the index's own language.
    """
    return " OR ".join(f'"{one}"*' for one in (word, *other_spellings(word)))


def phrase(words: str, *, within: str) -> str:
    """The expression that finds these words as they stand in one field of the documents."""
    clean = searchable(words).replace('"', " ")
    return f'{within} : "{clean}"' if re.search(r"[^\W_]", clean) else ""


class SearchIndex(Protocol):
    """How words are found in the documents."""

    def find(self, connection: Connection, sought: str, limit: int) -> list[str]:
        """Accession numbers, best first, of the prints that have every word, each as the beginning of a word."""
        ...


class Fts5:
    """SQLite's full-text index."""

    def find(self, connection: Connection, sought: str, limit: int) -> list[str]:
        """Accession numbers, best first; none when nothing is sought. Any text is allowed."""
        words = words_sought(sought)
        if not words:
            return []
        query = text(
            "SELECT accession FROM search WHERE search MATCH :words "
            f"ORDER BY bm25(search, {', '.join(map(str, _WEIGHTS.values()))}), accession LIMIT :limit"
        )
        matching = " AND ".join(f"({expression(word)})" for word in words)
        return [row.accession for row in connection.execute(query, {"words": matching, "limit": limit})]


class ReadingWords:
    """The part of a catalogue that reads its search documents; each has a number that is never given again."""

    def _reading(self) -> AbstractContextManager[Connection]:
        raise NotImplementedError

    def documents_matching(self, matching: str, *, after: int = 0) -> list[int]:
        """The numbers above `after` of the documents that an expression of the index finds, rising."""
        query = "SELECT rowid FROM search WHERE search MATCH ? AND rowid > ? ORDER BY rowid"
        with self._reading() as connection:
            # The driver itself: 100,000 numbers take 60 ms there and more than twice that as rows.
            found = connection.connection.driver_connection.execute(query, (matching, after))  # type: ignore[union-attr]
            return [number for (number,) in found]

    def last_document(self) -> int:
        """The highest number that a document has; 0 where there is none."""
        with self._reading() as connection:
            query = select(search_documents.c.id).order_by(search_documents.c.id.desc()).limit(1)
            return int(connection.scalar(query) or 0)

    def document_numbers(self, *, after: int = 0) -> list[tuple[int, str]]:
        """The number of each document above `after`, with its print's accession number."""
        query = select(search_documents.c.id, search_documents.c.accession).where(search_documents.c.id > after)
        with self._reading() as connection:
            return [(number, accession) for number, accession in connection.execute(query)]

    def documents(self, accessions: Sequence[str]) -> dict[str, Row]:
        """The documents of these prints, a few hundred at most, by accession number."""
        query = select(search_documents).where(search_documents.c.accession.in_(accessions))
        with self._reading() as connection:
            return {row["accession"]: row for row in rows(connection, query)}

    def vocabulary(self) -> list[tuple[str, int]]:
        """Each word of the documents as the index keeps it, and in how many of them it stands."""
        with self._reading() as connection:
            return [
                (term, count) for term, count in connection.execute(text("SELECT term, doc FROM search_words"))
            ]
