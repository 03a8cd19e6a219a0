"""The file under the catalogue: how it is opened, brought up to date and spoken of when it fails.

SQLite with a write-ahead log: any number of readers while one writes, each reader sees what was committed when it
began. `synchronous=FULL`: what was committed survives a power cut.
"""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any, cast

from sqlalchemy import URL, Connection, Engine, Select, create_engine, event
from sqlalchemy.exc import DatabaseError, IntegrityError

from solander.catalogue.records import Row
from solander.catalogue.schema import HEAD
from solander.core.errors import CannotBegin, Trouble
from solander.core.sentence import Sentence

__all__ = [
    "APPLICATION_ID",
    "FILE_NAME",
    "bring_up_to_date",
    "connect",
    "faults_spoken",
    "first_row",
    "is_catalogue",
    "migrate",
    "migrating",
    "read_from",
    "revision",
    "rows",
    "writing",
]

FILE_NAME = "solander.db"
APPLICATION_ID = 0x536C6472  # "Sldr"; set by the first migration

_FAULTS = (
    (
        "locked",
        Sentence("another Solander is writing to it"),
        Sentence("Wait until it is done, or close it, and try again"),
    ),
    ("full", Sentence("the disk is full"), Sentence("Make room; what was acknowledged before is kept")),
    (
        "readonly",
        Sentence("it can only be read here"),
        Sentence("Check the permissions of the folder and its files"),
    ),
    (
        "unable to open",
        Sentence("its file can't be opened"),
        Sentence("Check the permissions of the folder and its files"),
    ),
    (
        "malformed",
        Sentence("its file is damaged"),
        Sentence("Bring solander.db back from the second copy of the collection"),
    ),
    (
        "not a database",
        Sentence("its file is damaged"),
        Sentence("Bring solander.db back from the second copy of the collection"),
    ),
    (
        "disk i/o",
        Sentence("the disk reported a fault"),
        Sentence("Check the disk and the cable; work on from the second copy"),
    ),
)


def connect(path: Path, *, patience_s: float) -> Engine:
    """An engine for the catalogue in `path`; a writer waits `patience_s` seconds for another to finish."""
    engine = create_engine(
        URL.create("sqlite", database=str(path)), json_serializer=_json, connect_args={"timeout": patience_s}
    )

    @event.listens_for(engine, "connect")
    def _set_up(connection: sqlite3.Connection, _: object) -> None:
        # Transactions are begun by `_begin` below; the driver's own habit of beginning late is switched off.
        connection.isolation_level = None
        connection.execute("PRAGMA synchronous = FULL")
        connection.execute("PRAGMA foreign_keys = ON")
        _keep_log(connection)

    @event.listens_for(engine, "begin")
    def _begin(connection: Connection) -> None:
        writes = connection.get_execution_options().get("writes", False)
        connection.exec_driver_sql("BEGIN IMMEDIATE" if writes else "BEGIN")

    return engine


def _keep_log(connection: sqlite3.Connection) -> None:
    try:
        connection.execute("PRAGMA journal_mode = WAL")
    except sqlite3.OperationalError as error:
        # A copy on a medium that can't be written is read without a log.
        if "readonly" not in str(error):
            raise


def read_from(engine: Engine, path: Path, tables: Iterable[str]) -> None:
    """Has every connection of the engine read these tables from another catalogue, which lies at `path`."""

    @event.listens_for(engine, "connect")
    def _attach(connection: sqlite3.Connection, _: object) -> None:
        connection.execute("ATTACH DATABASE ? AS beside", (str(path),))
        for table in tables:  # a view of the connection's own goes before a table of the catalogue
            connection.execute(f"CREATE TEMPORARY VIEW {table} AS SELECT * FROM beside.{table}")

    engine.dispose()


def _json(value: object) -> str:
    # A name that is not valid text comes as lone surrogates, which only their JSON escapes can carry.
    text = json.dumps(value, ensure_ascii=False, allow_nan=False, separators=(",", ":"))
    return text.encode("utf-8", "backslashreplace").decode("utf-8")


def rows(connection: Connection, query: Select[Any]) -> list[Row]:
    """All rows of a query, by the names of its columns."""
    return cast("list[Row]", connection.execute(query).mappings().all())


def first_row(connection: Connection, query: Select[Any], **values: str) -> Row | None:
    """The first row of a query, if there is one; `values` for its open places."""
    return cast("Row | None", connection.execute(query, values).mappings().first())


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
    except IntegrityError:
        raise
    except DatabaseError as error:
        said = str(error.orig).lower()
        for sign, why, todo in _FAULTS:
            if sign in said:
                raise Trouble(Sentence("The catalogue could not be used"), why, todo) from error
        raise


def is_catalogue(path: Path) -> bool:
    """Whether the file says of itself that it is a Solander catalogue; read without SQLite, so never changed."""
    with path.open("rb") as file:
        header = file.read(100)
    # https://www.sqlite.org/fileformat.html, "The Database Header": magic at 0, application id at 68.
    return header.startswith(b"SQLite format 3\0") and header[68:72] == APPLICATION_ID.to_bytes(4, "big")


def revision(engine: Engine) -> str:
    """The last migration that the catalogue has seen."""
    with engine.connect() as connection:
        return str(connection.exec_driver_sql("SELECT version_num FROM alembic_version").scalar_one())


def bring_up_to_date(engine: Engine, root: Path) -> None:
    """Runs the migrations that the catalogue has not seen, all in one transaction.

    Raises
    ------
    CannotBegin
        When a newer Solander wrote it.
    """
    found = revision(engine)
    if found > HEAD:
        raise CannotBegin(
            Sentence("The collection in %(root)s can't be opened", root=root),
            Sentence(
                "a newer Solander wrote it (form %(found)s, this one knows up to %(head)s)", found=found, head=HEAD
            ),
            Sentence("Update Solander; nothing was changed"),
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
        try:
            yield connection
        finally:
            connection.invalidate()


def migrate(connection: Connection, *, to: str = HEAD) -> None:
    """Brings the catalogue behind `connection` to a form, the newest one, inside the transaction already begun."""
    # Loaded only when it is needed: most runs open a catalogue that is up to date.
    from alembic import command
    from alembic.config import Config

    config = Config()
    config.set_main_option("script_location", "solander.catalogue:migrations")
    config.set_main_option("path_separator", "os")
    config.attributes["connection"] = connection
    command.upgrade(config, to)
    if connection.exec_driver_sql("PRAGMA foreign_key_check").first():
        raise CannotBegin(
            Sentence("The catalogue was not brought up to date"),
            Sentence("references in it would have been broken"),
        )
