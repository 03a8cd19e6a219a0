"""The desk where backs are transcribed: one after the other, line by line, with what a machine read beside it."""

from __future__ import annotations

import os
import threading
import time
from collections.abc import Callable, Iterator

from attrs import define, evolve, field, frozen

from solander.catalogue.writings import BackListed, BacksCounted
from solander.core.descriptions import DescribedPrint
from solander.core.errors import InvalidValue, NotFound, Trouble
from solander.core.inscriptions import Inscription
from solander.core.inscriptions.kept import READ
from solander.core.language import marked
from solander.core.prints import View
from solander.core.sentence import Sentence
from solander.core.statements import About, Says, Statement, Sure
from solander.core.upright import turn_by_faces
from solander.engine.local import Executor, ProcessExecutor
from solander.reading.inscriptions.networks import is_installed
from solander.tasks.ask_inscriptions import ask_inscriptions, proposals_on
from solander.tasks.claims import AT_THE_DESK
from solander.tasks.collection import Collection, Progress
from solander.tasks.described_some import described_one
from solander.tasks.hand_folder import hand_folder
from solander.tasks.legible import Legible
from solander.tasks.meant import meant_of
from solander.tasks.print_desk import PrintDesk
from solander.tasks.proposed_inscriptions import Proposal
from solander.tasks.read_collection import SIDES, WhoReads, by_models, read_collection
from solander.tasks.said_anew import say_all
from solander.tasks.say import SaidDone
from solander.tasks.turn_by_writing import turn_by_writing
from solander.tasks.typed import Field, Typed

__all__ = ["BackAsked", "BackDesk"]


@frozen
class BackAsked:
    """A back to be transcribed.

    `read` is what a machine read; None where nobody looked. Its places are in pixels of the view `turn` quarter
    turns clockwise from how it is shown elsewhere, which bring its writing upright. `said` and `reading` are what
    the person at the desk wrote down before: as it stands there, and in their own words. `number` and `total` tell
    which of those that wait it is, 0 for one that doesn't; `following` is the print whose back comes next, empty
    for none. `proposals` are what the writing may mean, as far as that is asked about.
    """

    described: DescribedPrint
    view: View
    read: Inscription | None
    turn: int
    said: str
    reading: str
    number: int
    total: int
    following: str
    proposals: tuple[Proposal, ...] = ()


