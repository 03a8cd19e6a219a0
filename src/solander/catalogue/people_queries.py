"""What the catalogue tells of people and their kin, without loading everybody where a few are asked for."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from contextlib import AbstractContextManager
from itertools import islice
from typing import Any

from sqlalchemy import JSON, Connection, Select, Text, func, literal, or_, select, type_coerce

from solander.catalogue.database import rows
from solander.catalogue.people_rows import kin_of, name_words, person_of, said_of
from solander.catalogue.records import Row, storable
from solander.catalogue.schema import changes, kin, people, person_names, statements
from solander.core.kin import Kin
from solander.core.people import Person
from solander.core.phrases.tokens import folded
from solander.core.statements import About, Says, Statement

__all__ = ["ReadingPeople"]

# Lists come as the text that is kept: most are empty, and taking hundreds of thousands apart takes seconds.
_RECORD = tuple(
    type_coerce(column, Text) if isinstance(column.type, JSON) else column
    for column in people.c
    if column.name != "said"
)
_AT_ONCE = 400  # values in one query, as in `search`


class ReadingPeople:
    """The part of a catalogue's reading half that knows people; each call sees one moment."""

    def _reading(self) -> AbstractContextManager[Connection]:
        raise NotImplementedError

    def people(self) -> list[Person]:
        """All people by heading."""
        return self._people(select(*_RECORD).order_by(people.c.name))

    def person(self, name: str) -> Person | None:
        """The person of that heading, if there is one."""
        return next(iter(self._people(select(*_RECORD).where(people.c.name == storable(name)))), None)

    def people_of(self, names: Iterable[str]) -> list[Person]:
        """The people of those headings, by heading; who is not known is left out."""
        found = [
            one for some in _some(names) for one in self._people(select(*_RECORD).where(people.c.name.in_(some)))
        ]
        return sorted(found, key=lambda one: one.name)

    def people_called(self, names: Iterable[str]) -> list[Person]:
        """Everybody who is called one of those names, by heading; case and accents do not matter."""
        alone = ({"name": name, "also_called": (), "names": ()} for name in set(names))
        return self.people_of(self.headings_called(words for row in alone for words in name_words(row)))

    def headings(self) -> set[str]:
        """The headings of all people."""
        return set(self._texts(select(people.c.name)))

    def people_changed_since(self, change: int) -> set[str]:
        """The headings of people whose records have a change after that one; see `last_change`."""
        return set(
            self._texts(select(changes.c.row_key).where(changes.c.id > change, changes.c.table_name == "people"))
        )

    def lasting_keys(self) -> dict[str, str]:
        """Whose each lasting key is, by heading; see `Person.known_as`."""
        query = select(people.c.name, people.c.known_as).where(people.c.known_as != [])
        return {key: row["name"] for row in self._plain_rows(query) for key in row["known_as"]}

    def told_by(self, source: str) -> set[str]:
        """The headings of those of whom that source says something."""
        query = select(people.c.name, people.c.said).where(people.c.said != [])
        return {
            row["name"]
            for row in self._plain_rows(query)
            if any(said[4] == source and said[6] is None for said in row["said"])
        }

    def names_of_all(self) -> list[tuple[str, str]]:
        """What everybody is called: the folded words of each name, and whose heading it leads to."""
        query = select(person_names.c.words, person_names.c.person)
        return [(row["words"], row["person"]) for row in self._plain_rows(query)]

    def headings_called(self, names: Iterable[str]) -> list[str]:
        """The headings to which names lead; each name as its folded words with blanks between."""
        return [
            person
            for some in _some(names)
            for person in self._texts(select(person_names.c.person).where(person_names.c.words.in_(some)))
        ]

    def names_beginning(self, word: str) -> list[tuple[str, str]]:
        """The names of several words whose first is that folded word: their words, and whose heading each leads
        to."""
        names = person_names.c.words
        longer = select(names, person_names.c.person).where(names >= f"{word} ", names < f"{word}!")
        return [(row["words"], row["person"]) for row in self._plain_rows(longer)]

    def headings_like(self, begun: str, most: int) -> list[str]:
        """At most so many headings of people with a name in which each word of `begun` begins a word, those whose
        name begins so first; case and accents do not matter."""
        wanted = [storable(word) for word in folded(begun).split()]
        if not wanted:
            return []
        names = person_names.c.words
        holds = [func.instr(literal(" ") + names, f" {word}") > 0 for word in wanted]
        begins = func.instr(names, " ".join(wanted)) == 1
        query = select(person_names.c.person).where(*holds).group_by(person_names.c.person)
        return self._texts(query.order_by(func.max(begins).desc(), person_names.c.person).limit(most))

    def said_of_person(self, name: str, *, withdrawn: bool = False) -> list[Statement]:
        """What is said of the person of that heading in the order of entry; with `withdrawn`, that too."""
        return list(self.said_of_people([name], withdrawn=withdrawn).get(name, ()))

    def said_of_people(
        self, names: Iterable[str] | None = None, *, withdrawn: bool = False
    ) -> dict[str, tuple[Statement, ...]]:
        """What is said of people by heading, of all without `names`; with `withdrawn`, that too."""
        query = select(people.c.name, people.c.said)
        queries = [query] if names is None else [query.where(people.c.name.in_(some)) for some in _some(names)]
        return {
            row["name"]: tuple(
                one for one in said_of(row["name"], row["said"]) if withdrawn or one.withdrawn is None
            )
            for each in queries
            for row in self._plain_rows(each)
        }

    def often_said(self, says: Says) -> list[str]:
        """Every value that is said so of prints, the most frequent first: of people, places, occasions."""
        of_prints = statements.c.about == About.PRINT, statements.c.says == says, statements.c.withdrawn.is_(None)
        counted = select(statements.c.value).where(*of_prints).group_by(statements.c.value)
        return self._texts(counted.order_by(func.count().desc(), statements.c.value))

    def kin(self, of: Iterable[str] | None = None, *, source: str | None = None) -> list[Kin]:
        """Who is whose parent and partner, in the order of entry; with `of` only what touches those headings, with
        `source` only what it says."""
        told = (kin.c[name] for name in ("entry", "person", "how", "other", "by", "source", "sure"))
        live = select(*told).where(kin.c.withdrawn.is_(None)).order_by(kin.c.entry)
        if source is not None:
            live = live.where(kin.c.source == storable(source))
        if of is None:
            return [kin_of(row) for _, *row in self._tuples(live)]
        touching = (live.where(or_(kin.c.person.in_(some), kin.c.other.in_(some))) for some in _some(of))
        found = {entry: kin_of(row) for query in touching for entry, *row in self._tuples(query)}
        return [found[entry] for entry in sorted(found)]

    def _people(self, query: Select[Any]) -> list[Person]:
        with self._reading() as connection:
            return [person_of(row) for row in connection.execute(query)]

    def _plain_rows(self, query: Select[Any]) -> Sequence[Row]:
        with self._reading() as connection:
            return rows(connection, query)

    def _tuples(self, query: Select[Any]) -> list[tuple[Any, ...]]:
        with self._reading() as connection:
            return [tuple(row) for row in connection.execute(query)]

    def _texts(self, query: Select[tuple[str]]) -> list[str]:
        with self._reading() as connection:
            return list(connection.scalars(query))


def _some(values: Iterable[str]) -> Iterator[list[str]]:
    rest = iter(sorted({storable(value) for value in values}))
    while some := list(islice(rest, _AT_ONCE)):
        yield some
