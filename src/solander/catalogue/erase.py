"""Erasing: the one exception to "nothing is overwritten", for data that a person may not keep.

Rows are deleted, and so is what history tells of them; then the file is written anew and its log emptied, so that
no page of it holds a byte of them. What a disk keeps of files that were replaced is beyond any program's reach.
"""

from __future__ import annotations

import json
import sqlite3
import time
from collections.abc import Callable, Iterator, Sequence
from contextlib import closing, contextmanager
from pathlib import Path

from solander.core.errors import Trouble
from solander.core.sentence import Sentence

__all__ = ["erase_faces", "erase_sound"]

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
    left = Sentence("The faces are erased, but traces of them may still lie in solander.db")
    return _erased(path, _delete_faces, left, patience_s)


def erase_sound(path: Path, sha256: str, asked_elsewhere: Sequence[str], *, patience_s: float) -> int:
    """Erases all that the catalogue in `path` keeps of a recording: what was written down of it, who tells it,
    with which prints it went, what was asked because of it, but for the questions by the keys `asked_elsewhere`.
    Gives how many statements there were.

    Raises
    ------
    Trouble
        As `erase_faces`.
    """
    left = Sentence("The recording is erased, but traces of what was said of it may still lie in solander.db")
    return _erased(path, lambda connection: _delete_sound(connection, sha256, asked_elsewhere), left, patience_s)


def _erased(path: Path, delete: Callable[[sqlite3.Connection], int], left: str, patience_s: float) -> int:
    """Deletes in one transaction, then clears the pages; tells what is `left` where that can't be."""
    with closing(sqlite3.connect(path, timeout=patience_s, isolation_level=None)) as connection:
        connection.execute("PRAGMA secure_delete = ON")
        connection.execute("PRAGMA synchronous = FULL")
        connection.execute("BEGIN IMMEDIATE")
        try:
            erased = delete(connection)
            connection.execute("COMMIT")
        except BaseException:
            connection.execute("ROLLBACK")
            raise
        connection.execute(f"PRAGMA busy_timeout = {round(1000 * patience_s / TRIES)}")
        cleared = _is_cleared(connection)
    if not cleared:
        raise Trouble(
            left, Sentence("another Solander has the collection open"), Sentence("Close it and erase again")
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


def _delete_faces(connection: sqlite3.Connection) -> int:
    (erased,) = connection.execute("SELECT count(*) FROM faces").fetchone()
    for table in _TABLES:
        connection.execute(f"DELETE FROM {table}")
    marks = ", ".join("?" for _ in _TABLES)
    with _unguarded(connection, "changes_no_delete"):
        connection.execute(f"DELETE FROM changes WHERE table_name IN ({marks})", _TABLES)
    return int(erased)


_SAID = "(about = 'sound' AND subject = :sound) OR (says = 'account' AND value = :sound)"
_ITS_PRINTS = "(SELECT subject FROM statements WHERE says = 'account' AND value = :sound)"
_TOLD = "json_extract(coalesce(after, before), '$.asks') = 'told'"
_PRINT = "json_extract(coalesce(after, before), '$.subject')"
_ELSEWHERE = "(SELECT value FROM json_each(:elsewhere))"
_NAMED = "(instr(coalesce(before, ''), :sound) OR instr(coalesce(after, ''), :sound))"

_DELETIONS = (
    f"DELETE FROM changes WHERE table_name IN ('statements', 'sounds') AND {_NAMED}",
    # Questions quote what was heard, and don't tell in which story: those of its prints go that no other raises.
    f"DELETE FROM changes WHERE table_name = 'questions' AND {_TOLD} AND {_PRINT} IN {_ITS_PRINTS} "
    f"AND row_key NOT IN {_ELSEWHERE}",
    f"DELETE FROM questions WHERE asks = 'told' AND subject IN {_ITS_PRINTS} AND key NOT IN {_ELSEWHERE}",
    f"DELETE FROM statements WHERE {_SAID}",
    "DELETE FROM sounds WHERE sha256 = :sound",
    # The index of words keeps those of documents that are gone until it is made anew (SQLite, "FTS5", 'rebuild').
    "INSERT INTO search(search) VALUES ('rebuild')",
)


def _delete_sound(connection: sqlite3.Connection, sha256: str, asked_elsewhere: Sequence[str]) -> int:
    sound = {"sound": sha256, "elsewhere": json.dumps([*asked_elsewhere])}
    (erased,) = connection.execute(f"SELECT count(*) FROM statements WHERE {_SAID}", sound).fetchone()
    with _unguarded(connection, "changes_no_delete", "sounds_no_delete"):
        for deletion in _DELETIONS:
            connection.execute(deletion, sound)
    return int(erased)


@contextmanager
def _unguarded(connection: sqlite3.Connection, *triggers: str) -> Iterator[None]:
    """Takes away, within the transaction, the triggers that keep rows from being deleted."""
    marks = ", ".join("?" for _ in triggers)
    those = f"SELECT name, sql FROM sqlite_master WHERE type = 'trigger' AND name IN ({marks})"
    guards = connection.execute(those, triggers).fetchall()
    for name, _ in guards:
        connection.execute(f"DROP TRIGGER {name}")
    yield
    for _, sql in guards:
        connection.execute(sql)