def _in_background() -> Executor:
    """Half of the processors: somebody is at work at the pages."""
    return ProcessExecutor(max(1, (os.cpu_count() or 2) // 2))


@define
class _Listed:
    """The backs on which something may be written; where listing them takes long, for a while as they were."""

    _known: list[BackListed] = field(factory=list, init=False)
    _until: float = field(default=0.0, init=False)

    def now(self, collection: Collection) -> list[BackListed]:
        """As they are, or were up to `_WHILE_S` ago."""
        began = time.monotonic()
        if began >= self._until:
            self._known = collection.catalogue.backs_listed()
            ended = time.monotonic()
            self._until = ended + _WHILE_S if ended - began > _PATIENCE_S else 0.0
        return self._known


_PATIENCE_S, _WHILE_S = 0.3, 60.0
"""What takes longer than the first is done anew only after the second (our choice)."""


@define
class BackDesk:
    """The backs of a collection for one workbench; `who` reads in processes that `executor` begins: where it
    is None the networks, with the recogniser of handwriting that the collection goes by."""

    prints: PrintDesk
    who: WhoReads | None = None
    executor: Callable[[], Executor] = _in_background
    can_read: Callable[[], bool] = is_installed
    legible: Legible = field(init=False)
    at: Progress | None = field(default=None, init=False)
    trouble: str = field(default="", init=False)
    _listed: _Listed = field(factory=_Listed, init=False)
    _stopped: threading.Event = field(factory=threading.Event, init=False)
    _beginning: threading.Lock = field(factory=threading.Lock, init=False)

    def __attrs_post_init__(self) -> None:
        self.legible = Legible(self.collection)

    @property
    def collection(self) -> Collection:
        """The collection."""
        return self.prints.shown.collection

    def counted(self) -> BacksCounted:
        """How far the backs are."""
        return self.collection.catalogue.backs_counted()

    def waiting(self, within: str = "") -> list[str]:
        """The prints whose backs wait to be transcribed, those with writing first; with `within` of one container
        and what lies in it."""
        done = self.collection.catalogue.backs_done()
        listed = self._listed.now(self.collection)
        return [one.accession for one in listed if one.accession not in done and one.within(within)]

    def containers(self) -> list[str]:
        """The containers that have a back that waits."""
        done = self.collection.catalogue.backs_done()
        listed = self._listed.now(self.collection)
        return sorted({one.container for one in listed if one.container and one.accession not in done})

    def asked(self, accession: str, within: str = "") -> BackAsked:
        """The back of a print, with what is known of it.

        Raises
        ------
        NotFound
            When there is no such print, or it has no back.
        """
        described = described_one(self.collection, accession)
        view = described.print.verso
        if view is None:
            raise NotFound(
                Sentence("%(accession)s has no back to be transcribed", accession=accession),
                Sentence("no picture of its back was taken in"),
                Sentence("Capture its back, or look at its front"),
            )
        waiting = self.waiting(within)
        own = self._own(accession)
        writing = self.collection.catalogue.writing(view.key)
        turn = turn_by_faces(writing.seen(view.turn).votes) or 0 if writing else 0
        return BackAsked(
            described,
            view,
            writing.seen(view.turn + turn) if writing else None,
            turn,
            own[0],
            own[1],
            waiting.index(accession) + 1 if accession in waiting else 0,
            len(waiting),
            _after(waiting, accession),
            tuple(self._proposed(accession)) if writing else (),
        )

    def _proposed(self, accession: str) -> Iterator[Proposal]:
        asked = {one.key for one in self.collection.catalogue.questions_about([accession])}
        return (one for one in proposals_on(self.collection, accession) if one.key in asked) if asked else iter(())

    def _own(self, accession: str) -> tuple[str, str]:
        """What the person at the desk wrote down, and its free reading."""
        said = [
            one
            for one in self.collection.catalogue.statements(subject=accession)
            if one.says is Says.TRANSCRIPTION and one.source == AT_THE_DESK
        ]
        return (said[-1].words, said[-1].value if said[-1].value != said[-1].words else "") if said else ("", "")

    def view(self, key: str) -> tuple[View, Inscription | None]:
        """The view of that key, with what was read in it."""
        _, view = self.collection.catalogue.view(key)
        writing = self.collection.catalogue.writing(key)
        return view, writing.seen(view.turn) if writing else None

    def keep(self, accession: str, written: str, reading: str = "") -> SaidDone:
        """Keeps what somebody wrote down of a back, in one act: as it is `written` there, line by line, and
        `reading` as what it says in their own words. An earlier one of theirs gives way to it.

        Raises
        ------
        InvalidValue
            When nothing was written down.
        """
        if reading.strip() and not written.strip():
            raise InvalidValue(
                Sentence("Nothing was kept"),
                Sentence(
                    "“%(words)s” is in your own words, and no line is written down as it stands", words=reading
                ),
                Sentence("Go back, and write the lines down too; [illegible] stands for what can’t be made out"),
            )
        typed = Typed(accession, Field.TRANSCRIPTION, written)
        meant = meant_of(self.prints.understanding, typed)
        if reading.strip():
            meant = evolve(meant, claims=tuple(evolve(one, value=reading.strip()) for one in meant.claims))
        return self.prints.keep(meant)

    def blank(self, accession: str) -> SaidDone:
        """Keeps that nothing is written on a back, unless it is said already; taken back by undo.

        Raises
        ------
        NotFound
            When there is no such print, or it has no back.
        """
        self.asked(accession)
        said = Statement("", About.PRINT, accession, Says.BLANK, "back", "back", Sure.CERTAIN, AT_THE_DESK, "")
        what = Sentence("said that nothing is written on the back of %(print)s", print=accession)
        with self.collection.catalogue.act(AT_THE_DESK, what) as act, act.work() as work:
            if not self._is_said_blank(accession):
                say_all(self.collection.catalogue, work, [said])
            work.commit()
        return self.prints.sitting.kept(SaidDone(act.number, accession))

    def _is_said_blank(self, accession: str) -> bool:
        return any(one.says is Says.BLANK for one in self.collection.catalogue.statements(subject=accession))

    # -- reading in the background -----------------------------------------------------------------------------

    def unread(self) -> int:
        """How many sides no machine has read yet, or only an older edition."""
        return self.collection.catalogue.unread_count(READ, SIDES)

    def read(self) -> None:
        """Begins to read what is unread, beside all else; `at` tells how far it is, `trouble` why it ended."""
        with self._beginning:
            if self.at is not None:
                return
            self.at, self.trouble = Progress(marked("Reading what is written"), "", 0, None), ""
            self._stopped.clear()
        threading.Thread(target=self._read, name="reads backs", daemon=True).start()

    def stop(self) -> None:
        """Ends it after what is read now; it goes on from there another time."""
        self._stopped.set()

    def _read(self) -> None:
        try:
            with self.executor() as executor:
                done = read_collection(
                    self.collection,
                    who=self.who or by_models(hand=hand_folder(self.collection)),
                    executor=executor,
                    watch=self._watch,
                    stopped=self._stopped.is_set,
                )
            turn_by_writing(self.collection)
            ask_inscriptions(self.collection)
            self.trouble = " ".join(done.set_aside[:1])
        except Trouble as trouble:
            self.trouble = trouble.sentence
        except Exception as fault:  # of ours: it is told, and what was read is kept
            why = f"{type(fault).__name__}: {fault}"
            self.trouble = Trouble(Sentence("Something went wrong in Solander"), why).sentence
        finally:
            self.at = None

    def _watch(self, progress: Progress) -> None:
        self.at = progress


def _after(waiting: list[str], accession: str) -> str:
    """The one after it, else the first; empty where no other waits."""
    others = [one for one in waiting if one != accession]
    if not others:
        return ""
    place = waiting.index(accession) if accession in waiting else 0
    return others[place % len(others)]
