"""Where prints stand, as it was worked out: read in pages by key, written all at once or some.

Never in history, for it can always be worked out again. A page begins after a print, not after so many prints, so
that it takes the same time wherever it is.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import AbstractContextManager
from itertools import islice
from typing import Any

from attrs import fields
from sqlalchemy import Column, ColumnElement, Connection, Select, delete, func, insert, select, tuple_, update

from solander.catalogue.database import first_row, rows
from solander.catalogue.records import Row, storable
from solander.catalogue.schema import (
    captures,
    changes,
    containers,
    prints,
    questions,
    standing,
    standing_told,
    standing_whole,
    statements,
)
from solander.catalogue.touched import Touched, touched_by
from solander.core.sentence import read_parts
from solander.core.standing import Arrangement, Standing, Whole, shelf_of
from solander.core.statements import About, Says

__all__ = ["KEYS", "ReadingStanding", "holds_until", "keep_some", "standing_of", "standing_row", "take_away"]

_COLUMNS = tuple(each.name for each in fields(Standing))

_AT_ONCE = 400  # accession numbers in one query; SQLite takes 32,766 values

KEYS: Mapping[Arrangement, tuple[Column[Any], ...]] = {
    Arrangement.TIME: (standing.c.rank, standing.c.accession),
    Arrangement.CONTAINER: (standing.c.shelf, standing.c.number, standing.c.accession),
    Arrangement.OCCASION: (standing.c.occasion_rank, standing.c.rank, standing.c.accession),
}
"""By what the prints of each arrangement are sorted; each is an index."""


class ReadingStanding:
    """The part of a catalogue that reads where prints stand; no call works anything out."""

    def _reading(self) -> AbstractContextManager[Connection]:
        raise NotImplementedError

    def standing_whole(self) -> Whole:
        """What was worked out last of all prints together."""
        with self._reading() as connection:
            row = first_row(connection, select(standing_whole))
        return _whole_of(row) if row else Whole()

    def standing_change(self) -> int:
        """As of which change all prints were worked out last; -1 before the first time."""
        with self._reading() as connection:
            found = connection.scalar(select(standing_whole.c.change))
        return -1 if found is None else int(found)

    def standing_columns(self, *columns: str) -> list[tuple[Any, ...]]:
        """These columns of all standings, by accession number; for those who count in memory."""
        query = select(*(standing.c[name] for name in columns)).order_by(standing.c.accession)
        with self._reading() as connection:
            compiled = str(query.compile(connection))
            return list(connection.connection.driver_connection.execute(compiled))  # type: ignore[union-attr]

    def print_count(self) -> int:
        """How many prints are listed."""
        listed = prints.c.back_of.is_(None), prints.c.taken_out.is_(None)
        return self._number(select(func.count()).select_from(prints).where(*listed))

    def capture_count(self) -> int:
        """How many captures are kept."""
        return self._number(select(func.count()).select_from(captures))

    def question_count(self) -> int:
        """How many questions wait."""
        return self._number(select(func.count()).select_from(questions).where(questions.c.settled.is_(None)))

    def _number(self, query: Select[Any]) -> int:
        with self._reading() as connection:
            return int(connection.scalar(query) or 0)

    def touched_since(self, change: int) -> Touched:
        """What was touched after that change."""
        with self._reading() as connection:
            return touched_by(connection, changes.c.id > change, since=change)

    def touched_by_act(self, act: int) -> Touched:
        """What one act touched."""
        with self._reading() as connection:
            return touched_by(connection, changes.c.act == act)

    def prints_saying(self, says: Says, values: Iterable[str]) -> set[str]:
        """The prints of which one of these values is said."""
        found: set[str] = set()
        live = statements.c.about == About.PRINT, statements.c.says == says, statements.c.withdrawn.is_(None)
        with self._reading() as connection:
            for some in _batches(values):
                query = select(statements.c.subject).where(*live, statements.c.value.in_(some))
                found.update(connection.scalars(query))
        return found

    def prints_in(self, containers: Iterable[str]) -> set[str]:
        """The listed prints of these containers."""
        found: set[str] = set()
        listed = prints.c.back_of.is_(None), prints.c.taken_out.is_(None)
        with self._reading() as connection:
            for some in _batches(containers):
                query = select(prints.c.accession).where(*listed, prints.c.container.in_(some))
                found.update(connection.scalars(query))
        return found

    def containers_within(self, codes: Iterable[str]) -> list[str]:
        """The codes of the containers that lie in one of these."""
        with self._reading() as connection:
            return [
                code
                for some in _batches(codes)
                for code in connection.scalars(select(containers.c.code).where(containers.c.parent.in_(some)))
            ]

    def rank_on(self, day: int | None, year: int | None) -> int:
        """The place in time of a print of that day among those that are kept: that of the last one before it."""
        last = select(func.coalesce(func.max(standing.c.rank), 0))
        with self._reading() as connection:
            if day is None:
                return int(connection.scalar(last) or 0)
            same = connection.scalar(last.where(standing.c.year == year, standing.c.day <= day))
            if same:
                return int(same)
            before = select(func.max(standing.c.year)).where(standing.c.year < year)
            return int(connection.scalar(last.where(standing.c.year == before.scalar_subquery())) or 0)

    def standings(
        self,
        arrangement: Arrangement = Arrangement.TIME,
        *,
        after: str = "",
        before: str = "",
        limit: int = 60,
        where: Sequence[ColumnElement[bool]] = (),
    ) -> list[Standing]:
        """Up to `limit` prints in that order: the first ones, or those next `after` or next `before` a print.

        A print that is not there any more begins at the beginning, or ends at the end.
        """
        keys = KEYS[arrangement]
        with self._reading() as connection:
            query = select(standing).where(*where)
            edge = _place(connection, keys, after or before)
            if edge is not None:
                row = tuple_(*keys)
                query = query.where(row > edge if after else row < edge)
            backwards = bool(before) and not after
            ordered = query.order_by(*(key.desc() for key in keys) if backwards else keys)
            found = [standing_of(row) for row in rows(connection, ordered.limit(limit))]
        return found[::-1] if backwards else found

    def standings_of(self, accessions: Iterable[str]) -> dict[str, Standing]:
        """The standings of these prints by their numbers; those that have none yet are left out."""
        return {one.accession: one for one in self._those(select(standing), standing.c.accession, accessions)}

    def standings_of_occasion(self, name: str) -> list[Standing]:
        """The prints of an occasion in order of time."""
        of_it = select(standing).where(standing.c.occasion == storable(name))
        with self._reading() as connection:
            return [standing_of(row) for row in rows(connection, of_it.order_by(*KEYS[Arrangement.TIME]))]

    def standing_told(self, accessions: Iterable[str]) -> dict[str, Any]:
        """What was told of the date of each of these prints, as it was kept."""
        found: dict[str, Any] = {}
        with self._reading() as connection:
            for some in _batches(accessions):
                query = select(standing_told).where(standing_told.c.accession.in_(some))
                found |= {row["accession"]: row["told"] for row in rows(connection, query)}
        return found

    def standing_years(self) -> dict[int, int]:
        """How many prints are taken to be of each year, by their best guesses."""
        counted = select(standing.c.year, func.count().label("prints")).where(standing.c.year.is_not(None))
        with self._reading() as connection:
            return {row["year"]: row["prints"] for row in rows(connection, counted.group_by(standing.c.year))}

    def standing_counts(self, column: str) -> dict[str, int]:
        """How many prints have each value of a column: `container` or `occasion`; "" for none."""
        of = standing.c[column]
        with self._reading() as connection:
            counted = connection.execute(select(of, func.count()).group_by(of))
            return {value or "": int(count) for value, count in counted}

    def standing_from_year(self, year: int) -> str | None:
        """The first print in time that is taken to be of that year or a later one."""
        query = select(standing.c.accession).where(standing.c.year >= year)
        with self._reading() as connection:
            return connection.scalar(query.order_by(*KEYS[Arrangement.TIME]).limit(1))

    def standings_before(self, arrangement: Arrangement, accession: str) -> int:
        """How many prints lie before that one; 0 where it has no standing yet."""
        keys = KEYS[arrangement]
        with self._reading() as connection:
            edge = _place(connection, keys, accession)
            if edge is None:
                return 0
            earlier = select(func.count()).select_from(standing).where(tuple_(*keys) < edge)
            return int(connection.scalar(earlier) or 0)

    def standing_count(self) -> int:
        """How many prints have a standing."""
        return self._number(select(func.count()).select_from(standing))

    def _those(self, query: Select[Any], key: Column[str], accessions: Iterable[str]) -> Iterator[Standing]:
        with self._reading() as connection:
            for some in _batches(accessions):
                yield from (standing_of(row) for row in rows(connection, query.where(key.in_(some))))


def _place(connection: Connection, keys: Sequence[Column[Any]], accession: str) -> tuple[Any, ...] | None:
    """The place of a print in an arrangement."""
    if not accession:
        return None
    found = connection.execute(select(*keys).where(standing.c.accession == storable(accession))).first()
    return tuple(found) if found else None


def _batches(accessions: Iterable[str]) -> Iterator[list[str]]:
    rest = iter(dict.fromkeys(map(storable, accessions)))
    while some := list(islice(rest, _AT_ONCE)):
        yield some


# -- writing -------------------------------------------------------------------------------------------------


def keep_some(connection: Connection, those: Sequence[Standing], told: Mapping[str, Any]) -> None:
    """Puts these standings, and what is told of their prints, in the place of those that were kept."""
    some = [one.accession for one in those]
    for table in (standing, standing_told):
        for batch in _batches(some):
            connection.execute(delete(table).where(table.c.accession.in_(batch)))
    _insert(connection, those, told)


def holds_until(connection: Connection, change: int) -> None:
    """Says that what was worked out of all prints holds as of a later change as well, which was none to it."""
    connection.execute(update(standing_whole).values(change=change).where(standing_whole.c.change < change))


def take_away(connection: Connection, accessions: Iterable[str]) -> None:
    """Takes the standings of these prints away: they are listed no more."""
    for table in (standing, standing_told):
        for some in _batches(accessions):
            connection.execute(delete(table).where(table.c.accession.in_(some)))


def _insert(connection: Connection, those: Sequence[Standing], told: Mapping[str, Any]) -> None:
    if those:
        connection.execute(insert(standing), [standing_row(one) for one in those])
        kept = [
            {"accession": one.accession, "told": told[one.accession]} for one in those if one.accession in told
        ]
        if kept:
            connection.execute(insert(standing_told), kept)


def standing_row(one: Standing) -> dict[str, Any]:
    """The row of a standing."""
    row = {name: getattr(one, name) for name in _COLUMNS}
    return {**row, "occasion": storable(one.occasion), "shelf": shelf_of(one.container)}


def standing_of(row: Row) -> Standing:
    """The record of a row."""
    return Standing(**{name: value for name, value in row.items() if name != "shelf"})


def _whole_of(row: Row) -> Whole:
    told = row["told"]
    pairs = tuple((subject, read_parts(sentence)) for subject, sentence in told["contradictions"])
    asked = tuple(tuple(map(read_parts, one)) for one in told["asked"])
    return Whole(row["change"], told["prints"], pairs, tuple(map(read_parts, told["mends"])), asked)
