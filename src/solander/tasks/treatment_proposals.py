"""Proposals of treatments for the fronts of a collection: measured once a view, asked about, given when accepted.

What was measured is kept beside the view, as something that can be made again; nothing is given unasked. Prints of
a container whose proposals are near each other are answered together, the others one by one.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path
from statistics import median

from attrs import evolve, frozen

from solander.core.errors import InvalidValue, NotFound, Trouble
from solander.core.prints import Print, View
from solander.core.questions import Asks, Question
from solander.core.sentence import Joined, Sentence
from solander.core.treatments import Treatment, read_treatment
from solander.engine.local import Executor, SerialExecutor
from solander.imaging.decode import Unreadable, decode
from solander.tasks.ask import ask, question_key
from solander.tasks.collection import Collection, Progress, Watch, unwatched
from solander.tasks.look_for_faces import picture_of_view
from solander.tasks.measured_step import grid_in
from solander.tasks.prepare import write_whole
from solander.tasks.propose_treatment import propose_treatment
from solander.tasks.treat import Refused, Treated, give_each

__all__ = [
    "Looked",
    "Proposed",
    "accept",
    "alike",
    "look_for_treatments",
    "proposed_for",
    "waiting_proposals",
    "with_proposed",
]

EDITION = 2
"""Of what is measured for a proposal; what an older edition measured is measured again."""

NEAR = 0.05
"""Density between a print's stain and its container's median up to which both are answered together: half of what
one sees at once side by side (our choice)."""


@frozen
class Proposed:
    """What is proposed for a print's front; `asks_neutral` where a place that was a neutral dark tells more."""

    accession: str
    view: View
    treatment: Treatment
    asks_neutral: bool = False


@frozen
class Looked:
    """The prints that something is proposed for, how many were looked at, and those that can't be looked at."""

    proposed: tuple[Proposed, ...]
    looked_at: int
    set_aside: tuple[Refused, ...] = ()


def look_for_treatments(
    collection: Collection,
    prints: Sequence[Print],
    *,
    executor: Executor | None = None,
    watch: Watch = unwatched,
    who: str = "archivist",
) -> Looked:
    """Looks at the fronts of these prints that have no treatment yet, and asks about those that would gain by one.

    What a person answered before is not asked again, and what is no longer proposed does not wait any longer.
    """
    due = [(one.accession, one.recto) for one in prints if one.recto and not one.recto.treatment.steps]
    jobs = [_Job(collection.root, accession, view) for accession, view in due]
    proposed, aside = [], []
    for done, (job, found) in enumerate((executor or SerialExecutor()).map(_look, jobs), start=1):
        watch(Progress("Looking what would gain", job.accession, done, len(jobs)))
        if isinstance(found, Trouble):
            aside.append(Refused(job.accession, found.why or found.what))
        elif found.treatment.steps:
            proposed.append(found)
    same = _untreated_still(collection, jobs)
    proposed = [one for one in proposed if one.accession in same]
    _ask(collection, same - {one.accession for one in aside}, proposed, who)
    return Looked(tuple(proposed), len(jobs), tuple(aside))


def _untreated_still(collection: Collection, jobs: Sequence[_Job]) -> set[str]:
    """The prints of which the front that was looked at is still shown, and still untreated: looking takes long,
    and others go on working."""
    views = {job.accession: job.view.key for job in jobs}
    return {
        one.accession
        for one in collection.catalogue.prints_of(views)
        if one.recto and one.recto.key == views[one.accession] and not one.recto.treatment.steps
    }


def proposed_for(collection: Collection, accession: str) -> Proposed | None:
    """What is proposed for the front of a print, measured now where it was not; None where nothing is.

    Raises
    ------
    Trouble
        When its picture can't be made.
    """
    view = collection.catalogue.print(accession).recto
    found = _look(_Job(collection.root, accession, view)) if view else None
    return found if found and found.treatment.steps else None


def waiting_proposals(collection: Collection) -> list[Question]:
    """The questions about treatments that wait."""
    return [one for one in collection.catalogue.questions() if one.asks is Asks.TREATMENT]


def alike(collection: Collection, question: Question) -> list[Proposed]:
    """The waiting proposals that can be answered together with that one, itself among them: of the same container,
    with the same steps, and near the middle of them. One that is far from it stands alone."""
    own = proposed_for(collection, question.subject)
    if own is None:
        return []
    container = collection.catalogue.print(question.subject).container
    if container is None:
        return [own]  # what lies in no container lies together nowhere
    others = [one for one in _of_container(collection, container) if _kinds(one) == _kinds(own)]
    middle = [median(values) for values in zip(*map(_stain, others), strict=True)]
    near = [one for one in others if all(abs(a - b) <= NEAR for a, b in zip(_stain(one), middle, strict=True))]
    return near if any(one.accession == own.accession for one in near) else [own]


