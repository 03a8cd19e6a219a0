"""Where all prints stand, put in the place of what was kept before: others go on writing while it is made ready.

All rows are first laid into tables of this connection alone, which locks nothing. Then one transaction takes over
what differs, within the database, so that nobody else who writes waits for long.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from typing import Any

from sqlalchemy import (
    Column,
    ColumnElement,
    Connection,
    Engine,
    MetaData,
    Table,
    Text,
    delete,
    exists,
    insert,
    or_,
    select,
    type_coerce,
)

from solander.catalogue.schema import standing, standing_told, standing_whole
from solander.catalogue.standing import standing_row
from solander.core.sentence import parts
from solander.core.standing import Standing, Whole

__all__ = ["keep_whole"]


def _of_this_connection(table: Table) -> Table:
    columns = (Column(column.name, column.type, primary_key=column.primary_key) for column in table.columns)
    return Table(f"fresh_{table.name}", MetaData(), *columns, prefixes=["TEMPORARY"])


_FRESH, _FRESH_TOLD = _of_this_connection(standing), _of_this_connection(standing_told)


def keep_whole(engine: Engine, those: Sequence[Standing], told: Mapping[str, Any], whole: Whole) -> None:
    """Puts the standings of all prints as of `whole.change` in the place of what was kept.

    A print that was put right since that change stays as it is, until its change is worked in as well.
    """
    with engine.connect() as connection, _made_ready(connection, those, told):
        writing = connection.execution_options(writes=True)
        with writing.begin():
            newer = select(standing.c.accession).where(standing.c.change > whole.change)
            _take_over(writing, standing, _FRESH, _differs, newer)
            _take_over(writing, standing_told, _FRESH_TOLD, _is_told_otherwise, newer)
            _tell(writing, whole)


@contextmanager
def _made_ready(connection: Connection, those: Sequence[Standing], told: Mapping[str, Any]) -> Iterator[None]:
    for fresh in (_FRESH, _FRESH_TOLD):
        fresh.drop(connection, checkfirst=True)
        fresh.create(connection)
    if those:
        connection.execute(insert(_FRESH), [standing_row(one) for one in those])
        kept = [{"accession": one.accession, "told": told.get(one.accession, {})} for one in those]
        connection.execute(insert(_FRESH_TOLD), kept)
    connection.commit()
    try:
        yield
    finally:
        for fresh in (_FRESH, _FRESH_TOLD):
            fresh.drop(connection)
        connection.commit()


def _take_over(
    connection: Connection,
    kept: Table,
    fresh: Table,
    differs: Callable[[Table, Table], ColumnElement[bool]],
    newer: Any,
) -> None:
    """What is no longer there goes, what differs is replaced, what is new comes."""
    same_print = fresh.c.accession == kept.c.accession
    goes = or_(~exists().where(same_print), exists().where(same_print, differs(kept, fresh)))
    connection.execute(delete(kept).where(kept.c.accession.not_in(newer), goes))
    comes = select(fresh).where(fresh.c.accession.not_in(select(kept.c.accession)))
    connection.execute(insert(kept).from_select([column.name for column in kept.columns], comes))


def _differs(kept: Table, fresh: Table) -> ColumnElement[bool]:
    """As of which change a print stands so does not matter, where it stands so still."""
    columns = (name for name in (column.name for column in kept.columns) if name not in ("accession", "change"))
    return or_(*(kept.c[name].is_distinct_from(fresh.c[name]) for name in columns))


def _is_told_otherwise(kept: Table, fresh: Table) -> ColumnElement[bool]:
    return type_coerce(kept.c.told, Text).is_distinct_from(type_coerce(fresh.c.told, Text))


def _tell(connection: Connection, whole: Whole) -> None:
    connection.execute(delete(standing_whole))
    pairs = [list(map(parts, pair)) for pair in whole.contradictions]
    asked = [list(map(parts, one)) for one in whole.asked]
    values = {"prints": whole.prints, "contradictions": pairs, "mends": [*map(parts, whole.mends)], "asked": asked}
    connection.execute(insert(standing_whole), {"id": 1, "change": whole.change, "told": values})
