"""Which prints were touched by changes, and whether the order of time can be another one since."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from typing import Any

from attrs import frozen
from sqlalchemy import ColumnElement, Connection, select

from solander.catalogue.database import rows
from solander.catalogue.records import Row
from solander.catalogue.schema import changes, people, prints, questions, settings, statements, views
from solander.core.statements import About, Says

__all__ = ["MOST_CHANGES", "Touched", "touched_by"]

MOST_CHANGES = 20_000
"""With more changes at once nobody asks which prints they touched: everything is worked out anew."""

_ORDERING = (people.name, prints.name, settings.name, statements.name, views.name)
_TOUCHING = (*_ORDERING, questions.name)

_SILENT = {
    Says.NOTE,
    Says.BLANK,
    Says.UNREAD_DATE,
    Says.KEPT_IN,
    Says.KEPT_AT,
    Says.PUT_BACK,
    Says.PLACE,
    Says.ACCOUNT,
}
"""What tells nothing about time."""


@frozen
class Touched:
    """What changes touched, as of the last of them: prints by their numbers, occasions and people by their names.

    `order` says whether the order of time can be another one since, `all` that everything must be worked out.
    """

    change: int
    prints: frozenset[str] = frozenset()
    occasions: frozenset[str] = frozenset()
    people: frozenset[str] = frozenset()
    order: bool = False
    all: bool = False


def touched_by(connection: Connection, *conditions: ColumnElement[bool], since: int = 0) -> Touched:
    """What the changes touched that fulfil these conditions; `since` is the change before the first of them."""
    of_tables = changes.c.table_name.in_(_TOUCHING), *conditions
    query = select(changes).where(*of_tables).order_by(changes.c.id).limit(MOST_CHANGES + 1)
    found = rows(connection, query)
    if not found:
        return Touched(since)
    last = found[-1]["id"]
    if len(found) > MOST_CHANGES:
        return Touched(last, order=True, all=True)
    sides = [(change["table_name"], row) for change in found for row in (change["before"], change["after"]) if row]
    said = [row for table, row in sides if table == statements.name]
    return Touched(
        last,
        prints=frozenset(_prints(sides)),
        occasions=frozenset(_occasions(said)),
        people=frozenset(row["name"] for table, row in sides if table == people.name),
        order=any(map(_orders, found)) or _sizes_changed(found),
        all=any(table == settings.name for table, _ in sides),
    )


def _prints(sides: Iterable[tuple[str, Row]]) -> Iterable[str]:
    for table, row in sides:
        if table == statements.name and row["about"] == About.PRINT:
            yield row["subject"]
            if row["says"] in (Says.AFTER, Says.NEGATIVE):
                yield row["value"]
        elif table in (prints.name, views.name):
            yield row["accession"]
        elif table == questions.name:
            yield row["subject"]


def _occasions(said: Iterable[Row]) -> Iterable[str]:
    """Those of which something is said, and those that prints came to or left."""
    for row in said:
        if row["about"] == About.OCCASION:
            yield row["subject"]
        elif row["says"] == Says.OCCASION:
            yield row["value"]


def _orders(change: Row) -> bool:
    if change["table_name"] == statements.name:
        return any(row["says"] not in _SILENT for row in (change["before"], change["after"]) if row)
    return change["table_name"] in (people.name, prints.name, settings.name)


def _sizes_changed(found: Sequence[Row]) -> bool:
    """Whether a print has paper of another size than before: a turn only swaps its sides."""
    sizes: Counter[Any] = Counter()
    for change in found:
        if change["table_name"] == views.name:
            sizes.update(_size(change["after"]))
            sizes.subtract(_size(change["before"]))
    return any(sizes.values())


def _size(row: Row | None) -> Iterable[Any]:
    if row and not row["superseded"] and row["ppi"]:
        sides = sorted(round(row[side] / row["ppi"], 2) for side in ("width", "height"))
        yield row["accession"], row["side"], *sides
