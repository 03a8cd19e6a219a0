"""Units of work: the writing half of a catalogue, one transaction at a time."""

from __future__ import annotations

from collections.abc import Callable

from sqlalchemy import Connection, Table, func, select

from solander.catalogue.arrangement_work import ArrangementWork
from solander.catalogue.database import rows
from solander.catalogue.documents import Documents
from solander.catalogue.face_work import FacesWork
from solander.catalogue.history import Recorder
from solander.catalogue.people_work import PeopleWork, PersonNames
from solander.catalogue.queries import missing_print
from solander.catalogue.records import (
    Row,
    base_name,
    capture_row,
    condition_json,
    container_row,
    occasion_row,
    place_row,
    print_row,
    question_row,
    statement_row,
    storable,
    treatment_json,
    view_row,
)
from solander.catalogue.schema import (
    arrivals,
    captures,
    containers,
    occasions,
    places,
    prints,
    questions,
    settings,
    statements,
    views,
)
from solander.catalogue.stand import StandWork
from solander.catalogue.writings import writing_follows
from solander.core.errors import NotFound, Trouble
from solander.core.occasions import Occasion
from solander.core.places import Place
from solander.core.prints import Capture, Condition, Container, Print, Side, View
from solander.core.questions import Question
from solander.core.sentence import Sentence
from solander.core.statements import About, Statement
from solander.core.treatments import Treatment

__all__ = ["Work"]


