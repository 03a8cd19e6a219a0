"""The catalogue of a collection: made, opened, read, written, copied."""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import closing, contextmanager
from pathlib import Path
from types import TracebackType
from typing import Any, Self

from sqlalchemy import Connection, Engine, delete, false
from sqlalchemy.exc import OperationalError

from solander.catalogue.act import Act, undo_last, undo_one
from solander.catalogue.database import (
    FILE_NAME,
    bring_up_to_date,
    connect,
    faults_spoken,
    is_catalogue,
    migrate,
    migrating,
    read_from,
    writing,
)
from solander.catalogue.documents import documents_missing, write_documents
from solander.catalogue.erase import erase_faces, erase_sound
from solander.catalogue.history import utc_now
from solander.catalogue.queries import Reading
from solander.catalogue.schema import standing, standing_told, standing_whole
from solander.catalogue.search import Fts5
from solander.catalogue.stand import keep_station
from solander.catalogue.standing import holds_until, keep_some, take_away
from solander.catalogue.standing_whole import keep_whole
from solander.catalogue.undo import last_act
from solander.catalogue.writings import keep_writing
from solander.core.errors import CannotBegin, Trouble
from solander.core.inscriptions.kept import Writing
from solander.core.sentence import Sentence
from solander.core.standing import Standing, Whole

__all__ = ["FILE_NAME", "Act", "Catalogue", "utc_now"]

_PATIENCE_S = 30.0
"""How long a writer waits; the longest transaction measured, undoing an accession of 20,000 prints, took 5.5 s."""


