"""Takes files in: kept first, then prepared, numbered, paired; what is not sure becomes a question."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path

from attrs import define, evolve, field

from solander.catalogue.store import Act
from solander.catalogue.work import Work
from solander.core.errors import CannotBegin, Trouble
from solander.core.prints import Container, Print, Side, View
from solander.core.questions import Asks
from solander.engine.local import Executor, SerialExecutor
from solander.imaging.decode import Unreadable, probe
from solander.intake.arrivals import Arrival
from solander.intake.folder import arrivals_from
from solander.intake.sides import Placed, SidesRule, assign_sides, sides_by_rows
from solander.intake.slips import SlipFile, read_slips
from solander.tasks.album import numbered_pages
from solander.tasks.ask import ask, settle
from solander.tasks.collection import Collection, Progress, Watch, unwatched
from solander.tasks.compare import ask_about_duplicates
from solander.tasks.describe import apply_slips, containers_by_file
from solander.tasks.enter_print import ask_about_view, enter_print
from solander.tasks.faces import face_model
from solander.tasks.lens import KnownLenses
from solander.tasks.look_for_faces import look_at_new_prints
from solander.tasks.prepare import Job, Prepared, prepare, set_aside
from solander.tasks.put_in_order import ask_about_contradictions
from solander.tasks.stand import Stage, capture_of, keep_stage
from solander.tasks.standing import keep_all
from solander.tasks.upright import turn_as_neighbours

__all__ = ["Accessioned", "accession"]


@define
class Accessioned:
    """What a take-in did; file names as they arrived, accession numbers of new prints."""

    arrived: int = 0
    captures: list[str] = field(factory=list)
    known: list[str] = field(factory=list)
    set_aside: list[str] = field(factory=list)
    prints: list[str] = field(factory=list)
    backs: list[str] = field(factory=list)
    slip_notes: tuple[str, ...] = ()
    stage_said: str = ""
    faces_said: str = ""


def accession(
    collection: Collection,
    paths: Sequence[Path],
    *,
    container: str | None = None,
    sides: SidesRule = "by-name",
    slips: Path | None = None,
    stage: Path | None = None,
    pages: bool = False,
    executor: Executor | None = None,
    watch: Watch = unwatched,
    who: str = "archivist",
) -> Accessioned:
    """Takes files and folders into the collection.

    Every capture is kept and catalogued on its own, so that stopping at any moment leaves a consistent
    collection; running again goes on where it stopped. One bad file is set aside and the rest goes on. `stage` is
    a picture of the stage from before the sitting, empty or with the stage sheet on it; it is kept as a capture
    without a print. With `pages` every file is a page of the album `container`, and the prints on it are of it.

    Raises
    ------
    CannotBegin
        When a path is missing, the stage's picture can't be read, the collection can't be written, or pages come
        without an album or with backs.
    """
    slip_file = read_slips(slips) if slips else None
    arrivals = list(arrivals_from(paths))
    of_files = containers_by_file(slip_file)
    if pages:
        sides, of_files = _refuse_backs(sides), numbered_pages(collection, container, arrivals) | of_files
    collection.vault.sweep()
    named = ", ".join(path.name for path in paths)
    with collection.catalogue.act(who, f"took in {named}") as act:
        stage_seen = keep_stage(collection, act, stage) if stage else None
        placed = _placed(collection, [arrival.name for arrival in arrivals], sides, slip_file)
        report = Accessioned(len(arrivals))
        sitting = _Sitting(collection, act, placed, container, of_files, report, stage_seen, pages)
        sitting.report.stage_said = stage_seen.said if stage_seen else ""
        jobs = sitting.keep(fronts_first(arrivals, placed))
        executor = executor or SerialExecutor()
        for done, (job, outcome) in enumerate(executor.map(prepare, jobs), start=1):
            sitting.record(job, outcome)
            watch(Progress("Taking in", job.name, done + sitting.skipped, len(arrivals)))
        sitting.log_twins()
        turn_as_neighbours(collection, act, sitting.prints(), executor=executor, watch=watch)
        report.faces_said = look_at_new_prints(collection, act, executor=executor, watch=watch)
        ask_about_duplicates(collection, act, sitting.prints())
        if slips and slip_file:
            sitting.report.slip_notes = apply_slips(
                collection, act, slip_file, name=slips.name, arrived=sitting.arrived
            )
        ask_about_contradictions(collection, act)
    if act.number is not None:
        watch(Progress("Putting in order", "all prints", 0, None))
        keep_all(collection)
    return sitting.report


def _refuse_backs(sides: SidesRule) -> SidesRule:
    """Pages that are called 12a and 12b are two pages, never a front and its back."""
    if sides == "alternate":
        raise CannotBegin("No page was taken in", "pages of an album have no backs", "Leave out --sides alternate")
    return "recto"


def _placed(
    collection: Collection, names: list[str], rule: SidesRule, slips: SlipFile | None
) -> dict[str, Placed]:
    """Side and partner of each name; what the slip file says of a side goes before its name."""
    placed = _placed_by(collection, names, rule)
    rows = [(row.file.partition("#")[0], row.side) for row in slips.rows if row.file] if slips else []
    for name, told in sides_by_rows(row for row in rows if row[0] in placed).items():
        alone = told.partner is None or placed[name].partner
        placed[name] = evolve(placed[name], side=told.side) if alone else told
    return placed


def _placed_by(collection: Collection, names: list[str], rule: SidesRule) -> dict[str, Placed]:
    """Side and partner of each name; by name, a side that is alone may find its partner among earlier arrivals."""
    now = assign_sides(names, rule)
    if rule != "by-name" or all(place.partner for place in now.values()):
        return now
    earlier = [capture.name for capture in collection.catalogue.captures() if capture.name not in now]
    ever = assign_sides([*names, *earlier], rule)
    return {name: place if place.partner else ever[name] for name, place in now.items()}


def fronts_first(arrivals: Sequence[Arrival], placed: dict[str, Placed]) -> list[Arrival]:
    """The arrivals in their order, but each back or detail after its front, whatever the names sort like."""
    by_name = {arrival.name: arrival for arrival in arrivals}
    partners = {name: place.partner for name, place in placed.items() if place.partner in by_name}
    ordered: dict[str, Arrival] = {}

    def rank(name: str) -> tuple[int, bool]:
        return list(Side).index(placed[name].side), name in partners

    for arrival in arrivals:
        pair = [arrival.name, *filter(None, [partners.get(arrival.name)])]
        for name in sorted(pair, key=rank):
            ordered.setdefault(name, by_name[name])
    return list(ordered.values())


@define
class _Sitting:
    """One take-in under way: the only writer of the catalogue while it lasts."""

    collection: Collection
    act: Act
    placed: Mapping[str, Placed]
    container: str | None
    container_of: dict[str, str]
    report: Accessioned
    stage: Stage | None = None
    pages: bool = False
    _face_model: Path | None = field(factory=face_model, init=False)
    _lenses: KnownLenses = field(init=False)
    _in_flight: set[str] = field(factory=set)
    _twins: list[tuple[str, str]] = field(factory=list)
    _known_prints: list[str] = field(factory=list)
    arrived: dict[str, str] = field(factory=dict)

    @_lenses.default
    def _of_earlier_captures(self) -> KnownLenses:
        return KnownLenses(self.collection)

    @property
    def skipped(self) -> int:
        """Arrivals that needed no preparing."""
        return len(self.report.known) + len(self.report.set_aside)

    def keep(self, arrivals: Sequence[Arrival]) -> Iterator[Job]:
        """Puts each arrival into the vault and gives a job for each capture that is new."""
        for arrival in arrivals:
            try:
                job = self._kept(arrival, self.placed[arrival.name].side)
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

    def _kept(self, arrival: Arrival, side: Side) -> Job | None:
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
        # person took them out.
        prints = self.collection.catalogue.prints_of_capture(kept.sha256)
        if prints or self.collection.catalogue.is_emptied(kept.sha256):
            self.report.known.append(arrival.name)
            self._known_prints += [print_.accession for print_ in prints]
            self._log_arrival(arrival.name, kept.sha256)
            return None
        self._in_flight.add(kept.sha256)
        root, lens = self.collection.views_root, self._lenses.of(facts)
        return Job(
            kept.path, arrival.name, kept.sha256, side, root, self._face_model, self.stage, lens, self.pages
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
