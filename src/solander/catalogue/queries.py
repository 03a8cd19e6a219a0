"""What the catalogue tells: each list is one plain query or two, never a walk from row to row."""

from __future__ import annotations

import gc
import re
from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator
from contextlib import AbstractContextManager, contextmanager
from functools import lru_cache
from pathlib import Path
from typing import Any, TypeVar

from sqlalchemy import Connection, Select, exists, func, select, text

from solander.catalogue.arrangement_queries import ReadingArrangement
from solander.catalogue.changed import changed_since
from solander.catalogue.database import first_row, rows
from solander.catalogue.face_queries import ReadingFaces
from solander.catalogue.history import Change
from solander.catalogue.history_queries import ReadingHistory
from solander.catalogue.names_queries import ReadingNames
from solander.catalogue.people_queries import ReadingPeople
from solander.catalogue.progress_queries import ReadingProgress
from solander.catalogue.question_queries import ReadingQuestions
from solander.catalogue.records import (
    Row,
    base_name,
    capture_of,
    container_of,
    occasion_of,
    place_of,
    print_of,
    question_of,
    statement_of,
    storable,
    view_of,
)
from solander.catalogue.schema import (
    acts,
    arrivals,
    captures,
    changes,
    containers,
    occasions,
    places,
    prints,
    questions,
    settings,
    statements,
    views,
)
from solander.catalogue.search import ReadingWords, SearchIndex
from solander.catalogue.stand import ReadingStand
from solander.catalogue.standing import ReadingStanding
from solander.catalogue.writings import ReadingWritings
from solander.core.errors import NotFound
from solander.core.occasions import Occasion
from solander.core.places import Place
from solander.core.prints import SURE_ENOUGH, Capture, Container, Print, Side, View
from solander.core.questions import Question
from solander.core.sentence import Sentence
from solander.core.statements import Statement

__all__ = ["Reading", "missing_print"]

Record = TypeVar("Record")