class Catalogue(Reading):
    """What is known of the prints of one collection; close it, or use it as a context manager.

    Readers never wait. One writer at a time: a second one waits for a while, then gets a `Trouble`.
    """

    def __init__(self, path: Path, engine: Engine, *, now: Callable[[], str]) -> None:
        self.path, self._engine, self._now, self._index = path, engine, now, Fts5()

    @classmethod
    def create(
        cls, root: Path, *, title: str = "", now: Callable[[], str] = utc_now, patience_s: float = _PATIENCE_S
    ) -> Catalogue:
        """A new catalogue in `root`.

        Raises
        ------
        CannotBegin
            When there is one already, or the folder can't be written.
        """
        path = root / FILE_NAME
        if path.exists():
            raise CannotBegin(
                Sentence("No catalogue was made in %(root)s", root=root),
                Sentence("there is one already"),
                Sentence("Open it, or name a new folder"),
            )
        with _beginning(path):
            root.mkdir(parents=True, exist_ok=True)
            _make(path, title=title)
        return cls.open(root, now=now, patience_s=patience_s)

    @classmethod
    def open(cls, root: Path, *, now: Callable[[], str] = utc_now, patience_s: float = _PATIENCE_S) -> Catalogue:
        """The catalogue in `root`, brought up to date.

        Raises
        ------
        CannotBegin
            When there is none, a newer Solander wrote it, or it can't be read.
        """
        path = root / FILE_NAME
        if not path.is_file():
            raise CannotBegin(
                Sentence("%(root)s is no collection", root=root),
                Sentence("there is no %(file)s in it", file=FILE_NAME),
                Sentence("Check the folder's name"),
            )
        with _beginning(path):
            _refuse_other_files(path)
        engine = connect(path, patience_s=patience_s)
        try:
            with _beginning(path):
                bring_up_to_date(engine, root)
                _write_documents(engine)
        except BaseException:
            engine.dispose()
            raise
        return cls(path, engine, now=now)

    def close(self) -> None:
        """Gives the file free; nothing is lost when this is never called."""
        self._engine.dispose()

    @property
    def can_be_written(self) -> bool:
        """Whether anything can be kept in it; not where its medium or the permissions let it be read only.

        Raises
        ------
        Trouble
            When another Solander goes on writing.
        """
        try:
            with faults_spoken(), writing(self._engine) as connection:
                connection.execute(delete(standing_whole).where(false()))  # to begin alone is let pass
                return True
        except Trouble as trouble:
            if isinstance(trouble.__cause__, OperationalError) and "readonly" in str(trouble.__cause__):
                return False
            raise

    def read_order_from(self, path: Path) -> None:
        """Reads where prints stand from the catalogue at `path` from now on, a copy of this one."""
        read_from(self._engine, path, (standing.name, standing_told.name, standing_whole.name))

    @contextmanager
    def act(self, who: str, what: str) -> Iterator[Act]:
        """One thing that a person does; `what` is the sentence by which history and undo will speak of it."""
        yield Act(self._engine, who=who, what=what, now=self._now)

    def last_act(self) -> tuple[int, str] | None:
        """Number and sentence of the act that `undo` would take back."""
        with self._reading() as connection:
            act = last_act(connection)
        return (act["id"], act["what"]) if act else None

    def undo(self, who: str, *, only: int | None = None) -> str:
        """The sentence of the last act, which was taken back, all of it; captures and arrivals stay.

        With `only`, the number of an act, nothing else is taken back.

        Raises
        ------
        Trouble
            When nothing is left to take back, or something later stands in the way.
        """
        return undo_last(self._engine, who=who, now=self._now, only=only)

    def take_back(self, who: str, act: int) -> str:
        """The sentence of the act of that number, which was taken back; what was done since stands.

        Raises
        ------
        Trouble
            When it can't be taken back, or something later stands in the way; names what.
        """
        return undo_one(self._engine, act, who=who, now=self._now)

    def keep_standings(
        self,
        those: Sequence[Standing],
        told: Mapping[str, Any],
        *,
        whole: Whole | None = None,
        gone: Iterable[str] = (),
        holds: int | None = None,
    ) -> None:
        """Writes where these prints stand and what is `told` of their dates; with `whole` they are all prints.

        It is no act and enters no history: nothing that is known changes by it. `gone` are listed no more; with
        `holds`, what was worked out of all prints holds as of that change too.

        Raises
        ------
        Trouble
            When another Solander goes on writing, the disk is full, or the file can't be written.
        """
        if whole is not None:
            with faults_spoken():
                keep_whole(self._engine, those, told, whole)
            return
        with faults_spoken(), writing(self._engine) as connection:
            take_away(connection, gone)
            keep_some(connection, those, told)
            if holds is not None:
                holds_until(connection, holds)
            connection.commit()

    def keep_station(self, name: str, told: Mapping[str, Any]) -> None:
        """Keeps what holds at a station just now, so that it is there after a restart; it enters no history.

        Raises
        ------
        Trouble
            When another Solander goes on writing, the disk is full, or the file can't be written.
        """
        with faults_spoken(), writing(self._engine) as connection:
            keep_station(connection, name, told)
            connection.commit()

    def keep_writing(self, view: str, read: Writing) -> None:
        """Keeps what a machine read in a view, in the place of what was read before; it enters no history.

        Raises
        ------
        Trouble
            When another Solander goes on writing, the disk is full, or the file can't be written.
        """
        with faults_spoken(), writing(self._engine) as connection:
            keep_writing(connection, view, read)
            connection.commit()

    def erase_faces(self) -> int:
        """Erases all that is kept of faces, in history too; gives how many there were. It can't be undone.

        Raises
        ------
        Trouble
            When another Solander has the catalogue open, or the file can't be written.
        """
        self._engine.dispose()  # an idle connection of ours would keep the log from being emptied
        try:
            return erase_faces(self.path, patience_s=_PATIENCE_S)
        except sqlite3.Error as error:
            raise Trouble(
                Sentence("The faces were not erased"), str(error), Sentence("Close it everywhere and try again")
            ) from error

    def erase_sound(self, sha256: str, *, asked_elsewhere: Sequence[str] = ()) -> int:
        """Erases all that is kept of a recording, in history too; gives how many statements there were. It can't
        be undone. The questions by the keys `asked_elsewhere` stay: other recordings raise them.

        Raises
        ------
        Trouble
            When another Solander has the catalogue open, or the file can't be written.
        """
        self._engine.dispose()
        try:
            return erase_sound(self.path, sha256, asked_elsewhere, patience_s=_PATIENCE_S)
        except sqlite3.Error as error:
            raise Trouble(
                Sentence("The recording was not erased"), str(error), Sentence("Close it everywhere and try again")
            ) from error

    def backup(self, target: Path) -> None:
        """Writes a copy of the catalogue, whole as of one moment, that was read back and found sound.

        A file that is there already is replaced only when the copy is whole. The copy is one file without a log
        beside it, so that it also opens where nothing can be written.

        Raises
        ------
        Trouble
            When it can't be written, or the copy or the catalogue itself is damaged.
        """
        try:
            target.parent.mkdir(parents=True, exist_ok=True)
            with _fresh_beside(target) as fresh:
                self._copy(fresh)
                _put_in_place(fresh, target)
        except OSError as error:
            raise _not_copied(target, error.strerror or str(error)) from error
        except sqlite3.Error as error:
            raise _not_copied(target, str(error)) from error

    def _copy(self, fresh: Path) -> None:
        with faults_spoken(), self._engine.connect() as connection, closing(sqlite3.connect(fresh)) as copy:
            _driver(connection).backup(copy)
            copy.execute("PRAGMA journal_mode = DELETE")
            found = copy.execute("PRAGMA integrity_check").fetchone()[0]
            if found != "ok" or copy.execute("PRAGMA foreign_key_check").fetchone():
                raise _not_copied(fresh, f"the catalogue is damaged ({found})")

    @contextmanager
    def _reading(self) -> Iterator[Connection]:
        with faults_spoken(), self._engine.connect() as connection:
            yield connection

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()


