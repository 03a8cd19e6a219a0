"""Writing how prints are arranged, many at once, inside a unit of work."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

from sqlalchemy import Connection, select

from solander.catalogue.history import Recorder
from solander.catalogue.records import statement_row, storable
from solander.catalogue.schema import containers, occasions, prints, statements
from solander.core.errors import NotFound
from solander.core.sentence import Sentence
from solander.core.statements import About, Statement

__all__ = ["ArrangementWork"]

_AT_ONCE = 400  # values in one query, as in `search`


class ArrangementWork:
    """The part of a unit of work that writes arrangements."""

    _connection: Connection
    _now: Callable[[], str]
    recorder: Recorder

    def state_all(self, said: Sequence[Statement]) -> None:
        """Adds new statements about prints, many times quicker than one by one; nothing is checked but that the
        prints are listed.

        Raises
        ------
        NotFound
            When one of them is about a print that is not there.
        """
        wanted = {one.subject for one in said if one.about is About.PRINT}
        listed = select(prints.c.accession).where(prints.c.back_of.is_(None), prints.c.taken_out.is_(None))
        rest = sorted(map(storable, wanted))
        for start in range(0, len(rest), _AT_ONCE):
            some = rest[start : start + _AT_ONCE]
            there = set(self._connection.scalars(listed.where(prints.c.accession.in_(some))))
            if missing := set(some) - there:
                raise NotFound(
                    Sentence("There is no print %(print)s", print=min(missing)),
                    "",
                    Sentence("Look at the table again"),
                )
        self.recorder.insert_all(statements, (statement_row(one) for one in said))

    def withdraw_all(self, ids: Iterable[str]) -> None:
        """Takes statements out of force that stand; they stay readable."""
        self.recorder.update_all(statements, ids, {"withdrawn": self._now()})

    def remove_occasion(self, name: str) -> None:
        """Takes an occasion away that is called otherwise now; history keeps that it was there."""
        if self.recorder.row(occasions, name) is not None:
            self.recorder.delete(occasions, name)

    def entitle_container(self, code: str, title: str) -> None:
        """Gives a container its title; an empty one takes it away.

        Raises
        ------
        NotFound
            When there is no such container.
        """
        if self.recorder.row(containers, code) is None:
            raise NotFound(
                Sentence("There is no container %(code)s", code=code),
                "",
                Sentence("Look at the list of containers again"),
            )
        self.recorder.update(containers, code, {"title": title})
