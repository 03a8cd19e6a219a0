"""What history tells, in pages by key: it only ever grows, and no page takes longer for being further back."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import AbstractContextManager

from attrs import frozen
from sqlalchemy import ColumnElement, Connection, Select, and_, func, or_, select

from solander.catalogue.database import first_row, rows
from solander.catalogue.history import Change
from solander.catalogue.records import Row, storable
from solander.catalogue.schema import acts, changes, questions, statements, views
from solander.catalogue.undo import in_the_way

__all__ = ["ActKept", "ChangeKept", "ReadingHistory"]

_undoing = acts.alias("undoing")
_undone_by = (
    select(_undoing.c.id)
    .where(_undoing.c.undoes == acts.c.id)
    .correlate(acts)
    .scalar_subquery()
    .label("undone_by")
)
_counted = (
    select(func.count()).select_from(changes).where(changes.c.act == acts.c.id).correlate(acts).scalar_subquery()
).label("counted")
_lasting = (
    select(func.min(changes.c.lasting)).where(changes.c.act == acts.c.id).correlate(acts).scalar_subquery()
).label("lasting")


@frozen
class ActKept:
    """One thing that somebody did, in the words of `what`; `at` is UTC, RFC 3339.

    `undoes` is the act that this one took back, `undone_by` the one that took this back. `lasting` when all of it
    is of the outside (a file that came, a copy that was made) and is never taken back.
    """

    number: int
    at: str
    who: str
    what: str
    changes: int
    undoes: int | None
    undone_by: int | None
    lasting: bool

    @property
    def stands(self) -> bool:
        """Whether it may be taken back, as far as the act itself goes."""
        return self.undoes is None and self.undone_by is None and not self.lasting and self.changes > 0


@frozen
class ChangeKept:
    """One row that an act wrote, by the number of the change."""

    number: int
    change: Change


class ReadingHistory:
    """The part of a catalogue's reading half that tells what was done."""

    def _reading(self) -> AbstractContextManager[Connection]:
        raise NotImplementedError

    def acts_kept(
        self, *, before: int | None = None, who: str = "", about: str = "", limit: int = 60
    ) -> list[ActKept]:
        """Up to `limit` acts, newest first: those earlier than the act `before`, of somebody, or `about` a print
        (by its accession number)."""
        query = select(acts, _undone_by, _counted, _lasting)
        if before is not None:
            query = query.where(acts.c.id < before)
        if who:
            query = query.where(acts.c.who == storable(who))
        with self._reading() as connection:
            if about:
                query = query.where(acts.c.id.in_(_acts_about(storable(about))))
            return [_act_of(row) for row in rows(connection, query.order_by(acts.c.id.desc()).limit(limit))]

    def act_kept(self, number: int) -> ActKept | None:
        """The act of that number, if there is one."""
        with self._reading() as connection:
            row = first_row(connection, select(acts, _undone_by, _counted, _lasting).where(acts.c.id == number))
        return _act_of(row) if row else None

    def act_counts(self) -> dict[str, int]:
        """How many acts each who did anything has done."""
        query = select(acts.c.who, func.count().label("acts")).group_by(acts.c.who).order_by(acts.c.who)
        with self._reading() as connection:
            return {row["who"]: int(row["acts"]) for row in rows(connection, query)}

    def changes_of(self, act: int, *, after: int = 0, limit: int = 200) -> list[ChangeKept]:
        """Up to `limit` changes of an act in their order, those after the change of that number."""
        query = select(changes, acts.c.who, acts.c.what).join_from(changes, acts)
        of_it = query.where(changes.c.act == act, changes.c.id > after).order_by(changes.c.id).limit(limit)
        with self._reading() as connection:
            return [_change_of(row) for row in rows(connection, of_it)]

    def why_not_back(self, act: int) -> str:
        """What was done later and stands in the way of taking an act back, as a clause; empty where nothing does
        that is known before it is tried."""
        with self._reading() as connection:
            return in_the_way(connection, act)

    def days_of_acts(self) -> Iterator[tuple[str, str]]:
        """When each act was done and by whom, in order."""
        with self._reading() as connection:
            for row in connection.execute(select(acts.c.at, acts.c.who).order_by(acts.c.id)):
                yield row.at, row.who


def _acts_about(accession: str) -> Select[int]:
    """The acts that wrote a row of the print, of its views, or of what is said and asked of it."""
    return select(changes.c.act).where(
        or_(
            _of("prints", changes.c.row_key == accession),
            _of(
                "statements",
                changes.c.row_key.in_(select(statements.c.id).where(statements.c.subject == accession)),
            ),
            _of("views", changes.c.row_key.in_(select(views.c.key).where(views.c.accession == accession))),
            _of(
                "questions", changes.c.row_key.in_(select(questions.c.key).where(questions.c.subject == accession))
            ),
        )
    )


def _of(table: str, row: ColumnElement[bool]) -> ColumnElement[bool]:
    return and_(changes.c.table_name == table, row)


def _act_of(row: Row) -> ActKept:
    return ActKept(
        number=row["id"],
        at=row["at"],
        who=row["who"],
        what=row["what"],
        changes=row["counted"],
        undoes=row["undoes"],
        undone_by=row["undone_by"],
        lasting=bool(row["lasting"]),
    )


def _change_of(row: Row) -> ChangeKept:
    told = row["at"], row["who"], row["what"], row["action"], row["table_name"], row["row_key"]
    return ChangeKept(row["id"], Change(*told, row["before"], row["after"], undone=False))
