"""The appended history: every row that is written goes through here, with what it was before and what it is after.

An act is one thing that a person did; it holds the changes of as many transactions as it took. Taking an act back
is an act of its own, so history only ever grows.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from datetime import UTC, datetime
from functools import cache
from itertools import islice
from typing import Any

from attrs import frozen
from sqlalchemy import Connection, Delete, Integer, Select, Table, bindparam, delete, func, insert, select

from solander.catalogue.database import first_row, rows
from solander.catalogue.records import Row, storable
from solander.catalogue.schema import acts, changes, row_key
from solander.core.errors import Trouble
from solander.core.language import Told
from solander.core.sentence import Sentence

__all__ = ["Change", "Recorder", "utc_now"]

_AT_ONCE = 5000
"""So many rows wait in memory before they are written; our choice, not measured."""

_KEYS_AT_ONCE = 400  # keys in one query; SQLite takes 32,766 values


def utc_now() -> str:
    """This moment in UTC, RFC 3339, to the millisecond."""
    return datetime.now(UTC).isoformat(timespec="milliseconds").replace("+00:00", "Z")


@frozen
class Change:
    """One row that was written: `action` is insert, update or delete; `act` is the sentence of what was done.

    `before` and `after` are the whole row, None where there was or is none; `undone` when the act was taken back.
    """

    at: str
    who: str
    act: str
    action: str
    table: str
    key: str
    before: dict[str, Any] | None
    after: dict[str, Any] | None
    undone: bool


class Recorder:
    """Writes rows in one transaction, and beside each the change that it was.

    `begin_act` gives the number of the act, and is called with the first change; `seen` is told of each change:
    the table, the row before, the row after.
    """

    def __init__(
        self,
        connection: Connection,
        *,
        begin_act: Callable[[], int],
        now: Callable[[], str],
        seen: Callable[[Table, Row | None, Row | None], None],
    ) -> None:
        self._connection, self._begin_act, self._now, self._seen = connection, begin_act, now, seen
        self._unwritten: list[dict[str, Any]] = []

    def row(self, table: Table, key: str) -> dict[str, Any] | None:
        """The row of that key as it is now."""
        found = first_row(self._connection, _row_of(table), sought=storable(key))
        return None if found is None else dict(found)

    def insert(self, table: Table, row: Row, *, lasting: bool = False) -> None:
        """Adds a row; a `lasting` one is never taken back."""
        kept = _kept(row)
        numbered = self._connection.execute(insert(table), kept).inserted_primary_key
        after = {**dict(zip(table.primary_key.columns.keys(), numbered or (), strict=False)), **kept}
        self._record("insert", table, before=None, after=after, lasting=lasting)

    def insert_all(self, table: Table, those: Iterable[Row]) -> None:
        """Adds many rows, some thousands at once, which is many times quicker than one by one."""
        (key,) = table.primary_key.columns
        last = 0
        if isinstance(key.type, Integer):
            last = int(self._connection.scalar(select(func.coalesce(func.max(key), 0))) or 0)
        rest = iter(those)
        while some := [_kept(row) for row in islice(rest, _AT_ONCE)]:
            if isinstance(key.type, Integer):
                some = [{key.name: number, **row} for number, row in enumerate(some, last + 1)]
            last += len(some)
            self._connection.execute(insert(table), some)
            for after in some:
                self._record("insert", table, before=None, after=after)
            self.write_changes()

    def update(self, table: Table, key: str, values: Row, *, lasting: bool = False) -> dict[str, Any]:
        """Changes the row of that key, and gives it as it was; the same again is not recorded."""
        before = self._there(table, key)
        after = {**before, **_kept(values)}
        if after != before:
            self._connection.execute(table.update().where(row_key(table) == storable(key)), _kept(values))
            self._record("update", table, before=before, after=after, lasting=lasting)
        return before

    def update_all(self, table: Table, keys: Iterable[str], values: Row) -> None:
        """Changes the rows of these keys alike, some hundreds at once; one that is not there is passed over."""
        rest = iter(dict.fromkeys(map(storable, keys)))
        kept = _kept(values)
        while some := list(islice(rest, _KEYS_AT_ONCE)):
            within = row_key(table).in_(some)
            found = [dict(row) for row in rows(self._connection, select(table).where(within))]
            self._connection.execute(table.update().where(within), kept)
            for before in found:
                if (after := {**before, **kept}) != before:
                    self._record("update", table, before=before, after=after)

    def keep(self, table: Table, row: Row, *, lasting: bool = False) -> None:
        """Adds the row, or changes the one of the same key."""
        key = row[row_key(table).name]
        if self.row(table, key) is None:
            self.insert(table, row, lasting=lasting)
        else:
            self.update(table, key, row, lasting=lasting)

    def delete(self, table: Table, key: str) -> dict[str, Any]:
        """Takes a row away, and gives it as it was."""
        before = self._there(table, key)
        self._connection.execute(_removal_from(table), {"sought": storable(key)})
        self._record("delete", table, before=before, after=None)
        return before

    def _there(self, table: Table, key: str) -> dict[str, Any]:
        row = self.row(table, key)
        if row is None:
            raise Trouble(
                Sentence("The catalogue was not changed"),
                Sentence("%(key)s is no longer there", key=key),
                Sentence("Look at it again"),
            )
        return row

    def _record(
        self, action: str, table: Table, *, before: Row | None, after: Row | None, lasting: bool = False
    ) -> None:
        key = str((after or before or {})[row_key(table).name])
        change = {"act": self._begin_act(), "at": self._now(), "action": action, "table_name": table.name}
        told = {"row_key": key, "before": before, "after": after, "lasting": lasting}
        self._unwritten.append(change | told)
        self._seen(table, before, after)

    def write_changes(self) -> None:
        """Appends the changes to history; once, at the end of a transaction, which is quicker than one by one."""
        if self._unwritten:
            self._connection.execute(insert(changes), self._unwritten)
        self._unwritten = []


def begin_act(connection: Connection, *, at: str, who: str, what: str, undoes: int | None = None) -> int:
    """The number of a new act."""
    row = {
        "at": at,
        "who": storable(who),
        "what": what if isinstance(what, Told) else storable(what),
        "undoes": undoes,
    }
    return int(connection.execute(insert(acts).returning(acts.c.id), row).scalar_one())


# Putting a statement together takes SQLAlchemy longer than SQLite takes to run it; these two run for every change.


@cache
def _row_of(table: Table) -> Select[Any]:
    return select(table).where(row_key(table) == bindparam("sought"))


@cache
def _removal_from(table: Table) -> Delete:
    return delete(table).where(row_key(table) == bindparam("sought"))


def _kept(row: Row) -> dict[str, Any]:
    return {name: storable(value) if isinstance(value, str) else value for name, value in row.items()}
