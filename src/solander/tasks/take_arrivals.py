"""Takes pictures in one by one as they arrive: from a watched folder, a scanner, a camera on a cable.

Each is an act of its own and safe before the next is looked at. What needs a view of many prints (which way is up
by the neighbours, who looks like whom, what can't all be true) is done once, at the end.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path, PurePosixPath
from types import TracebackType
from typing import Self

from attrs import define, field, frozen

from solander.core.errors import CannotBegin, Trouble
from solander.core.prints import Side, View
from solander.core.sentence import Sentence
from solander.engine.local import SerialExecutor
from solander.intake.arrivals import Arrival
from solander.intake.shots import is_raw_name, shot_of
from solander.intake.sides import Placed, SidesRule, assign_sides
from solander.tasks.collection import Collection, unwatched
from solander.tasks.duplicates import ask_about_duplicates
from solander.tasks.incoming import lay_apart
from solander.tasks.lens import KnownLenses
from solander.tasks.look_for_faces import look_at_new_prints
from solander.tasks.prepare import Job, Prepared, prepare
from solander.tasks.put_in_order import ask_about_contradictions
from solander.tasks.stand import Stage, keep_stage
from solander.tasks.stand_faults import faults_told
from solander.tasks.taking_in import Accessioned, TakingIn
from solander.tasks.upright import turn_as_neighbours

__all__ = ["TakenIn", "TakingArrivals"]


@frozen
class TakenIn:
    """What became of an arrival: the accession numbers of its prints, the side that it shows, the faults that are
    told of it, finished sentences; or that it was `known`, lies `beside` another file of the same shot, or why it
    was `set_aside`."""

    name: str
    accessions: Sequence[str] = ()
    side: Side = Side.RECTO
    faults: Sequence[str] = ()
    known: bool = False
    beside: str = ""
    set_aside: str = ""


@define
class TakingArrivals:
    """Takes arrivals in, a context manager; when it is left, what came is looked over as a whole.

    `sides` "alternate" counts what arrives: a front, its back, a front. By name, a back may come long after its
    front. A raw file and a JPEG of the same name are one picture: the first of them that can be read is what the
    print is cut from, and the sources give the raw file first.
    """

    collection: Collection
    container: str | None = None
    sides: SidesRule = "by-name"
    stage_picture: Path | None = None
    who: str = "archivist"
    prints: list[str] = field(factory=list, init=False)
    known: int = field(default=0, init=False)
    _stage: Stage | None = field(default=None, init=False)
    _lenses: KnownLenses = field(init=False)
    _names: list[str] = field(init=False)
    _arrived: dict[str, str] = field(factory=dict, init=False)
    _shots: dict[str, str] = field(factory=dict, init=False)
    _front: str = field(default="", init=False)

    @_lenses.default
    def _of_earlier_captures(self) -> KnownLenses:
        return KnownLenses(self.collection)

    @_names.default
    def _of_earlier_arrivals(self) -> list[str]:
        return [capture.name for capture in self.collection.catalogue.captures()]

    def __enter__(self) -> Self:
        """Looks at the picture of the stage, where there is one.

        Raises
        ------
        CannotBegin
            When it can't be read.
        """
        self.collection.vault.sweep()
        if self.stage_picture is not None:
            what = Sentence("took in the picture of the stage, %(name)s", name=self.stage_picture.name)
            with self.collection.catalogue.act(self.who, what) as act:
                self._stage = keep_stage(self.collection, act, self.stage_picture)
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        if self.prints:
            with self.collection.catalogue.act(self.who, Sentence("looked over what had arrived")) as act:
                executor = SerialExecutor()
                turn_as_neighbours(self.collection, act, self.prints, executor=executor, watch=unwatched)
                look_at_new_prints(self.collection, act, executor=executor, watch=unwatched)
                ask_about_duplicates(self.collection, act, self.prints)
                ask_about_contradictions(self.collection, act)

    @property
    def stage_said(self) -> str:
        """What was seen in the picture of the stage."""
        return self._stage.said if self._stage else ""

    def take(self, arrival: Arrival) -> TakenIn:
        """Takes one in; one that can't be read is set aside with a question.

        Raises
        ------
        CannotBegin
            When nothing more can be kept: the disk is full or was taken away.
        """
        other = self._other_of_shot(arrival.name)
        with self.collection.catalogue.act(self.who, Sentence("took in %(name)s", name=arrival.name)) as act:
            placed = self._placed(arrival.name)
            taking = TakingIn(
                self.collection,
                act,
                {arrival.name: placed},
                self.container,
                {},
                Accessioned(1),
                self._stage,
                beside_of={arrival.name: other} if other else {},
                lenses=self._lenses,
                arrived=self._arrived,
            )
            for job in taking.keep([arrival]):
                taking.record(job, _outcome(job))
        taken = self._taken(arrival, taking, placed, other)
        self._put_away(arrival, taken)
        return taken

    def _taken(self, arrival: Arrival, taking: TakingIn, placed: Placed, other: str) -> TakenIn:
        report, name = taking.report, arrival.name
        if report.set_aside:
            return TakenIn(name, set_aside=report.set_aside[0])
        self._shots.setdefault(shot_of(name), name)
        if report.beside:
            return TakenIn(name, beside=other)
        self._names.append(name)
        self._front = name if placed.side is Side.RECTO else ""
        views = dict(self._views(name))
        if report.known:
            self.known += 1
        else:
            self.prints += [accession for accession in views if accession not in self.prints]
        faults = [fault.words for view in views.values() for fault in faults_told(view)]
        return TakenIn(name, tuple(views), placed.side, tuple(dict.fromkeys(faults)), known=bool(report.known))

    def _views(self, name: str) -> Iterator[tuple[str, View]]:
        """The views that were cut from an arrival, with their prints."""
        sha256 = self._arrived[name]
        yield from self.collection.catalogue.views_of_capture(sha256)

    def _other_of_shot(self, name: str) -> str:
        """The file of the same shot that prints were cut from; empty where there is none."""
        other = self._shots.get(shot_of(name), "")
        if not other or is_raw_name(other) == is_raw_name(name):
            return ""
        return other if self.collection.catalogue.prints_of_capture(self._arrived[other]) else ""

    def _placed(self, name: str) -> Placed:
        if self.sides == "by-name":
            folder = PurePosixPath(name).parent
            beside = [other for other in self._names if other != name and PurePosixPath(other).parent == folder]
            return assign_sides([name, *beside], self.sides)[name]
        if self.sides == "alternate" and self._front:
            return Placed(Side.VERSO, self._front)
        return Placed(Side.RECTO)

    def _put_away(self, arrival: Arrival, taken: TakenIn) -> None:
        """What was made for this arrival alone goes once it is kept; what can't be read lies apart, not
        deleted."""
        if not arrival.passing:
            return
        if taken.set_aside:
            lay_apart(self.collection, arrival.path)
        else:
            arrival.path.unlink(missing_ok=True)


def _outcome(job: Job) -> Prepared | Trouble:
    try:
        return prepare(job)
    except CannotBegin:
        raise
    except Trouble as trouble:
        return trouble
