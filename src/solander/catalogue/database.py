"""The file under the catalogue: how it is opened, brought up to date and spoken of when it fails.

SQLite with a write-ahead log: any number of readers while one writes, each reader sees what was committed when it
began. `synchronous=FULL`: what was committed survives a power cut.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any, cast

from sqlalchemy import URL, Connection, Engine, Select, create_engine, event
from sqlalchemy.exc import DatabaseError

from solander.catalogue.records import Row
from solander.catalogue.schema import HEAD
from solander.core.errors import CannotBegin, Trouble

__all__ = [
    "FILE_NAME",
    "bring_up_to_date",
    "connect",
    "faults_spoken",
    "migrate",
    "migrating",
    "revision",
    "writing",
]

FILE_NAME = "solander.db"
_APPLICATION_ID = 0x536C6472  # set by the first migration

_FAULTS = (
    ("locked", "another Solander is writing to it", "Wait until it is done, or close it, and try again"),
    ("full", "the disk is full", "Make room; what was acknowledged before is kept"),
    ("readonly", "it can only be read here", "Check the permissions of the folder and its files"),
    ("unable to open", "its file can't be opened", "Check the permissions of the folder and its files"),
    ("malformed", "its file is damaged", "Bring solander.db back from the second copy of the collection"),
    ("not a database", "its file is damaged", "Bring solander.db back from the second copy of the collection"),
    ("disk i/o", "the disk reported a fault", "Check the disk and the cable; work on from the second copy"),
)


def connect(path: Path, *, patience_s: float) -> Engine:
    """An engine for the catalogue in `path`; a writer waits `patience_s` seconds for another to finish."""
    engine = create_engine(
        URL.create("sqlite", database=str(path)), json_serializer=_json, connect_args={"timeout": patience_s}
    )

    @event.listens_for(engine, "connect")
    def _set_up(connection: Any, _: object) -> None:
        # Transactions are begun by `_begin` below; the driver's own habit of beginning late is switched off.
        connection.isolation_level = None
        for pragma in ("journal_mode = WAL", "synchronous = FULL", "foreign_keys = ON"):
            connection.execute(f"PRAGMA {pragma}")

    @event.listens_for(engine, "begin")
    def _begin(connection: Connection) -> None:
        writes = connection.get_execution_options().get("writes", False)
        connection.exec_driver_sql("BEGIN IMMEDIATE" if writes else "BEGIN")

    return engine


def _json(value: object) -> str:
    # A name that is not valid text comes as lone surrogates, which only their JSON escapes can carry.
    text = json.dumps(value, ensure_ascii=False, allow_nan=False, separators=(",", ":"))
    return text.encode("utf-8", "backslashreplace").decode("utf-8")


def rows(connection: Connection, query: Select[Any]) -> list[Row]:
    """All rows of a query, by the names of its columns."""
    return cast("list[Row]", connection.execute(query).mappings().all())


def first_row(connection: Connection, query: Select[Any]) -> Row | None:
    """The first row of a query, if there is one."""
    return cast("Row | None", connection.execute(query).mappings().first())


@contextmanager
def writing(engine: Engine) -> Iterator[Connection]:
    """A connection inside the one transaction that may write; rolled back unless it is committed."""
    with engine.connect().execution_options(writes=True) as connection:
        connection.begin()
        yield connection


@contextmanager
def faults_spoken() -> Iterator[None]:
    """Faults of the database become a `Trouble` that says what to do; others pass."""
    try:
        yield
    except DatabaseError as error:
        said = str(error.orig).lower()
        for sign, why, todo in _FAULTS:
            if sign in said:
                raise Trouble("The catalogue could not be used", why, todo) from error
        raise


def revision(engine: Engine) -> str | None:
    """The last migration that the catalogue has seen; None when the file is no catalogue."""
    try:
        with engine.connect() as connection:
            if connection.exec_driver_sql("PRAGMA application_id").scalar() != _APPLICATION_ID:
                return None
            found = connection.exec_driver_sql("SELECT version_num FROM alembic_version").scalar()
            return None if found is None else str(found)
    except DatabaseError as error:
        if "not a database" in str(error.orig):
            return None
        raise


def bring_up_to_date(engine: Engine, path: Path) -> None:
    """Runs the migrations that the catalogue has not seen, all in one transaction.

    Raises
    ------
    CannotBegin
        When a newer Solander wrote it, or the file is no catalogue.
    """
    found = revision(engine)
    if found is None:
        raise CannotBegin(
            f"{path.parent} is no collection",
            f"{path.name} in it was not written by Solander",
            "Name the folder of a collection",
        )
    if found > HEAD:
        raise CannotBegin(
            f"The collection in {path.parent} can't be opened",
            f"a newer Solander wrote it (form {found}, this one knows up to {HEAD})",
            "Update Solander; nothing was changed",
        )
    if found < HEAD:
        with migrating(engine) as connection:
            migrate(connection)
            connection.commit()


@contextmanager
def migrating(engine: Engine) -> Iterator[Connection]:
    """A connection inside the one transaction that may change tables; rolled back unless it is committed."""
    with engine.connect().execution_options(writes=True) as connection:
        # SQLite changes a table by building it anew; references into it must not be enforced while that goes on,
        # and can only be switched outside of a transaction. The connection is not used for anything else.
        connection.exec_driver_sql("ROLLBACK")
        connection.exec_driver_sql("PRAGMA foreign_keys = OFF")
        connection.exec_driver_sql("BEGIN IMMEDIATE")
        yield connection
        connection.invalidate()


def migrate(connection: Connection) -> None:
    """Brings the catalogue behind `connection` to the newest form, inside the transaction already begun."""
    # Loaded only when it is needed: most runs open a catalogue that is up to date.
    from alembic import command
    from alembic.config import Config

    config = Config()
    config.set_main_option("script_location", "solander.catalogue:migrations")
    config.set_main_option("path_separator", "os")
    config.attributes["connection"] = connection
    command.upgrade(config, "head")
