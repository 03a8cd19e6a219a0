"""One take-in under way: what becomes of each file, kept first, then entered whole or not at all."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path

from attrs import define, field

from solander.catalogue.store import Act
from solander.catalogue.work import Work
from solander.core.errors import CannotBegin, Trouble
from solander.core.prints import Container, Print, Side, View
from solander.core.questions import Asks
from solander.imaging.decode import Unreadable, probe
from solander.intake.arrivals import Arrival
from solander.intake.sides import Placed
from solander.tasks.ask import ask, settle
from solander.tasks.collection import Collection
from solander.tasks.enter_print import ask_about_view, enter_print
from solander.tasks.faces import face_model
from solander.tasks.lens import KnownLenses
from solander.tasks.one_shot import beside_key, keep_beside
from solander.tasks.prepare import Job, Prepared, set_aside
from solander.tasks.stand import Stage, capture_of
from solander.tasks.stand_light import kept_profile

__all__ = ["Accessioned", "TakingIn"]


@define
class Accessioned:
    """What a take-in did; file names as they arrived, accession numbers of new prints."""

    arrived: int = 0
    captures: list[str] = field(factory=list)
    known: list[str] = field(factory=list)
    set_aside: list[str] = field(factory=list)
    prints: list[str] = field(factory=list)
    backs: list[str] = field(factory=list)
    beside: list[str] = field(factory=list)
    slip_notes: tuple[str, ...] = ()
    stage_said: str = ""
    faces_said: str = ""


@define
class TakingIn:
    """One take-in under way: the only writer of the catalogue while it lasts.

    `beside_of` names for a file the other one of the same shot that the prints are cut from (`tasks.one_shot`); of
    the two that one comes first. Both are kept.
    """

    collection: Collection
    act: Act
    placed: Mapping[str, Placed]
    container: str | None
    container_of: dict[str, str]
    report: Accessioned
    stage: Stage | None = None
    pages: bool = False
    beside_of: Mapping[str, str] = field(factory=dict)
    lenses: KnownLenses = field()
    arrived: dict[str, str] = field(factory=dict)
    _face_model: Path | None = field(factory=face_model, init=False)
    _in_flight: set[str] = field(factory=set)
    _twins: list[tuple[str, str]] = field(factory=list)
    _known_prints: list[str] = field(factory=list)
    _beside: dict[str, Arrival] = field(factory=dict)
    _instead: list[Arrival] = field(factory=list)

    @lenses.default
    def _of_earlier_captures(self) -> KnownLenses:
        return KnownLenses(self.collection)

    @property
    def skipped(self) -> int:
        """Arrivals that needed no preparing."""
        return len(self.report.known) + len(self.report.set_aside) + len(self.report.beside)

    def keep(self, arrivals: Sequence[Arrival]) -> Iterator[Job]:
        """Puts each arrival into the vault and gives a job for each capture that is new."""
        for arrival in arrivals:
            try:
                other = self.arrived.get(self.beside_of.get(arrival.name, ""))
                job = None
                if other is not None:
                    self._keep_beside(arrival, other)
                else:
                    job = self._kept(arrival)
            except Unreadable as reason:
                self._set_aside(arrival.name, set_aside(arrival.name, reason))
            except CannotBegin:
                # A full or read-only disk is no fault of the file: going on would set every one aside.
                raise
            except Trouble as trouble:
                self._set_aside(arrival.name, trouble)
            else:
                if job is not None:
                    yield job

    def keep_instead(self) -> Iterator[Job]:
        """Jobs for what was kept beside a raw file that could not be developed."""
        self.beside_of = {}
        self.report.beside = [
            name for name in self.report.beside if name not in {one.name for one in self._instead}
        ]
        yield from self.keep(self._instead)

    def _keep_beside(self, arrival: Arrival, other: str) -> None:
        """Keeps another file of the shot whose capture is `other`; the prints are those of that one."""
        keep_beside(self.collection, self.act, arrival, other)
        self.arrived[arrival.name] = other
        self._beside.setdefault(other, arrival)
        self.report.beside.append(arrival.name)

    def _kept(self, arrival: Arrival) -> Job | None:
        facts = probe(arrival.path)
        kept = self.collection.vault.put(arrival.path, suffix=facts.suffix)
        self.arrived[arrival.name] = kept.sha256
        if self.stage and kept.sha256 == self.stage.sha256:
            self.report.known.append(arrival.name)
            return None
        if kept.sha256 in self._in_flight:
            self.report.known.append(arrival.name)
            self._twins.append((arrival.name, kept.sha256))
            return None
        # A capture without a print is known, but its take-in was taken back: its prints are made again; unless a
        # person took them out, or it lies beside another of the same shot.
        prints = self._prints_of(kept.sha256)
        if prints or self.collection.catalogue.is_emptied(kept.sha256):
            self.report.known.append(arrival.name)
            self._known_prints += [print_.accession for print_ in prints]
            self._log_arrival(arrival.name, kept.sha256)
            return None
        self._in_flight.add(kept.sha256)
        root, lens, side = self.collection.views_root, self.lenses.of(facts), self.placed[arrival.name].side
        return Job(
            kept.path, arrival.name, kept.sha256, side, root, self._face_model, self.stage, lens, self.pages,
            kept_profile(self.collection) if self.stage else None,
        )  # fmt: skip

    def _prints_of(self, sha256: str) -> list[Print]:
        catalogue = self.collection.catalogue
        return catalogue.prints_of_capture(sha256) or catalogue.prints_of_capture(
            catalogue.setting(beside_key(sha256))
        )

    def log_twins(self) -> None:
        """Enters the names of files whose bytes arrived twice, once their capture is in the catalogue."""
        for name, sha256 in self._twins:
            if self.collection.catalogue.capture(sha256) is not None:
                self._log_arrival(name, sha256)

    def prints(self) -> list[str]:
        """All prints that came from these files, also those of an earlier take-in that was interrupted."""
        return [*self.report.prints, *self._known_prints]

    def _log_arrival(self, name: str, sha256: str) -> None:
        with self.act.work() as work:
            work.keep_arrival(name, sha256)
            work.commit()

    def _set_aside(self, name: str, trouble: Trouble) -> None:
        self.report.set_aside.append(trouble.sentence)
        with self.act.work() as work:
            ask(work, Asks.SET_ASIDE, name, trouble.sentence)
            work.commit()

    def record(self, job: Job, outcome: Prepared | Trouble) -> None:
        """Writes one prepared capture into the catalogue, whole or not at all."""
        if isinstance(outcome, CannotBegin):
            raise outcome
        if isinstance(outcome, Trouble):
            if self.collection.catalogue.capture(job.sha256) is None:
                self.collection.vault.set_aside(job.sha256)
            self._set_aside(job.name, outcome)
            self._instead += filter(None, [self._beside.pop(job.sha256, None)])
            return
        with self.act.work() as work:
            work.keep_capture(capture_of(job.path, job.name, job.sha256, outcome.facts))
            work.keep_arrival(job.name, job.sha256)
            container = self.container_of.get(job.name, self.container)
            if self.pages and container:
                work.add_container(Container(container, captures=(job.sha256,)))
            self._record_views(work, outcome.views, self.placed[job.name], container)
            work.commit()
        self.report.captures.append(job.name)

    def _record_views(self, work: Work, views: Sequence[View], placed: Placed, container: str | None) -> None:
        other = self._other_side(placed, container)
        for view in views:
            if other is not None and (len(views) == 1 or view.side is Side.DETAIL):
                self._join(work, other, view)
                accession = other.accession
            else:
                accession = self._add_print(work, view, container)
            ask_about_view(work, accession, view)

    def _join(self, work: Work, print_: Print, view: View) -> None:
        work.add_view(print_.accession, view)
        self.report.backs.append(print_.accession)
        if view.side is Side.RECTO:
            settle(self.collection, work, Asks.PAIR, print_.accession)

    def _other_side(self, placed: Placed, container: str | None) -> Print | None:
        """The print that the partner file gave, when it is one print and lacks this side; of details it may have
        several."""
        if placed.partner is None:
            return None
        now = self.arrived.get(placed.partner)
        prints = {
            print_.accession: print_
            for sha256 in ([now] if now else self.collection.catalogue.arrived_as(placed.partner))
            for print_ in self.collection.catalogue.prints_of_capture(sha256)
        }
        # Names repeat from box to box: an earlier arrival is its partner only within the same container.
        fitting = [print_ for print_ in prints.values() if now or print_.container == container]
        if placed.side is not Side.DETAIL:
            fitting = [print_ for print_ in fitting if print_.view(placed.side) is None]
        return fitting[0] if len(fitting) == 1 else None

    def _add_print(self, work: Work, view: View, container: str | None) -> str:
        accession = enter_print(work, view, container)
        self.report.prints.append(accession)
        return accession
