"""Erasing: the one exception to "nothing is overwritten", for data that a person may not keep.

Rows are deleted, and so is what history tells of them; then the file is written anew and its log emptied, so that
no page of it holds a byte of them. What a disk keeps of files that were replaced is beyond any program's reach.
"""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path

from solander.core.errors import Trouble
from solander.core.sentence import Sentence

__all__ = ["erase_faces"]

_TABLES = ("face_measures", "faces_looked", "faces")


def erase_faces(path: Path, *, patience_s: float) -> int:
    """Erases all that the catalogue in `path` keeps of faces; gives how many faces there were.

    Raises
    ------
    Trouble
        When another program has the catalogue open, so that its pages can't be cleared; the rows are gone then,
        and running it again clears the pages.
    """
    with closing(sqlite3.connect(path, timeout=patience_s, isolation_level=None)) as connection:
        connection.execute("PRAGMA secure_delete = ON")
        connection.execute("PRAGMA synchronous = FULL")
        connection.execute("BEGIN IMMEDIATE")
        try:
            erased = _delete_rows(connection)
            connection.execute("COMMIT")
        except BaseException:
            connection.execute("ROLLBACK")
            raise
        connection.execute("VACUUM")
        busy, *_ = connection.execute("PRAGMA wal_checkpoint(TRUNCATE)").fetchone()
    if busy:
        raise Trouble(
            Sentence("The faces are erased, but traces of them may still lie in solander.db"),
            Sentence("another Solander has the collection open"),
            Sentence("Close it and erase again"),
        )
    return erased


def _delete_rows(connection: sqlite3.Connection) -> int:
    (erased,) = connection.execute("SELECT count(*) FROM faces").fetchone()
    for table in _TABLES:
        connection.execute(f"DELETE FROM {table}")
    guard = "SELECT name, sql FROM sqlite_master WHERE type = 'trigger' AND name = 'changes_no_delete'"
    guards = connection.execute(guard).fetchall()
    for name, _ in guards:
        connection.execute(f"DROP TRIGGER {name}")
    marks = ", ".join("?" for _ in _TABLES)
    connection.execute(f"DELETE FROM changes WHERE table_name IN ({marks})", _TABLES)
    for _, sql in guards:
        connection.execute(sql)
    return int(erased)