class Work(PeopleWork, FacesWork, ArrangementWork, StandWork):
    """One transaction; what is written shows to others at `commit`, and is then on the disk."""

    def __init__(self, connection: Connection, *, begin_act: Callable[[], int], now: Callable[[], str]) -> None:
        self._connection, self._now = connection, now
        self._documents, self._person_names = Documents(), PersonNames()
        self.recorder = Recorder(connection, begin_act=begin_act, now=now, seen=self._seen)
        self.committed = False

    def commit(self) -> None:
        """Makes everything since the beginning of the unit of work last; it takes no more afterwards."""
        self.recorder.write_changes()
        self._documents.refresh(self._connection)
        self._person_names.refresh(self._connection)
        self._connection.commit()
        self.committed = True

    # Captures and arrivals are facts about the vault: undo never takes them back.

    def keep_capture(self, capture: Capture) -> None:
        """Enters a capture; one that is known already stays as it is."""
        if self.recorder.row(captures, capture.sha256) is None:
            self.recorder.insert(captures, capture_row(capture), lasting=True)

    def keep_arrival(self, name: str, sha256: str) -> None:
        """Logs that a file of that name arrived just now, also when its bytes were known."""
        if self.recorder.row(captures, sha256) is None:
            raise NotFound(
                Sentence("%(name)s was not entered", name=name), Sentence("its capture is not in the catalogue")
            )
        kept = storable(name)
        arrival = {"name": kept, "base": base_name(kept), "sha256": sha256, "at": self._now()}
        self.recorder.insert(arrivals, arrival, lasting=True)

    def add_container(self, container: Container) -> None:
        """Enters a container, and those around it that are missing; a known one takes a title that is given, and
        captures besides those that it has."""
        if container.parent:
            self.add_container(Container(container.parent))
        known = self.recorder.row(containers, container.code)
        if known is None:
            self.recorder.insert(containers, container_row(container))
            return
        if container.title:
            self.recorder.update(containers, container.code, {"title": container.title})
        captures = list(dict.fromkeys([*(known["captures"] or ()), *container.captures]))
        if container.captures and captures != known["captures"]:
            self.recorder.update(containers, container.code, {"captures": captures})

    def next_number(self, container: str | None) -> int:
        """The number for the next print of a container; those of prints joined to others are not given again."""
        numbers = select(prints.c.number).where(prints.c.container == container)
        return 1 + (self._connection.scalar(numbers.order_by(prints.c.number.desc()).limit(1)) or 0)

    def add_print(self, print_: Print) -> None:
        """Enters a print with its views, and its container when that is new.

        Raises
        ------
        Trouble
            When there is a print of that accession number, or one of its views is in use elsewhere.
        """
        if self.recorder.row(prints, print_.accession):
            raise Trouble(
                Sentence("Print %(accession)s was not entered", accession=print_.accession),
                Sentence("there is one of that number already"),
            )
        if print_.container:
            self.add_container(Container(print_.container))
        self.recorder.insert(prints, print_row(print_))
        for view in print_.views:
            self.add_view(print_.accession, view)

    def add_view(self, accession: str, view: View) -> None:
        """Adds a view to a print, after its others.

        Raises
        ------
        NotFound
            When there is no such print or no such capture.
        Trouble
            When the same outline of the same capture is in use already.
        """
        self._print(accession)
        self._put_view(accession, view, sequence=self._next_sequence())

    def replace_view(self, accession: str, old: View, new: View) -> None:
        """Puts a redone view in the place of another, which is kept as superseded.

        Raises
        ------
        NotFound
            When the print has no such view in use.
        """
        row = self._row_in_use(
            accession, old, Sentence("The view of %(accession)s was not replaced", accession=accession)
        )
        if new.key == old.key:
            self.recorder.update(views, old.key, view_row(accession, new, sequence=row["sequence"]))
            return
        self.recorder.update(views, old.key, {"superseded": self._now()})
        self._put_view(accession, new, sequence=row["sequence"])
        self._faces_follow(old.key, new.key)
        if new.turned(0, None).key == old.turned(0, None).key:
            writing_follows(self._connection, old.key, new.key)

    def take_out_view(self, accession: str, view: View) -> None:
        """Takes a view out of use without another in its place; a print without a view in use goes with it.

        What was said of such a print is withdrawn and what waits about it is settled; its row keeps its number.

        Raises
        ------
        NotFound
            When the print has no such view in use.
        """
        self._row_in_use(
            accession, view, Sentence("The view of %(accession)s was not taken out", accession=accession)
        )
        self.recorder.update(views, view.key, {"superseded": self._now()})
        if any(not row["superseded"] for row in self._rows_of_print(accession)):
            return
        for statement in self._keys_about(accession):
            self.withdraw(statement)
        for question in self._waiting_about(accession):
            self.settle(question)
        self.recorder.update(prints, accession, {"taken_out": self._now()})

    def join_back(self, verso_accession: str, recto_accession: str) -> None:
        """Makes the views of one print the back of another; its statements and open questions follow.

        The emptied print is no longer listed; its row keeps the pairing and its number.

        Raises
        ------
        NotFound
            When one of the prints is not there.
        Trouble
            When they are one print, or the other has a back already.
        """
        self._print(verso_accession)
        self._print(recto_accession)
        self._refuse_second_back(verso_accession, recto_accession)
        for row in self._rows_of_print(verso_accession):
            side = Side.DETAIL if row["side"] == Side.DETAIL else Side.VERSO
            self.recorder.update(views, row["key"], {"accession": recto_accession, "side": side.value})
        for statement in self._keys_about(verso_accession):
            self.recorder.update(statements, statement, {"subject": recto_accession})
        for question in self._waiting_about(verso_accession):
            self.recorder.update(questions, question, {"subject": recto_accession})
        self.recorder.update(prints, verso_accession, {"back_of": recto_accession})

    def set_condition(self, view_key: str, condition: Condition) -> None:
        """Enters what was measured of a view."""
        if self.recorder.row(views, view_key) is None:
            raise NotFound(Sentence("There is no view %(view_key)s", view_key=view_key))
        self.recorder.update(views, view_key, {"condition": condition_json(condition)})

    def set_treatment(self, view_key: str, treatment: Treatment) -> None:
        """Enters what is done to a view where it is shown; no pixel of the view changes.

        Raises
        ------
        NotFound
            When no view in use has that key.
        """
        row = self.recorder.row(views, view_key)
        if row is None or row["superseded"]:
            raise NotFound(Sentence("There is no view %(view_key)s", view_key=view_key))
        self.recorder.update(views, view_key, {"treatment": treatment_json(treatment)})

    def keep_occasion(self, occasion: Occasion) -> None:
        """Enters an occasion."""
        self.recorder.keep(occasions, occasion_row(occasion))

    def keep_place(self, place: Place) -> None:
        """Enters a place, or what is now known of the one of that name."""
        self.recorder.keep(places, place_row(place))

    def state(self, statement: Statement) -> None:
        """Adds a statement; one that was entered before under the same id stays as it is, withdrawn or not.

        Raises
        ------
        NotFound
            When it is about a print that is not there.
        Trouble
            When another statement has that id.
        """
        row = statement_row(statement)
        known = self.recorder.row(statements, statement.id)
        if known is None:
            self._subject(statement)
            self.recorder.insert(statements, row)
        elif _claim(known) != _claim(row):
            raise Trouble(
                Sentence("A statement about %(subject)s was not entered", subject=statement.subject),
                Sentence("its id is another's"),
            )

    def withdraw(self, statement_id: str) -> None:
        """Takes a statement out of force; it stays readable."""
        known = self.recorder.row(statements, statement_id)
        if known is None:
            raise NotFound(Sentence("There is no statement %(statement_id)s", statement_id=statement_id))
        if not known["withdrawn"]:
            self.recorder.update(statements, statement_id, {"withdrawn": self._now()})

    def ask(self, question: Question) -> None:
        """Raises a question, unless it waits already; one that settled itself and comes up again waits again."""
        known = self.recorder.row(questions, question.key)
        if known is None:
            self.recorder.insert(questions, question_row(question))
        elif known["settled"]:
            self.recorder.update(questions, question.key, {"settled": None, "raised": question.raised})

    def settle(self, key: str) -> None:
        """Takes a question from the queue."""
        known = self.recorder.row(questions, key)
        if known is None:
            raise NotFound(Sentence("There is no question %(key)s", key=key))
        if not known["settled"]:
            self.recorder.update(questions, key, {"settled": self._now()})

    def set(self, key: str, value: str, *, lasting: bool = False) -> None:
        """Sets what the collection goes by; undo takes it back unless it is a fact of the outside (`lasting`)."""
        self.recorder.keep(settings, {"key": key, "value": value}, lasting=lasting)

    def _seen(self, table: Table, before: Row | None, after: Row | None) -> None:
        self._documents.seen(table, before, after)
        self._person_names.seen(table, before, after)

    def _print(self, accession: str) -> Row:
        row = self.recorder.row(prints, accession)
        if row is None or row["back_of"] or row["taken_out"]:
            raise missing_print(accession, row)
        return row

    def _row_in_use(self, accession: str, view: View, what: str) -> Row:
        row = self.recorder.row(views, view.key)
        if row is None or row["accession"] != accession or row["superseded"]:
            raise NotFound(what, Sentence("it is no longer in use"), Sentence("Look at it again"))
        return row

    def _subject(self, statement: Statement) -> None:
        if statement.about is About.PRINT:
            self._print(statement.subject)
        elif statement.about is About.OCCASION:
            self.keep_occasion(Occasion(statement.subject))

    def _next_sequence(self) -> int:
        return 1 + (self._connection.scalar(select(func.max(views.c.sequence))) or 0)

    def _put_view(self, accession: str, view: View, *, sequence: int) -> None:
        if self.recorder.row(captures, view.capture) is None:
            raise NotFound(
                Sentence("A view of %(accession)s was not entered", accession=accession),
                Sentence("its capture is not in the catalogue"),
            )
        row = view_row(accession, view, sequence=sequence)
        known = self.recorder.row(views, view.key)
        if known and not known["superseded"]:
            raise Trouble(
                Sentence("A view of %(accession)s was not entered", accession=accession),
                Sentence("it is in use in %(accession)s", accession=known["accession"]),
            )
        # Turning a print all the way round gives the first view again: it comes back into use.
        self.recorder.keep(views, row)

    def _refuse_second_back(self, verso_accession: str, recto_accession: str) -> None:
        what = Sentence(
            "%(verso_accession)s was not made the back of %(recto_accession)s",
            verso_accession=verso_accession,
            recto_accession=recto_accession,
        )
        if verso_accession == recto_accession:
            raise Trouble(what, Sentence("they are one print"), Sentence("Choose two prints"))
        if any(row["side"] == Side.VERSO for row in self._rows_of_print(recto_accession) if not row["superseded"]):
            raise Trouble(
                what,
                Sentence("%(recto_accession)s has a back already", recto_accession=recto_accession),
                Sentence("Take that pairing back first"),
            )

    def _rows_of_print(self, accession: str) -> list[Row]:
        query = select(views).where(views.c.accession == accession).order_by(views.c.sequence)
        return rows(self._connection, query)

    def _keys_about(self, accession: str) -> list[str]:
        about = statements.c.about == About.PRINT, statements.c.subject == accession
        return list(self._connection.scalars(select(statements.c.id).where(*about).order_by(statements.c.entry)))

    def _waiting_about(self, subject: str) -> list[str]:
        waiting = questions.c.subject == subject, questions.c.settled.is_(None)
        return list(self._connection.scalars(select(questions.c.key).where(*waiting).order_by(questions.c.entry)))


def _claim(row: Row) -> dict[str, object]:
    return {name: row[name] for name in ("about", "subject", "says", "value", "words", "sure", "source")}