def _make(path: Path, *, title: str) -> None:
    # Made under another name and moved when whole: a crash leaves no half catalogue behind.
    with _fresh_beside(path) as fresh:
        engine = connect(fresh, patience_s=_PATIENCE_S)
        try:
            with migrating(engine) as connection:
                migrate(connection)
                connection.exec_driver_sql("INSERT INTO settings VALUES ('title', ?)", (title,))
                connection.commit()
        finally:
            engine.dispose()
        fresh.rename(path)


def _write_documents(engine: Engine) -> None:
    """Fills what is searched where a new form left it empty."""
    with engine.connect() as connection:
        if not documents_missing(connection):
            return
    with writing(engine) as connection:
        write_documents(connection)
        connection.commit()


@contextmanager
def _fresh_beside(path: Path) -> Iterator[Path]:
    fresh = path.with_name(f".{path.name}.new")
    fresh.unlink(missing_ok=True)
    try:
        yield fresh
    finally:
        fresh.unlink(missing_ok=True)


def _refuse_other_files(path: Path) -> None:
    if not is_catalogue(path):
        raise CannotBegin(
            Sentence("%(parent)s is no collection", parent=path.parent),
            Sentence("its %(path)s was not written by Solander, or is damaged", path=path.name),
            Sentence("Check the folder's name; if it is the right one, bring the file back from the second copy"),
        )


@contextmanager
def _beginning(path: Path) -> Iterator[None]:
    """Whatever keeps the catalogue from being made or opened, as one kind of refusal."""
    try:
        with faults_spoken():
            yield
    except CannotBegin:
        raise
    except Trouble as trouble:
        raise CannotBegin(
            Sentence("%(parent)s could not be opened", parent=path.parent), trouble.why, trouble.todo
        ) from trouble
    except OSError as error:
        why = error.strerror or str(error)
        raise CannotBegin(
            Sentence("%(parent)s could not be opened", parent=path.parent),
            why,
            Sentence("Check the name and the permissions"),
        ) from error


def _driver(connection: Connection) -> Any:
    return connection.connection.driver_connection


def _put_in_place(fresh: Path, target: Path) -> None:
    with fresh.open("rb+") as file:
        os.fsync(file.fileno())
    # A log left by the file that goes would be taken for the copy's own.
    for leftover in ("-wal", "-shm"):
        target.with_name(target.name + leftover).unlink(missing_ok=True)
    fresh.replace(target)


def _not_copied(target: Path, why: str) -> Trouble:
    return Trouble(
        Sentence("The catalogue was not copied to %(target)s", target=target),
        why,
        Sentence("Check the disk and its free space"),
    )
