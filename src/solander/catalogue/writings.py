"""What was read on the sides of prints by a machine: kept by view, and read.

Never in history, as measures of faces are not: nobody says it, it can be read again from the view at any time, and
a reader at work in the background must not stand in the way of somebody who takes back what they did.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from contextlib import AbstractContextManager
from typing import Any

from attrs import frozen
from sqlalchemy import (
    ColumnElement,
    Connection,
    Integer,
    Select,
    and_,
    cast,
    delete,
    func,
    insert,
    literal,
    not_,
    or_,
    select,
)

from solander.catalogue.database import rows
from solander.catalogue.documents import write_documents_of
from solander.catalogue.records import storable
from solander.catalogue.schema import prints, statements, views, writings
from solander.core.inscriptions.kept import Writing
from solander.core.prints import Side
from solander.core.statements import About, Says

__all__ = ["BackListed", "BacksCounted", "ReadingWritings", "keep_writing", "writing_follows"]

_LISTED = views.c.superseded.is_(None), prints.c.back_of.is_(None), prints.c.taken_out.is_(None)

_AT_ONCE = 500  # views in one query: SQLite takes 32,766 values, small batches keep memory small


def _prints_that(*says: Says) -> Select[tuple[str]]:
    """The prints of which any of these is said."""
    said = statements.c.about == About.PRINT, statements.c.says.in_(says), statements.c.withdrawn.is_(None)
    return select(statements.c.subject).where(*said)


def _says(says: Says) -> ColumnElement[bool]:
    """Whether that is said of a view's print."""
    return views.c.accession.in_(_prints_that(says))


# Beside views that may have no row here: nobody looked; something was found, which may be no writing.
_UNREAD = writings.c.view.is_(None)
_FOUND = func.json_array_length(writings.c.told["lines"]) > 0
_BACKS = views.c.side == Side.VERSO.value


@frozen
class BacksCounted:
    """How many prints have a back, of how many it is transcribed, on how many a machine read anything (`written`),
    and on how many nothing stands: a machine looked in vain, or a person says so, and nobody wrote any down
    (`blank`)."""

    backs: int
    transcribed: int
    written: int
    blank: int


@frozen
class BackListed:
    """A print with a back on which something may be written; `written` where a machine read something there."""

    accession: str
    container: str
    written: bool

    def within(self, container: str) -> bool:
        """Whether it lies in that container or in what lies in it; everything lies in the empty one."""
        return not container or f"{self.container}/".startswith(f"{container}/")