class Reading(
    ReadingPeople,
    ReadingNames,
    ReadingFaces,
    ReadingStanding,
    ReadingArrangement,
    ReadingHistory,
    ReadingProgress,
    ReadingWords,
    ReadingQuestions,
    ReadingStand,
    ReadingWritings,
):
    """The reading half of a catalogue; each call sees one moment, whatever a writer does meanwhile."""

    path: Path
    _index: SearchIndex

    def _reading(self) -> AbstractContextManager[Connection]:
        raise NotImplementedError

    def captures(self) -> list[Capture]:
        """All captures, in the order in which they were first kept."""
        first = (
            select(arrivals.c.id).where(arrivals.c.sha256 == captures.c.sha256).order_by(arrivals.c.id).limit(1)
        )
        return self._all(select(captures).order_by(first.scalar_subquery(), captures.c.sha256), capture_of)

    def capture(self, sha256: str) -> Capture | None:
        """The capture of that checksum, if it is kept."""
        return next(iter(self._all(select(captures).where(captures.c.sha256 == sha256), capture_of)), None)

    def arrived_as(self, name: str) -> list[str]:
        """Checksums of what arrived under that name, oldest first.

        The relative name as written is tried first, then without regard to case, then its last part alone; the
        first that finds anything is the answer.
        """
        kept = storable(name)
        found = self._rows(select(arrivals).where(arrivals.c.base == base_name(kept)).order_by(arrivals.c.id))
        exact = [row["sha256"] for row in found if row["name"] == kept]
        alike = [row["sha256"] for row in found if row["name"].casefold() == kept.casefold()]
        return list(dict.fromkeys(exact or alike or [row["sha256"] for row in found]))

    def names_of(self, sha256: str) -> list[str]:
        """The names under which a capture arrived, oldest first."""
        found = self._rows(select(arrivals).where(arrivals.c.sha256 == sha256).order_by(arrivals.c.id))
        return list(dict.fromkeys(row["name"] for row in found))

    def first_arrivals(self) -> dict[str, str]:
        """When each capture first arrived: UTC, RFC 3339, by checksum."""
        first = select(arrivals.c.sha256, func.min(arrivals.c.at).label("at")).group_by(arrivals.c.sha256)
        return {row["sha256"]: row["at"] for row in self._rows(first)}

    def containers(self) -> list[Container]:
        """All containers, in the order of their codes: B2 before B10."""
        found = self._all(select(containers), container_of)
        return sorted(found, key=lambda container: _shelf(container.code))

    def container(self, code: str) -> Container | None:
        """The container of that code, if there is one."""
        return next(iter(self._all(select(containers).where(containers.c.code == code), container_of)), None)

    def prints(self) -> list[Print]:
        """All prints with their views in use, by container (those without one first) and number."""
        listed = prints.c.back_of.is_(None), prints.c.taken_out.is_(None)
        return self._prints(select(prints).where(*listed), select(views))

    def prints_of(self, accessions: Iterable[str]) -> list[Print]:
        """The prints of these numbers that are listed."""
        some = list(map(storable, accessions))
        listed = prints.c.accession.in_(some), prints.c.back_of.is_(None), prints.c.taken_out.is_(None)
        return self._prints(select(prints).where(*listed), select(views).where(views.c.accession.in_(some)))

    def prints_beside(self, accession: str) -> list[Print]:
        """The prints of that print's container, or all without one, in the order of their numbers."""
        own = self._rows(select(prints.c.container).where(prints.c.accession == accession))
        if not own:
            return []
        beside = (
            prints.c.container == own[0]["container"],
            prints.c.back_of.is_(None),
            prints.c.taken_out.is_(None),
        )
        theirs = views.c.accession.in_(select(prints.c.accession).where(*beside))
        return self._prints(select(prints).where(*beside), select(views).where(theirs))

    def print(self, accession: str) -> Print:
        """The print of that accession number.

        Raises
        ------
        NotFound
            When there is none; if it was joined to another print as its back or taken out, says so.
        """
        with self._reading() as connection:
            row = first_row(connection, select(prints).where(prints.c.accession == accession))
            if row is None or row["back_of"] or row["taken_out"]:
                raise missing_print(accession, row)
            held = _views_by_print(connection, select(views).where(views.c.accession == accession))
        return print_of(row, tuple(held.get(accession, ())))

    def view(self, key: str) -> tuple[str, View]:
        """The view in use of that key, with its print's accession number.

        Raises
        ------
        NotFound
            When there is none, or another view has taken its place.
        """
        found = self._rows(select(views).where(views.c.key == storable(key)))
        if not found:
            raise NotFound(Sentence("This picture is not in the catalogue"), "", Sentence("Go back to the table"))
        if found[0]["superseded"]:
            raise NotFound(
                Sentence("This picture is no longer in use"),
                Sentence("it was cut out anew since"),
                Sentence("Look at its print"),
            )
        return found[0]["accession"], view_of(found[0])

    def latest_views(self, frame: tuple[int, int], limit: int = 300) -> list[View]:
        """The views in use of captures of that frame (width, height) that were entered last, newest first."""
        of_frame = captures.c.width == frame[0], captures.c.height == frame[1], views.c.superseded.is_(None)
        query = select(views).join(captures, views.c.capture == captures.c.sha256).where(*of_frame)
        return self._all(query.order_by(views.c.sequence.desc()).limit(limit), view_of)

    def unsure_views(self) -> list[tuple[str, View]]:
        """The views in use whose outline is not sure, each with its print's accession number, the worst first."""
        unsure = views.c.superseded.is_(None), views.c.checked.is_(False), views.c.confidence < SURE_ENOUGH
        query = select(views).where(*unsure).order_by(views.c.confidence, views.c.sequence)
        return [(row["accession"], view_of(row)) for row in self._rows(query)]

    def prints_of_capture(self, sha256: str) -> list[Print]:
        """The prints that have a view in use of that capture."""
        within = select(views.c.accession).where(views.c.capture == sha256, views.c.superseded.is_(None))
        return self._prints(
            select(prints).where(prints.c.accession.in_(within)),
            select(views).where(views.c.accession.in_(within)),
        )

    def captures_of_side(self, accession: str, side: Side) -> list[str]:
        """The captures that show that side of a print, or did until another was chosen, newest first."""
        same = views.c.accession == storable(accession), views.c.side == side.value
        found = self._rows(select(views.c.capture).where(*same).order_by(views.c.sequence.desc()))
        return list(dict.fromkeys(row["capture"] for row in found))

    def views_of_capture(self, sha256: str) -> list[tuple[str, View]]:
        """The views in use of a capture, each with its print's accession number, by page and reading order."""
        of_capture = views.c.capture == sha256, views.c.superseded.is_(None)
        found = self._rows(select(views).where(*of_capture).order_by(views.c.page, views.c.sequence))
        return [(row["accession"], view_of(row)) for row in found]

    def is_emptied(self, sha256: str) -> bool:
        """Whether a print of that capture was taken out by a person: what has no print then is to have none."""
        of_capture = views.c.capture == sha256, prints.c.taken_out.is_not(None)
        return bool(self._rows(select(prints.c.accession).join_from(prints, views).where(*of_capture).limit(1)))

    def statements(self, *, subject: str | None = None, withdrawn: bool = False) -> list[Statement]:
        """Statements in the order of entry; with `withdrawn`, the withdrawn ones too."""
        query = select(statements).order_by(statements.c.entry)
        if subject is not None:
            query = query.where(statements.c.subject == storable(subject))
        return self._all(query if withdrawn else query.where(statements.c.withdrawn.is_(None)), statement_of)

    def statements_about(self, subjects: Iterable[str]) -> list[Statement]:
        """What stands about any of these, in the order of entry."""
        some = list(map(storable, subjects))
        query = select(statements).where(statements.c.subject.in_(some), statements.c.withdrawn.is_(None))
        return self._all(query.order_by(statements.c.entry), statement_of)

    def sources_lately(self, among: int) -> list[str]:
        """Who or what made the newest statements that stand, each once, the newest first; `among` so many."""
        newest = select(statements.c.source).where(statements.c.withdrawn.is_(None))
        found = self._rows(newest.order_by(statements.c.entry.desc()).limit(among))
        return list(dict.fromkeys(row["source"] for row in found))

    def questions_about(self, subjects: Iterable[str]) -> list[Question]:
        """What waits about any of these, oldest first."""
        some = list(map(storable, subjects))
        query = select(questions).where(questions.c.subject.in_(some), questions.c.settled.is_(None))
        return self._all(query.order_by(questions.c.entry), question_of)

    def occasions(self) -> list[Occasion]:
        """All occasions by name."""
        return self._all(select(occasions).order_by(occasions.c.name), occasion_of)

    def places(self) -> list[Place]:
        """The collection's own places by name."""
        return self._all(select(places).order_by(places.c.name), place_of)

    def places_named(self, names: Iterable[str]) -> list[Place]:
        """Those of the collection's own places that have these names."""
        return self._all(select(places).where(places.c.name.in_([*map(storable, names)])), place_of)

    def questions(self, *, settled: bool = False) -> list[Question]:
        """What waits, oldest first; with `settled`, what is settled too."""
        query = select(questions).order_by(questions.c.entry)
        return self._all(query if settled else query.where(questions.c.settled.is_(None)), question_of)

    def history(self, limit: int = 100) -> list[Change]:
        """The last changes, newest first."""
        undoing = acts.alias("undoing")
        undone = exists().where(undoing.c.undoes == acts.c.id, changes.c.lasting.is_(False)).label("undone")
        query = select(changes, acts.c.who, acts.c.what, undone).join_from(changes, acts)
        return self._all(query.order_by(changes.c.id.desc()).limit(limit), _change_of)

    def last_change(self, *tables: str) -> int:
        """A number that grows with every change, or with every change of those tables; 0 before the first."""
        query = select(func.coalesce(func.max(changes.c.id), 0).label("last"))
        (found,) = self._rows(query.where(changes.c.table_name.in_(tables)) if tables else query)
        return int(found["last"])

    def acts_since(self, change: int) -> set[int]:
        """The numbers of the acts that have a change after that one; see `last_change`."""
        return {
            int(row["act"]) for row in self._rows(select(changes.c.act).where(changes.c.id > change).distinct())
        }

    def changed_since(self, change: int, subjects: Iterable[str]) -> list[Change]:
        """What was changed of these things (numbers of prints, headings, keys) after that change, oldest first."""
        with self._reading() as connection:
            return [_change_of({**row, "undone": False}) for row in changed_since(connection, change, subjects)]

    def damage(self) -> list[str]:
        """A sentence for each thing that is wrong with the catalogue's file as a database."""
        with self._reading() as connection:
            told = [str(row[0]) for row in connection.execute(text("PRAGMA integrity_check"))]
            loose = connection.execute(text("PRAGMA foreign_key_check")).fetchall()
        found = [f"The catalogue is damaged: {each}." for each in told if each != "ok"]
        return found + ["The catalogue speaks of things that are not in it."] * bool(loose)

    def setting(self, key: str, default: str = "") -> str:
        """What is set under that key."""
        found = self._rows(select(settings.c.value).where(settings.c.key == storable(key)))
        return str(found[0]["value"]) if found else default

    def search(self, text: str, limit: int = 50) -> list[str]:
        """Accession numbers, best first, of the prints that have every word of `text`, each as a beginning."""
        with self._reading() as connection:
            return self._index.find(connection, text, limit)

    def _rows(self, query: Select[Any]) -> list[Row]:
        with self._reading() as connection:
            return rows(connection, query)

    def _all(self, query: Select[Any], record: Callable[[Row], Record]) -> list[Record]:
        return [record(row) for row in self._rows(query)]

    def _prints(self, of_prints: Select[Any], of_views: Select[Any]) -> list[Print]:
        with self._reading() as connection, _collector_paused():
            there = rows(connection, of_prints)
            held = _views_by_print(connection, of_views)
        found = [print_of(row, tuple(held.get(row["accession"], ()))) for row in there]
        return sorted(found, key=lambda one: (_shelf(one.container or ""), one.number))


