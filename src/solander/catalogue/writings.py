"""What was read on the sides of prints by a machine: kept by view, and read.

Never in history, as measures of faces are not: nobody says it, it can be read again from the view at any time, and
a reader at work in the background must not stand in the way of somebody who takes back what they did.
"""

from __future__ import annotations

from collections.abc import Iterable
from contextlib import AbstractContextManager

from attrs import frozen
from sqlalchemy import Connection, and_, delete, func, insert, literal, not_, select

from solander.catalogue.database import rows
from solander.catalogue.records import storable
from solander.catalogue.schema import prints, statements, views, writings
from solander.core.inscriptions.kept import Writing
from solander.core.prints import Side
from solander.core.statements import About, Says

__all__ = ["BacksCounted", "ReadingWritings", "keep_writing", "writing_follows"]

_LISTED = views.c.superseded.is_(None), prints.c.back_of.is_(None), prints.c.taken_out.is_(None)
_TRANSCRIBED = views.c.accession.in_(
    select(statements.c.subject).where(
        statements.c.about == About.PRINT,
        statements.c.says == Says.TRANSCRIPTION,
        statements.c.withdrawn.is_(None),
    )
)
_UNREAD = writings.c.view.is_(None)  # beside views that may have none
_BACKS = views.c.side == Side.VERSO.value


@frozen
class BacksCounted:
    """How many prints have a back, how many of them are transcribed, of how many backs a machine read anything
    written (`written`), looked in vain (`blank`)."""

    backs: int
    transcribed: int
    written: int
    blank: int


class ReadingWritings:
    """The part of a catalogue that reads what machines read."""

    def _reading(self) -> AbstractContextManager[Connection]:
        raise NotImplementedError

    def writing(self, view: str) -> Writing | None:
        """What was read in the view of that key; None where nobody looked."""
        return self.writings_of([view]).get(view)

    def writings_of(self, keys: Iterable[str]) -> dict[str, Writing]:
        """What was read in each of these views that was looked at."""
        query = select(writings).where(writings.c.view.in_([*map(storable, keys)]))
        with self._reading() as connection:
            return {row["view"]: Writing.of_kept(row["told"]) for row in rows(connection, query)}

    def views_read(self) -> dict[str, int]:
        """The edition of the reading of each view that was looked at."""
        with self._reading() as connection:
            return {row["view"]: row["read"] for row in rows(connection, select(writings.c.view, writings.c.read))}

    def views_written(self) -> list[tuple[str, str, Writing]]:
        """The views in use on which a machine found writing, each after its print's number and its key."""
        query = select(views.c.accession, writings).join_from(writings, views).join(prints)
        query = query.where(*_LISTED, writings.c.written).order_by(views.c.sequence)
        with self._reading() as connection:
            return [
                (row["accession"], row["view"], Writing.of_kept(row["told"])) for row in rows(connection, query)
            ]

    def backs_to_transcribe(self, container: str = "") -> list[str]:
        """Prints whose back nobody transcribed: those on which a machine found writing, then those that it was not
        shown; none on which it looked in vain. With `container`, of that and what lies in it."""
        query = (
            select(views.c.accession, func.max(writings.c.written).label("written"))
            .join_from(views, prints)
            .outerjoin(writings)
            .where(*_LISTED, _BACKS, not_(_TRANSCRIBED))
            .where(writings.c.written | _UNREAD)
            .group_by(views.c.accession)
        )
        if container:
            inside = prints.c.container.startswith(f"{storable(container)}/", autoescape=True)
            query = query.where((prints.c.container == storable(container)) | inside)
        order = func.max(func.coalesce(writings.c.written, 0)).desc(), func.min(views.c.sequence)
        with self._reading() as connection:
            return [row["accession"] for row in rows(connection, query.order_by(*order))]

    def backs_counted(self) -> BacksCounted:
        """How far the backs are."""
        of_print = (
            select(
                views.c.accession,
                func.max(_TRANSCRIBED).label("transcribed"),
                func.max(func.coalesce(writings.c.written, 0)).label("written"),
                func.min(and_(not_(_UNREAD), not_(writings.c.written))).label("blank"),
            )
            .join_from(views, prints)
            .outerjoin(writings)
            .where(*_LISTED, _BACKS)
            .group_by(views.c.accession)
            .subquery()
        )
        sums = (func.coalesce(func.sum(of_print.c[name]), 0) for name in ("transcribed", "written", "blank"))
        with self._reading() as connection:
            found = connection.execute(select(func.count(), *sums).select_from(of_print)).one()
        return BacksCounted(*map(int, found))


def keep_writing(connection: Connection, view: str, writing: Writing) -> None:
    """Keeps what was read in a view, in the place of what was; a view that is gone meanwhile keeps nothing."""
    connection.execute(delete(writings).where(writings.c.view == storable(view)))
    told = literal(writing.as_kept(), writings.c.told.type)
    values = views.c.key, literal(writing.read), literal(writing.is_written), told
    names = ["view", "read", "written", "told"]
    connection.execute(insert(writings).from_select(names, select(*values).where(views.c.key == storable(view))))


def writing_follows(connection: Connection, old: str, new: str) -> None:
    """A view that only was turned has what was read in the one before."""
    row = connection.execute(select(writings).where(writings.c.view == old)).mappings().first()
    connection.execute(delete(writings).where(writings.c.view == new))
    if row is not None:
        connection.execute(insert(writings), {**row, "view": new})
