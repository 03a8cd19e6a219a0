"""What waits, read a few at a time: how many there are of each kind, and the first ones."""

from __future__ import annotations

from collections.abc import Collection as Several
from collections.abc import Iterable
from contextlib import AbstractContextManager
from typing import Any

from sqlalchemy import Column, ColumnElement, Connection, Select, exists, func, or_, select

from solander.catalogue.database import first_row, rows
from solander.catalogue.records import question_of, storable
from solander.catalogue.schema import prints, questions, views
from solander.core.prints import SURE_ENOUGH
from solander.core.questions import Asks, Question

__all__ = ["ReadingQuestions"]

_UNSURE = views.c.superseded.is_(None), views.c.checked.is_(False), views.c.confidence < SURE_ENOUGH
_SEEN_AS_OUTLINE = (questions.c.asks == Asks.OUTLINE) & exists().where(
    views.c.accession == questions.c.subject, *_UNSURE
)


_AT_ONCE = 500  # keys in one query, which takes no more than some thousands


class ReadingQuestions:
    """The part of a catalogue that reads what waits; `within` is a container, with all that lies in it."""

    def _reading(self) -> AbstractContextManager[Connection]:
        raise NotImplementedError

    def question(self, key: str) -> Question | None:
        """The question of that key, if it waits."""
        waits = questions.c.key == storable(key), questions.c.settled.is_(None)
        with self._reading() as connection:
            row = first_row(connection, select(questions).where(*waits))
        return question_of(row) if row else None

    def questions_counted(self, within: str = "") -> dict[Asks, int]:
        """How many wait of each kind; those about an outline that is looked at as such are not among them."""
        query = _waiting(select(questions.c.asks, func.count().label("waiting")), within)
        with self._reading() as connection:
            found = rows(connection, query.group_by(questions.c.asks))
        return {Asks(row["asks"]): row["waiting"] for row in found}

    def first_questions(
        self, asks: Several[Asks], within: str = "", *, without: Several[str] = (), limit: int = 2
    ) -> list[Question]:
        """The oldest that wait of these kinds, `without` those of these keys."""
        query = _waiting(select(questions), within).where(questions.c.asks.in_(list(asks)))
        ordered = query.order_by(questions.c.entry).limit(limit + len(without))
        with self._reading() as connection:
            found = [question_of(row) for row in rows(connection, ordered)]
        return [one for one in found if one.key not in without][:limit]

    def questions_raised(self, keys: Iterable[str]) -> set[str]:
        """Those of these keys that were asked at any time, whether they wait or were answered."""
        some = list(map(storable, keys))
        found: set[str] = set()
        with self._reading() as connection:
            for at in range(0, len(some), _AT_ONCE):
                there = questions.c.key.in_(some[at : at + _AT_ONCE])
                found |= set(connection.scalars(select(questions.c.key).where(there)))
        return found

    def unsure_count(self, within: str = "") -> int:
        """How many outlines in use are not sure."""
        query = select(func.count()).select_from(views).where(*_UNSURE)
        with self._reading() as connection:
            return int(connection.scalar(query.where(*_inside(views.c.accession, within))) or 0)

    def first_unsure(self, within: str = "", *, without: Several[str] = (), limit: int = 2) -> list[str]:
        """The keys of the views in use whose outlines are least sure, `without` these."""
        query = select(views.c.key).where(*_UNSURE, *_inside(views.c.accession, within))
        ordered = query.order_by(views.c.confidence, views.c.sequence).limit(limit + len(without))
        with self._reading() as connection:
            return [key for key in connection.scalars(ordered) if key not in without][:limit]


def _waiting(query: Select[Any], within: str) -> Select[Any]:
    return query.where(questions.c.settled.is_(None), ~_SEEN_AS_OUTLINE, *_inside(questions.c.subject, within))


def _inside(accession: Column[str], within: str) -> list[ColumnElement[bool]]:
    """What is about a print of a container or of one that lies in it."""
    if not within:
        return []
    code = storable(within)
    there = or_(prints.c.container == code, prints.c.container.like(f"{code}/%"))
    return [accession.in_(select(prints.c.accession).where(there))]
