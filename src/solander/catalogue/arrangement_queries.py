"""What the catalogue tells of how prints are arranged: in occasions, in order, in containers.

Each query goes by an index, so that it takes no longer in a collection of a hundred thousand prints.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from contextlib import AbstractContextManager
from itertools import islice
from typing import Any

from sqlalchemy import Connection, Select, and_, func, select

from solander.catalogue.database import rows
from solander.catalogue.records import statement_of, storable
from solander.catalogue.schema import occasions, prints, questions, statements, views
from solander.core.statements import About, Says, Statement
from solander.core.treatments import read_treatment

__all__ = ["ReadingArrangement"]

_AT_ONCE = 400  # values in one query, as in `search`


class ReadingArrangement:
    """The part of a catalogue's reading half that knows arrangements; each call sees one moment."""

    def _reading(self) -> AbstractContextManager[Connection]:
        raise NotImplementedError

    def occasion_now(self, name: str) -> str:
        """What the occasion that was once called so is called now; the name itself where it was never changed."""
        seen = {name}
        while (later := self._called_now(name)) and later not in seen:
            seen.add(later)
            name = later
        return name

    def _called_now(self, name: str) -> str:
        said = self._said(_live(About.OCCASION, Says.OCCASION).where(statements.c.subject == storable(name)))
        return said[-1].value if said else ""

    def names_before(self, name: str) -> list[str]:
        """What the occasion was called before, directly or by what was joined to it."""
        called = _live(About.OCCASION, Says.OCCASION).where(statements.c.value == storable(name))
        return list(dict.fromkeys(one.subject for one in self._said(called)))

    def has_occasion(self, name: str) -> bool:
        """Whether there is an occasion of that name, if only because prints are said to belong to it."""
        query = select(occasions.c.name).where(occasions.c.name == storable(name))
        with self._reading() as connection:
            there = connection.scalar(query) is not None
        return there or bool(self.belongings(to=name))

    def occasion_counts(self) -> dict[str, int]:
        """How many prints belong to each occasion, by name; those without a print too."""
        joined = select(statements.c.value, func.count(statements.c.subject.distinct()).label("prints"))
        of_prints = statements.c.about == About.PRINT, statements.c.withdrawn.is_(None)
        query = joined.where(statements.c.says == Says.OCCASION, *of_prints).group_by(statements.c.value)
        with self._reading() as connection:
            counted = dict.fromkeys(connection.scalars(select(occasions.c.name)), 0)
            counted |= {row["value"]: int(row["prints"]) for row in rows(connection, query)}
        return {name: counted[name] for name in sorted(counted)}

    def said_of_occasion(self, name: str, *, withdrawn: bool = False) -> list[Statement]:
        """What is said of an occasion in the order of entry; with `withdrawn`, what was taken back too."""
        return self._about(About.OCCASION, name, withdrawn=withdrawn)

    def said_of_container(self, code: str, *, withdrawn: bool = False) -> list[Statement]:
        """What is said of a container in the order of entry; with `withdrawn`, what was taken back too."""
        return self._about(About.CONTAINER, code, withdrawn=withdrawn)

    def said_of_containers(self, says: Says) -> dict[str, Statement]:
        """The last that is said of that kind of each container."""
        # The words of other kinds of things are few under these kinds, so the index on them is enough.
        return {one.subject: one for one in self._said(_live(About.CONTAINER, says))}

    def belongings(self, *, to: str) -> list[Statement]:
        """By which statements prints belong to an occasion, in the order of entry."""
        return self._said(_live(About.PRINT, Says.OCCASION).where(statements.c.value == storable(to)))

    def said_of_prints(self, says: Says, accessions: Iterable[str]) -> list[Statement]:
        """What stands of that kind about any of these prints, in the order of entry."""
        kind = _live(About.PRINT, says)
        found = [
            one for some in _some(accessions) for one in self._said(kind.where(statements.c.subject.in_(some)))
        ]
        return list(found)

    def laid(self) -> list[Statement]:
        """All statements by which one print was laid after another."""
        return self._said(_live(About.PRINT, Says.AFTER))

    def of_one_negative(self) -> list[Statement]:
        """All statements by which two prints are of one negative."""
        return self._said(_live(About.PRINT, Says.NEGATIVE))

    def kept_elsewhere(self, code: str | None = None) -> list[Statement]:
        """By which statements the paper of prints lies in another container than its number says; with a code,
        those that name that container."""
        kind = _live(About.PRINT, Says.KEPT_IN)
        return self._said(kind if code is None else kind.where(statements.c.value == storable(code)))

    def accessions_in(self, code: str | None) -> list[str]:
        """The numbers of the prints that were taken in from a container, in the order in which they came."""
        listed = prints.c.container == code, prints.c.back_of.is_(None), prints.c.taken_out.is_(None)
        with self._reading() as connection:
            return list(connection.scalars(select(prints.c.accession).where(*listed).order_by(prints.c.number)))

    def listed_of(self, accessions: Iterable[str]) -> set[str]:
        """Those of the numbers that are numbers of prints which are listed."""
        listed = select(prints.c.accession).where(prints.c.back_of.is_(None), prints.c.taken_out.is_(None))
        with self._reading() as connection:
            return {
                one
                for some in _some(accessions)
                for one in connection.scalars(listed.where(prints.c.accession.in_(some)))
            }

    def container_counts(self) -> dict[str, int]:
        """How many prints were taken in from each container, by its code; those of none under the empty code."""
        listed = prints.c.back_of.is_(None), prints.c.taken_out.is_(None)
        query = select(prints.c.container, func.count().label("prints")).where(*listed)
        with self._reading() as connection:
            counted = rows(connection, query.group_by(prints.c.container))
        return {row["container"] or "": int(row["prints"]) for row in counted}

    def has_treated(self, code: str) -> bool:
        """Whether a print that was found in that container, or in one within it, is shown treated."""
        inside = prints.c.container > f"{code}/", prints.c.container < f"{code}0"  # 0 follows / in ASCII
        within = and_(*inside) | (prints.c.container == code)
        shown = views.c.superseded.is_(None), views.c.treatment.is_not(None), prints.c.taken_out.is_(None)
        query = select(views.c.treatment).join(prints, prints.c.accession == views.c.accession)
        with self._reading() as connection:
            return any(read_treatment(each).key for each in connection.scalars(query.where(within, *shown)))

    def containers_of(self, accessions: Iterable[str]) -> dict[str, str | None]:
        """The container in which each of these prints was found."""
        query = select(prints.c.accession, prints.c.container)
        with self._reading() as connection:
            return {
                row["accession"]: row["container"]
                for some in _some(accessions)
                for row in rows(connection, query.where(prints.c.accession.in_(some)))
            }

    def waits_by_container(self) -> dict[str, int]:
        """How many questions wait about the prints that were found in each container."""
        query = select(prints.c.container, func.count(questions.c.key).label("waits"))
        waiting = query.join(questions, questions.c.subject == prints.c.accession)
        with self._reading() as connection:
            counted = rows(connection, waiting.where(questions.c.settled.is_(None)).group_by(prints.c.container))
        return {row["container"] or "": int(row["waits"]) for row in counted}

    def waits_of(self, accessions: Iterable[str]) -> dict[str, int]:
        """How many questions wait about each of these prints, where any do."""
        query = select(questions.c.subject, func.count().label("waits")).where(questions.c.settled.is_(None))
        with self._reading() as connection:
            return {
                row["subject"]: int(row["waits"])
                for some in _some(accessions)
                for row in rows(
                    connection, query.where(questions.c.subject.in_(some)).group_by(questions.c.subject)
                )
            }

    def date_words(self) -> set[str]:
        """All words by which dates of prints and occasions were told."""
        dates = statements.c.says.in_((Says.EXPOSURE, Says.PRINTING, Says.UNREAD_DATE))
        with self._reading() as connection:
            live = select(statements.c.words).where(dates, statements.c.withdrawn.is_(None))
            return set(connection.scalars(live.distinct()))

    def dated_by(self, words: Iterable[str]) -> list[Statement]:
        """The dates of prints and occasions that were told by these words."""
        dates = statements.c.says.in_((Says.EXPOSURE, Says.PRINTING, Says.UNREAD_DATE))
        live = select(statements).where(dates, statements.c.withdrawn.is_(None))
        return [one for some in _some(words) for one in self._said(live.where(statements.c.words.in_(some)))]

    def dates_of_occasions(self) -> dict[str, str]:
        """The first date that is said of each occasion, as EDTF."""
        named = statements.c.subject.in_(select(occasions.c.name))
        found: dict[str, str] = {}
        for said in self._said(_live(About.OCCASION, Says.EXPOSURE).where(named)):
            found.setdefault(said.subject, said.value)
        return found

    def taken_ids(self, ids: Iterable[str]) -> set[str]:
        """Those of the ids that are a statement's already, withdrawn or not."""
        with self._reading() as connection:
            return {
                one
                for some in _some(ids)
                for one in connection.scalars(select(statements.c.id).where(statements.c.id.in_(some)))
            }

    def _about(self, about: About, subject: str, *, withdrawn: bool) -> list[Statement]:
        query = select(statements).where(statements.c.about == about, statements.c.subject == storable(subject))
        return self._said(query if withdrawn else query.where(statements.c.withdrawn.is_(None)))

    def _said(self, query: Select[Any]) -> list[Statement]:
        with self._reading() as connection:
            return [statement_of(row) for row in rows(connection, query.order_by(statements.c.entry))]


def _live(about: About, says: Says) -> Select[Any]:
    kind = statements.c.about == about, statements.c.says == says
    return select(statements).where(*kind, statements.c.withdrawn.is_(None))


def _some(values: Iterable[str]) -> Iterator[list[str]]:
    rest = iter(dict.fromkeys(map(storable, values)))
    while some := list(islice(rest, _AT_ONCE)):
        yield some