class ReadingWritings:
    """The part of a catalogue that reads what machines read."""

    def _reading(self) -> AbstractContextManager[Connection]:
        raise NotImplementedError

    def writing(self, view: str) -> Writing | None:
        """What was read in the view of that key; None where nobody looked."""
        return self.writings_of([view]).get(view)

    def writings_of(self, keys: Iterable[str]) -> dict[str, Writing]:
        """What was read in each of these views that was looked at."""
        those = [*map(storable, keys)]
        found: dict[str, Writing] = {}
        with self._reading() as connection:
            for at in range(0, len(those), _AT_ONCE):
                query = select(writings).where(writings.c.view.in_(those[at : at + _AT_ONCE]))
                found |= {row["view"]: Writing.of_kept(row["told"]) for row in rows(connection, query)}
        return found

    def views_read(self) -> dict[str, int]:
        """The edition of the reading of each view that was looked at."""
        with self._reading() as connection:
            return {row["view"]: row["read"] for row in rows(connection, select(writings.c.view, writings.c.read))}

    def unread_count(self, edition: int, sides: Iterable[Side]) -> int:
        """How many views in use of these sides no machine of that edition, or a later one, has looked at."""
        query = select(func.count()).select_from(views.join(prints).outerjoin(writings))
        of_these = views.c.side.in_([side.value for side in sides])
        with self._reading() as connection:
            return connection.scalar(query.where(*_LISTED, of_these, or_(_UNREAD, writings.c.read < edition))) or 0

    def views_written(self) -> Iterator[tuple[str, str, Writing]]:
        """The views in use on which a machine found writing, each after its print's number and its key; so that
        what was read on a whole collection never lies in memory at once."""
        query = select(views.c.accession, writings.c.view).join_from(writings, views).join(prints)
        query = query.where(*_LISTED, writings.c.written).order_by(views.c.sequence)
        with self._reading() as connection:
            there = [(row["accession"], row["view"]) for row in rows(connection, query)]
        for at in range(0, len(there), _AT_ONCE):
            some = there[at : at + _AT_ONCE]
            told = self.writings_of(key for _, key in some)
            yield from ((accession, key, told[key]) for accession, key in some if key in told)

    def backs_listed(self) -> list[BackListed]:
        """The prints with a back on which something may be written: those on which a machine read something, then
        those on which it only found something or that it was not shown."""
        written = func.max(func.coalesce(writings.c.written, 0))
        query = self._of_backs(views.c.accession, prints.c.container, written.label("written"))
        query = query.where(or_(writings.c.written, _UNREAD, _FOUND)).group_by(views.c.accession)
        with self._reading() as connection:
            found = rows(connection, query.order_by(written.desc(), func.min(views.c.sequence)))
        return [BackListed(row["accession"], row["container"] or "", bool(row["written"])) for row in found]

    def backs_done(self) -> set[str]:
        """The prints whose back somebody wrote down, or of which somebody says that nothing is written there."""
        query = _prints_that(Says.TRANSCRIPTION, Says.BLANK)
        with self._reading() as connection:
            return {row["subject"] for row in rows(connection, query)}

    def backs_to_transcribe(self, container: str = "") -> list[str]:
        """The prints of `backs_listed` that are not done; with `container`, of that and what lies in it."""
        done = self.backs_done()
        return [
            one.accession for one in self.backs_listed() if one.accession not in done and one.within(container)
        ]

    def backs_counted(self) -> BacksCounted:
        """How far the backs are."""
        nothing = and_(not_(_UNREAD), not_(writings.c.written), not_(_FOUND))
        counted = {
            "transcribed": func.max(_says(Says.TRANSCRIPTION)),
            "written": func.max(func.coalesce(writings.c.written, 0)),
            "blank": and_(
                not_(func.max(_says(Says.TRANSCRIPTION))), or_(func.max(_says(Says.BLANK)), func.min(nothing))
            ),
        }
        of_print = self._of_backs(*(column.label(name) for name, column in counted.items()))
        each = of_print.group_by(views.c.accession).subquery()
        sums = (func.coalesce(func.sum(cast(each.c[name], Integer)), 0) for name in counted)
        with self._reading() as connection:
            found = connection.execute(select(func.count(), *sums).select_from(each)).one()
        return BacksCounted(*map(int, found))

    def _of_backs(self, *columns: ColumnElement[Any]) -> Select[Any]:
        return select(*columns).join_from(views, prints).outerjoin(writings).where(*_LISTED, _BACKS)


def keep_writing(connection: Connection, view: str, writing: Writing) -> None:
    """Keeps what was read in a view, in the place of what was; a view that is gone meanwhile keeps nothing."""
    connection.execute(delete(writings).where(writings.c.view == storable(view)))
    told = literal(writing.as_kept(), writings.c.told.type)
    values = views.c.key, literal(writing.read), literal(writing.is_written), told
    names = ["view", "read", "written", "told"]
    connection.execute(insert(writings).from_select(names, select(*values).where(views.c.key == storable(view))))
    write_documents_of(
        connection, connection.scalars(select(views.c.accession).where(views.c.key == storable(view)))
    )


def writing_follows(connection: Connection, old: str, new: str) -> None:
    """A view that only was turned has what was read in the one before."""
    row = connection.execute(select(writings).where(writings.c.view == old)).mappings().first()
    connection.execute(delete(writings).where(writings.c.view == new))
    if row is not None:
        connection.execute(insert(writings), {**row, "view": new})
