"""Acts: one thing that a person did, in as many transactions as it takes."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar

from sqlalchemy import Connection, Engine

from solander.catalogue.database import faults_spoken, writing
from solander.catalogue.history import begin_act
from solander.catalogue.records import Row
from solander.catalogue.undo import last_act, standing_act, take_back
from solander.catalogue.work import Work
from solander.core.errors import Trouble
from solander.core.sentence import Sentence

__all__ = ["Act", "done_by", "undo_last", "undo_one"]

_HAND: ContextVar[str] = ContextVar("by which means acts are done", default="")


@contextmanager
def done_by(means: str) -> Iterator[None]:
    """History says of each act within that it was done by these means: “at the command line”; empty for none."""
    before = _HAND.set(f", {means}" if means else "")
    try:
        yield
    finally:
        _HAND.reset(before)


class Act:
    """One thing that a person did; it enters history with its first change.

    `what` is the sentence by which history and undo speak of it.
    """

    def __init__(self, engine: Engine, *, who: str, what: str, now: Callable[[], str]) -> None:
        self._engine, self._who, self._what, self._now = engine, who + _HAND.get(), what, now
        self._number: int | None = None

    @property
    def number(self) -> int | None:
        """By which it can be taken back; None while nothing has changed."""
        return self._number

    def call(self, what: str) -> None:
        """Says by which sentence it is spoken of, before its first change: the number that a print gets is known
        only inside the transaction that gives it."""
        self._what = what

    @contextmanager
    def work(self) -> Iterator[Work]:
        """One transaction; leaving without `commit` leaves nothing of it.

        Raises
        ------
        Trouble
            When another Solander goes on writing, the disk is full, or the file can't be written.
        """
        begun = self._number
        with faults_spoken(), writing(self._engine) as connection:
            work = Work(connection, begin_act=lambda: self._begin(connection), now=self._now)
            try:
                yield work
            finally:
                if not work.committed:
                    self._number = begun

    def _begin(self, connection: Connection) -> int:
        if self._number is None:
            self._number = begin_act(connection, at=self._now(), who=self._who, what=self._what)
        return self._number


def undo_last(engine: Engine, *, who: str, now: Callable[[], str], only: int | None = None) -> str:
    """The sentence of the act that was taken back; that it was is an act of its own.

    With `only`, the number of an act, nothing else is taken back.

    Raises
    ------
    Trouble
        When no act is left that could be, or something later stands in the way.
    """
    with faults_spoken(), writing(engine) as connection:
        act = last_act(connection)
        if act is None:
            raise Trouble(Sentence("Nothing was taken back"), Sentence("no change is left that could be"))
        if only not in (None, act["id"]):
            since = Sentence("this was done since: %(act)s", act=act["what"])
            raise Trouble(Sentence("Nothing was taken back"), since, Sentence("Look at it again"))
        _take_back(connection, act, who, now)
    what: str = act["what"]
    return what


def undo_one(engine: Engine, number: int, *, who: str, now: Callable[[], str]) -> str:
    """The sentence of the act of that number, which was taken back while what was done since stands.

    Raises
    ------
    Trouble
        When it can't be taken back, or something later stands in the way; names what.
    """
    with faults_spoken(), writing(engine) as connection:
        act = standing_act(connection, number)
        if act is None:
            raise Trouble(
                Sentence("Nothing was taken back"),
                Sentence("this was taken back already, or never can be"),
                Sentence("Look again"),
            )
        _take_back(connection, act, who, now)
    what: str = act["what"]
    return what


def _take_back(connection: Connection, act: Row, who: str, now: Callable[[], str]) -> None:
    what = Sentence("Took back: %(act)s", act=act["what"])
    number = begin_act(connection, at=now(), who=who + _HAND.get(), what=what, undoes=act["id"])
    work = Work(connection, begin_act=lambda: number, now=now)
    take_back(connection, act, work.recorder)
    work.commit()