@contextmanager
def _collector_paused() -> Iterator[None]:
    # Records form no cycles, yet the collector goes through them again and again while thousands are made:
    # 20,000 prints take 0.34 s of processor time without it, 0.78 s with it.
    if not gc.isenabled():
        yield
        return
    gc.disable()
    try:
        yield
    finally:
        gc.enable()


def _views_by_print(connection: Connection, query: Select[Any]) -> dict[str, list[View]]:
    held: defaultdict[str, list[View]] = defaultdict(list)
    for row in rows(connection, query.where(views.c.superseded.is_(None)).order_by(views.c.sequence)):
        held[row["accession"]].append(view_of(row))
    return held


@lru_cache(maxsize=4096)
def _shelf(code: str) -> tuple[tuple[str, int], ...]:
    return tuple((letters, int(number)) for letters, number in re.findall(r"([A-Z]+)([0-9]+)", code))


def missing_print(accession: str, row: Row | None) -> NotFound:
    """What to say when a print is not there, or `row` says that it became another's back or was taken out."""
    if row is None:
        return NotFound(
            Sentence("There is no print %(accession)s", accession=accession),
            "",
            Sentence("Check the accession number"),
        )
    if row["taken_out"]:
        return NotFound(
            Sentence("There is no print %(accession)s any more", accession=accession),
            Sentence("it was taken out, because it is no print"),
        )
    other = row["back_of"]
    return NotFound(
        Sentence("There is no print %(accession)s any more", accession=accession),
        Sentence("it is the back of %(other)s", other=other),
        Sentence("Look at %(other)s", other=other),
    )


def _change_of(row: Row) -> Change:
    return Change(
        at=row["at"],
        who=row["who"],
        act=row["what"],
        action=row["action"],
        table=row["table_name"],
        key=row["row_key"],
        before=row["before"],
        after=row["after"],
        undone=bool(row["undone"]),
    )
