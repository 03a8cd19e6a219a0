"""What lists of names need of all prints at once: who and where is said of which, in plain values.

All rows are read, so they come from the driver itself: as records they would take several times as long.
"""

from __future__ import annotations

from contextlib import AbstractContextManager
from typing import Any

from sqlalchemy import Connection, Select, exists, select

from solander.catalogue.schema import prints, standing, statements, views
from solander.core.prints import Side
from solander.core.statements import About, Says

__all__ = ["ReadingNames"]


class ReadingNames:
    """The part of a catalogue's reading half that knows what is said of all prints; each call sees one moment."""

    def _reading(self) -> AbstractContextManager[Connection]:
        raise NotImplementedError

    def prints_as_taken_in(self) -> list[tuple[str, str | None, int, bool]]:
        """Of all prints: number, container, number within it, whether there is a back."""
        back = exists().where(
            views.c.accession == prints.c.accession, views.c.side == Side.VERSO, views.c.superseded.is_(None)
        )
        listed = prints.c.back_of.is_(None), prints.c.taken_out.is_(None)
        return self._plainly(select(prints.c.accession, prints.c.container, prints.c.number, back).where(*listed))

    def prints_in_time(self) -> list[tuple[str, int | None]]:
        """The numbers of all prints in order of time, each with the year of its best guess; those of which it was
        not worked out yet come last."""
        listed = prints.c.back_of.is_(None), prints.c.taken_out.is_(None)
        joined = prints.outerjoin(standing, standing.c.accession == prints.c.accession)
        query = select(prints.c.accession, standing.c.year).select_from(joined).where(*listed)
        return self._plainly(query.order_by(standing.c.rank.is_(None), standing.c.rank, prints.c.accession))

    def said_of_all(self, about: About, says: Says) -> list[tuple[str, str, str]]:
        """What stands of that kind, in the order of entry: of what, the value, how sure."""
        live = statements.c.about == about, statements.c.says == says, statements.c.withdrawn.is_(None)
        query = select(statements.c.subject, statements.c.value, statements.c.sure).where(*live)
        return self._plainly(query.order_by(statements.c.entry))

    def _plainly(self, query: Select[Any]) -> list[tuple[Any, ...]]:
        with self._reading() as connection:
            compiled = str(query.compile(connection, compile_kwargs={"literal_binds": True}))
            return list(connection.connection.driver_connection.execute(compiled))  # type: ignore[union-attr]
