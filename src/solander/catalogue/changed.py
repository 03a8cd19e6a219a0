"""What was changed of one thing since a page showed it."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from sqlalchemy import ColumnElement, Connection, and_, or_, select

from solander.catalogue.database import rows
from solander.catalogue.records import storable
from solander.catalogue.schema import acts, changes, questions, statements

__all__ = ["changed_since"]


def changed_since(connection: Connection, change: int, subjects: Iterable[str]) -> list[dict[str, Any]]:
    """The changes after that number of these `subjects` (a print's number, a heading, a key) and of what is said
    of them, the oldest first, each with who and what of its act. What the machine asks does not count.

    Few rows lie after the last change that a page has shown, so they are looked through without an index.
    """
    sought = [storable(each) for each in subjects]
    if not sought:
        return []
    query = (
        select(changes, acts.c.who, acts.c.what)
        .join_from(changes, acts)
        .where(changes.c.id > change, changes.c.table_name != questions.name, _is_about(sought))
        .order_by(changes.c.id)
    )
    return [dict(row) for row in rows(connection, query)]


def _is_about(sought: list[str]) -> ColumnElement[bool]:
    sides = (side["subject"].as_string().in_(sought) for side in (changes.c.before, changes.c.after))
    return or_(changes.c.row_key.in_(sought), and_(changes.c.table_name == statements.name, or_(*sides)))
