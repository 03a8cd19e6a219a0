"""Erasing: the one exception to "nothing is overwritten", for data that a person may not keep.

Rows are deleted, and so is what history tells of them; then the file is written anew and its log emptied, so that
no page of it holds a byte of them. What a disk keeps of files that were replaced is beyond any program's reach.
"""

from __future__ import annotations

import sqlite3
import time
from contextlib import closing
from pathlib import Path

from solander.core.errors import Trouble
from solander.core.sentence import Sentence

__all__ = ["erase_faces"]

TRIES, PAUSE_S = 20, 0.5
"""So often the pages are tried to be cleared, with so long between: who reads is done by then (our choice)."""

_TABLES = ("face_measures", "faces_looked", "faces")


def erase_faces(path: Path, *, patience_s: float) -> int:
    """Erases all that the catalogue in `path` keeps of faces; gives how many faces there were.

    Raises
    ------
    Trouble
        When another program goes on using the catalogue, so that its pages can't be cleared, however often it is
        tried; the rows are gone then, and running it again clears the pages.
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
        connection.execute(f"PRAGMA busy_timeout = {round(1000 * patience_s / TRIES)}")
        cleared = _is_cleared(connection)
    if not cleared:
        raise Trouble(
            Sentence("The faces are erased, but traces of them may still lie in solander.db"),
            Sentence("another Solander has the collection open"),
            Sentence("Close it and erase again"),
        )
    return erased


def _is_cleared(connection: sqlite3.Connection) -> bool:
    """Clears the pages, again while somebody else is just reading or writing; whether it went well at last."""
    for _ in range(TRIES):
        if _clear(connection):
            return True
        time.sleep(PAUSE_S)
    return False


def _clear(connection: sqlite3.Connection) -> bool:
    try:
        connection.execute("VACUUM")
    except sqlite3.OperationalError as error:
        if "locked" not in str(error):
            raise
        return False
    busy, *_ = connection.execute("PRAGMA wal_checkpoint(TRUNCATE)").fetchone()
    return not busy


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
