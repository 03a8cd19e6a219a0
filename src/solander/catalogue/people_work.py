"""Writing people, what is said of them and their kin, inside a unit of work."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterable, Iterator, Sequence, Set

from sqlalchemy import Connection, Table, bindparam, delete, insert, select

from solander.catalogue.database import rows
from solander.catalogue.history import Recorder
from solander.catalogue.people_rows import kin_row, name_words, person_row, said_json
from solander.catalogue.records import Row, storable
from solander.catalogue.schema import kin as kin_table
from solander.catalogue.schema import people, person_names
from solander.core.errors import NotFound, Trouble
from solander.core.kin import Kin
from solander.core.people import Person
from solander.core.sentence import Sentence
from solander.core.statements import Statement

__all__ = ["PeopleWork", "PersonNames"]

_FEW = 200
"""Up to so many rows are looked up one by one, which is quicker than reading all; our choice, not measured."""


class PeopleWork:
    """The part of a unit of work that writes people."""

    _connection: Connection
    _now: Callable[[], str]
    recorder: Recorder

    def keep_person(self, person: Person, said: Iterable[Statement] | None = None) -> None:
        """Enters a person, or what is now known of the one of that heading; `said` is all that is said of them,
        in order of entry, withdrawn too, and stays as it is when it is not given."""
        kept = {} if said is None else {"said": said_json(said)}
        if self.recorder.row(people, person.name) is None:
            self.recorder.insert(people, {**person_row(person), "said": [], **kept})
        else:
            self.recorder.update(people, person.name, {**person_row(person), **kept})

    def enter_people(self, newcomers: Iterable[tuple[Person, Sequence[Statement]]]) -> None:
        """Enters many people who are not known yet, each with what is said of them.

        Raises
        ------
        Trouble
            When there is somebody of one of the headings.
        """
        fresh = list(newcomers)
        if known := self._known_people({person.name for person, _ in fresh}):
            raise Trouble(
                Sentence("%(name)s was not entered", name=min(known)),
                Sentence("there is somebody of that name already"),
            )
        self.recorder.insert_all(
            people, ({**person_row(person), "said": said_json(said)} for person, said in fresh)
        )

    def remove_person(self, name: str) -> None:
        """Takes a person away who turned out to be another; history keeps what was known."""
        self.recorder.delete(people, name)

    def keep_kin(self, *kin: Kin) -> None:
        """Enters kin; what was withdrawn before holds again, and what is known stays as it is.

        Raises
        ------
        NotFound
            When one of the people is not known.
        """
        fresh: dict[str, Kin] = {}
        known = self._known_kin(kin)
        for one in kin:
            ident = _identity(one)
            if ident not in known:
                fresh[ident] = one
            elif known[ident]:
                self.recorder.update(kin_table, ident, {"withdrawn": None})
        self._refuse_strangers(fresh.values())
        entered = self._now()
        self.recorder.insert_all(
            kin_table, (kin_row(one, ident=ident, entered=entered) for ident, one in fresh.items())
        )

    def withdraw_kin(self, *kin: Kin) -> None:
        """Takes kin out of force; it stays readable in history."""
        for one in kin:
            known = self.recorder.row(kin_table, _identity(one))
            if known is None:
                raise NotFound(
                    Sentence("%(person)s is not known as kin of %(other)s", person=one.person, other=one.other)
                )
            if not known["withdrawn"]:
                self.recorder.update(kin_table, known["id"], {"withdrawn": self._now()})

    def _known_kin(self, kin: Sequence[Kin]) -> dict[str, str | None]:
        """The ids of kin that were entered, and when each was withdrawn."""
        query = select(kin_table.c.id, kin_table.c.withdrawn)
        if len(kin) <= _FEW:
            query = query.where(kin_table.c.id.in_([_identity(one) for one in kin]))
        return {row["id"]: row["withdrawn"] for row in rows(self._connection, query)}

    def _refuse_strangers(self, kin: Iterable[Kin]) -> None:
        named = {name for one in kin for name in (one.person, one.other)}
        if strangers := named - self._known_people(named):
            raise NotFound(
                Sentence("%(name)s is not known", name=min(strangers)), "", Sentence("Enter the person first")
            )

    def _known_people(self, named: Set[str]) -> set[str]:
        if len(named) <= _FEW:
            return {name for name in named if self.recorder.row(people, name)}
        return {name for name in self._connection.scalars(select(people.c.name)) if name in named}


_NAMES_OF = delete(person_names).where(person_names.c.person == bindparam("sought"))


class PersonNames:
    """Whose names a transaction has made stale; `refresh` writes them anew."""

    def __init__(self) -> None:
        self._stale: dict[str, set[str]] = {}
        self._known: set[str] = set()

    def seen(self, table: Table, before: Row | None, after: Row | None) -> None:
        """Takes note of a change."""
        if table is people:
            if before:
                self._known.add(before["name"])
                self._stale[before["name"]] = set()
            if after:
                self._stale[after["name"]] = name_words(after)

    def refresh(self, connection: Connection) -> None:
        """Writes the stale names anew, in the same transaction as the changes."""
        if self._known:
            connection.execute(_NAMES_OF, [{"sought": storable(name)} for name in self._known])
        if fresh := list(self._fresh()):
            connection.execute(insert(person_names), fresh)

    def _fresh(self) -> Iterator[dict[str, str]]:
        for name, called in self._stale.items():
            for words in sorted(called):
                yield {"words": storable(words), "person": name}


def _identity(kin: Kin) -> str:
    told = "\n".join((kin.person, kin.how, kin.other, kin.by, kin.source))
    return hashlib.sha256(told.encode("utf-8", "backslashreplace")).hexdigest()[:16]