def accept(collection: Collection, proposed: Sequence[Proposed], *, who: str = "archivist") -> Treated:
    """Gives these prints what is proposed for them, beside what they have now, and settles their questions, in one
    act.

    A print whose view is gone, or that can't have it beside its other steps, stays as it is and is told.
    """
    each, numbers, refused = {}, set(), []
    for one in proposed:
        try:
            each[one.view.key] = with_proposed(collection.catalogue.view(one.view.key)[1], one)
            numbers.add(one.accession)
        except Trouble as trouble:
            refused.append(Refused(one.accession, trouble.why or trouble.what))
    keys = [one.key for one in waiting_proposals(collection) if one.subject in numbers]
    return evolve(give_each(collection, each, who=who, settles=keys), refused=tuple(refused))


def with_proposed(view: View, proposed: Proposed) -> Treatment:
    """The treatment of a view with what is proposed beside it.

    Raises
    ------
    InvalidValue
        When the view can't have both.
    """
    treatment = view.treatment
    for step in proposed.treatment:
        treatment = treatment.with_step(step)
    return treatment


def _of_container(collection: Collection, container: str) -> Iterator[Proposed]:
    numbers = {one.subject for one in waiting_proposals(collection)}
    for print_ in collection.catalogue.prints_of(numbers):
        if print_.container == container and print_.recto:
            kept = _kept(collection.views_root, print_.accession, print_.recto)
            if kept and kept.treatment.steps:
                yield kept


def _kinds(one: Proposed) -> tuple[object, ...]:
    return tuple(step.name for step in one.treatment), one.asks_neutral


def _stain(one: Proposed) -> tuple[float, ...]:
    """What is to be taken off each channel; nothing where no step of colour is proposed."""
    told = (step.parameters.get("stain") or step.parameters.get("shift") for step in one.treatment)
    return tuple(next(filter(None, told), (0.0, 0.0, 0.0)))


def _ask(collection: Collection, looked_at: set[str], proposed: Iterable[Proposed], who: str) -> None:
    known = {one.key for one in collection.catalogue.questions(settled=True) if one.asks is Asks.TREATMENT}
    sentences = {
        question_key(Asks.TREATMENT, *one): one for one in ((p.accession, _sentence(p)) for p in proposed)
    }
    new = [one for key, one in sentences.items() if key not in known]
    waiting = [one for one in waiting_proposals(collection) if one.subject in looked_at]
    past = [one.key for one in waiting if one.key not in sentences]
    if not new and not past:
        return
    what = Sentence("looked which prints would gain by a treatment: %(count)s", count=len(new))
    with collection.catalogue.act(who, what) as act, act.work() as work:
        for accession, sentence in new:
            ask(work, Asks.TREATMENT, accession, sentence)
        for key in past:
            work.settle(key)
        work.commit()


def _sentence(one: Proposed) -> Sentence:
    steps = Joined([step.told for step in one.treatment], "; ")
    if one.asks_neutral:
        return Sentence(
            "The colours of %(print)s seem to have faded. Shall it be treated: %(steps)s?",
            print=one.accession,
            steps=steps,
        )
    return Sentence("Shall %(print)s be treated: %(steps)s?", print=one.accession, steps=steps)


@frozen
class _Job:
    """A front of the collection at `root` to look at."""

    root: Path
    accession: str
    view: View

    def __str__(self) -> str:
        return self.accession


def _look(job: _Job) -> Proposed:
    kept = _kept(job.root / "views", job.accession, job.view)
    if kept is not None:
        return kept
    try:
        view = job.view
        picture = decode(picture_of_view(job.root, view))
        found = propose_treatment(picture, grid=grid_in(view), condition=view.condition)
        told = {"edition": EDITION, "asks_neutral": found.asks_neutral, **found.treatment.as_json()}
        path = _path(job.root / "views", job.view)
        path.parent.mkdir(parents=True, exist_ok=True)
        write_whole(path, json.dumps(told, ensure_ascii=False).encode())
    except Unreadable as reason:
        raise Trouble(
            Sentence("%(print)s was not looked at", print=job.accession), reason.why, reason.todo
        ) from reason
    except OSError as error:
        why = (error.strerror or str(error)).lower()
        raise NotFound(Sentence("%(print)s was not looked at", print=job.accession), why) from error
    return Proposed(job.accession, job.view, found.treatment, asks_neutral=found.asks_neutral)


def _path(views_root: Path, view: View) -> Path:
    return views_root / view.key[:2] / f"{view.key}.proposal.json"


def _kept(views_root: Path, accession: str, view: View) -> Proposed | None:
    """What was measured before; None where nothing was, or by an older edition."""
    try:
        told = json.loads(_path(views_root, view).read_text(encoding="utf-8"))
        if told["edition"] != EDITION:
            return None
        return Proposed(accession, view, read_treatment(told), asks_neutral=bool(told["asks_neutral"]))
    except (OSError, ValueError, KeyError, TypeError, InvalidValue):
        return None
