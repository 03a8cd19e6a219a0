"""Takes files in: kept first, then prepared, numbered, paired; what is not sure becomes a question."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from attrs import evolve

from solander.core.errors import CannotBegin
from solander.core.prints import Side
from solander.core.sentence import Sentence
from solander.engine.local import Executor, SerialExecutor
from solander.intake.arrivals import Arrival
from solander.intake.folder import arrivals_from
from solander.intake.shots import raw_beside
from solander.intake.sides import Placed, SidesRule, assign_sides, sides_by_rows
from solander.intake.slips import SlipFile, read_slips
from solander.tasks.album import numbered_pages
from solander.tasks.collection import Collection, Progress, Watch, unwatched
from solander.tasks.describe import apply_slips, containers_by_file
from solander.tasks.duplicates import ask_about_duplicates
from solander.tasks.look_for_faces import look_at_new_prints
from solander.tasks.one_shot import beside_of, mains_first
from solander.tasks.prepare import prepare
from solander.tasks.put_in_order import ask_about_contradictions
from solander.tasks.stand import keep_stage
from solander.tasks.standing import keep_all
from solander.tasks.taking_in import Accessioned, TakingIn
from solander.tasks.upright import turn_as_neighbours

__all__ = ["Accessioned", "accession"]


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
    with collection.catalogue.act(who, Sentence("took in %(files)s", files=named)) as act:
        stage_seen = keep_stage(collection, act, stage) if stage else None
        beside = beside_of(collection, arrivals)
        mains = [arrival for arrival in arrivals if arrival.name not in beside]
        placed = placed_of(collection, [main.name for main in mains], sides, slip_file)
        ordered = mains_first(arrivals, fronts_first(mains, placed), beside)
        placed |= {name: placed[main] for name, main in beside.items() if main in placed}
        report = Accessioned(len(arrivals))
        sitting = TakingIn(collection, act, placed, container, of_files, report, stage_seen, pages, beside)
        sitting.report.stage_said = stage_seen.said if stage_seen else ""
        executor = executor or SerialExecutor()
        done = 0
        for jobs in (sitting.keep(ordered), sitting.keep_instead()):
            for job, outcome in executor.map(prepare, jobs):
                done += 1
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
        raise CannotBegin(
            Sentence("No page was taken in"),
            Sentence("pages of an album have no backs"),
            Sentence("Leave out --sides alternate"),
        )
    return "recto"


def placed_of(
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
    kept = [capture.name for capture in collection.catalogue.captures() if capture.name not in now]
    second = raw_beside([*names, *kept])
    earlier = [name for name in kept if name not in second]
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
