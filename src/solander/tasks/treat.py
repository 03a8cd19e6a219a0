"""Gives prints their treatment, changes it, switches steps off and on, withdraws it: one act, one sentence each.

No pixel is touched here: what is entered are lists of steps. Pictures follow when they are looked at.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import Any

from attrs import evolve, field, frozen

from solander.catalogue.work import Work
from solander.core.errors import NotFound, Trouble
from solander.core.prints import Print, View
from solander.core.sentence import Counted, Joined, Sentence
from solander.core.treatments import UNTREATED, Step, Treatment
from solander.look.words import side_of
from solander.tasks.collection import Collection, Progress, Watch, unwatched
from solander.tasks.measured_step import Place, faces_in, grid_in, measured_step
from solander.tasks.pictures_named import NAMED
from solander.tasks.step_with_picture import step_with_picture
from solander.tasks.treated import untreated_pixels

__all__ = [
    "Refused",
    "Treated",
    "Wish",
    "give",
    "give_each",
    "prints_in",
    "set_treatment",
    "switch",
    "wishes_of",
    "withdraw",
]


@frozen
class Wish:
    """A step that is wanted of prints: with these parameters, or where they are None with what each view tells by
    itself, from a picked `place` where there is one, by the `amount` that a person chose."""

    name: str
    parameters: Mapping[str, Any] | None = None
    place: Place | None = None
    amount: Mapping[str, Any] = field(factory=dict)


@frozen
class Refused:
    """A print that was left as it was, and why."""

    accession: str
    why: str


@frozen
class Treated:
    """What was done: the act's number (None where nothing changed), the prints, those left as they were."""

    act: int | None
    prints: tuple[str, ...]
    refused: tuple[Refused, ...] = ()


@frozen
class _Changed:
    accession: str
    view: View
    treatment: Treatment


_ALIKE = ("density", "tone curve", "detail", "output")
_BY_EACH = ("texture", "yellowing", "neutral", "crop")
_AMOUNTS = ("strength", "share")


def wishes_of(treatment: Treatment) -> list[Wish]:
    """What of a treatment can be given to other prints: steps of tone as they are, and those that each print tells
    by itself, as much of it. Marks, picked places, boxes set by hand, corners, turns are of one print alone."""
    wishes = []
    for step in treatment.applied:
        if step.name in _ALIKE:
            wishes.append(Wish(step.name, step.parameters))
        elif step.name in _BY_EACH and not step.parameters.get("place") and _is_measured_box(step):
            amount = {name: value for name, value in step.parameters.items() if name in _AMOUNTS}
            wishes.append(Wish(step.name, amount=amount))
    return wishes


def _is_measured_box(step: Step) -> bool:
    return step.name != "crop" or step.parameters.get("to") == "picture"


def prints_in(
    collection: Collection, accessions: Sequence[str] = (), containers: Sequence[str] = ()
) -> list[Print]:
    """The prints of these numbers and those in these containers, nested ones too; all where neither is named.

    Raises
    ------
    NotFound
        When there is no print of a number, or no container of a code.
    """
    catalogue = collection.catalogue
    for code in containers:
        if catalogue.container(code) is None:
            raise NotFound(Sentence("There is no container %(code)s", code=code))
    named = [catalogue.print(one) for one in accessions]
    if named and not containers:
        return named
    inside = [one for one in catalogue.prints() if not containers or _is_in(one.container, containers)]
    return list({one.accession: one for one in (*named, *inside)}.values())


def _is_in(container: str | None, codes: Iterable[str]) -> bool:
    return any(container == code or (container or "").startswith(f"{code}/") for code in codes)


def set_treatment(collection: Collection, key: str, treatment: Treatment, *, who: str = "archivist") -> Treated:
    """Gives a view exactly that treatment, as a person left the list.

    Raises
    ------
    NotFound
        When no view in use has that key.
    """
    return give_each(collection, {key: treatment}, who=who)


def give_each(
    collection: Collection,
    each: Mapping[str, Treatment],
    *,
    who: str = "archivist",
    settles: Sequence[str] = (),
) -> Treated:
    """Gives each view of these keys the treatment beside it, all in one act; settles the questions of those keys.

    Raises
    ------
    NotFound
        When no view in use has one of the keys.
    """
    views = [(*collection.catalogue.view(key), treatment) for key, treatment in each.items()]
    return _enter(collection, [_Changed(*one) for one in views], who=who, settles=settles)


def give(
    collection: Collection,
    prints: Sequence[Print],
    wishes: Sequence[Wish],
    *,
    who: str = "archivist",
    watch: Watch = unwatched,
) -> Treated:
    """Gives the fronts of these prints the steps that are wanted; a print of which the view does not tell one, or
    which can't have it beside its others, stays as it was and is told."""
    changed, refused = [], []
    for count, print_ in enumerate(prints):
        watch(Progress("Treating", print_.accession, count, len(prints)))
        view = print_.recto
        if view is None:
            refused.append(Refused(print_.accession, Sentence("it has no front yet")))
            continue
        try:
            changed.append(_Changed(print_.accession, view, _with(collection, view, wishes, who)))
        except Trouble as trouble:
            refused.append(Refused(print_.accession, trouble.why or trouble.what))
    same, others = _unchanged_since(collection, changed)
    return evolve(_enter(collection, same, who=who), refused=(*refused, *others))


def _unchanged_since(collection: Collection, changed: Iterable[_Changed]) -> tuple[list[_Changed], list[Refused]]:
    """Those whose view is in use and treated as it was when it was looked at, and the others: measuring takes
    long, and what somebody else does meanwhile is not overwritten."""
    same, others = [], []
    for one in changed:
        try:
            is_same = collection.catalogue.view(one.view.key)[1].treatment == one.view.treatment
        except NotFound:
            is_same = False
        if is_same:
            same.append(one)
        else:
            others.append(Refused(one.accession, Sentence("somebody else changed it meanwhile")))
    return same, others


def _with(collection: Collection, view: View, wishes: Iterable[Wish], who: str) -> Treatment:
    treatment = view.treatment
    for wish in wishes:
        treatment = treatment.with_step(_step(collection, view, wish, who))
    return treatment


def _step(collection: Collection, view: View, wish: Wish, who: str) -> Step:
    if wish.parameters is not None:
        return Step(wish.name, wish.parameters, who=who)
    if wish.name in NAMED:
        return step_with_picture(collection, view, wish.name, who=who)
    pixels = untreated_pixels(collection, view)
    faces, grid = faces_in(collection, view), grid_in(view)
    step = measured_step(pixels, wish.name, place=wish.place, faces=faces, grid=grid, who=who)
    return evolve(step, parameters={**step.parameters, **wish.amount})


def switch(
    collection: Collection, prints: Sequence[Print], name: str, *, on: bool, who: str = "archivist"
) -> Treated:
    """Switches the step of that kind off or on again wherever one of these prints has it."""
    return _change_all(collection, prints, lambda treatment: treatment.switched(name, on=on), who=who)


def withdraw(
    collection: Collection, prints: Sequence[Print], name: str = "", *, who: str = "archivist"
) -> Treated:
    """Takes the step of that kind away from these prints, or their whole treatment where none is named."""
    return _change_all(
        collection, prints, lambda treatment: treatment.without(name) if name else UNTREATED, who=who
    )


def _change_all(
    collection: Collection, prints: Sequence[Print], change: Callable[[Treatment], Treatment], *, who: str
) -> Treated:
    changed, refused = [], []
    for accession, view in ((one.accession, view) for one in prints for view in one.views if view.treatment.steps):
        try:
            changed.append(_Changed(accession, view, change(view.treatment)))
        except Trouble as trouble:
            refused.append(Refused(accession, trouble.why or trouble.what))
    return evolve(_enter(collection, changed, who=who), refused=tuple(refused))


def _enter(
    collection: Collection, changed: Sequence[_Changed], *, who: str, settles: Sequence[str] = ()
) -> Treated:
    new = [one for one in changed if one.treatment != one.view.treatment]
    if not new and not settles:
        return Treated(None, ())
    with collection.catalogue.act(who, _sentence(new or changed)) as act, act.work() as work:
        for one in new:
            work.set_treatment(one.view.key, one.treatment)
        _settle(work, settles)
        work.commit()
    return Treated(act.number, tuple(one.accession for one in new))


def _settle(work: Work, keys: Iterable[str]) -> None:
    for key in keys:
        work.settle(key)


def _sentence(changed: Sequence[_Changed]) -> str:
    """What was done, in words: of one print what its list says now, of several what all of them have in common."""
    whose = (
        side_of(changed[0].view.side, changed[0].accession)
        if len(changed) == 1
        else Counted("%(num)s print", "%(num)s prints", len(changed))
    )
    if not any(one.treatment.steps for one in changed):
        return Sentence("withdrew the treatment of %(prints)s", prints=whose)
    told = _told_of_all(changed)
    if not told:
        return Sentence("treated %(prints)s", prints=whose)
    return Sentence("treated %(prints)s: %(steps)s", prints=whose, steps=Joined(told, "; "))


def _told_of_all(changed: Sequence[_Changed]) -> list[str]:
    """Sentences of the steps that all of them got or lost alike."""
    every = [dict(_news(one.view.treatment, one.treatment)) for one in changed]
    return [told for key, told in every[0].items() if all(key in other for other in every[1:])]


def _news(before: Treatment, after: Treatment) -> Iterable[tuple[tuple[str, str], str]]:
    """What differs, a step at a time: by its kind and what happened to it, with the sentence of it."""
    for step in after:
        old = before.step(step.name)
        if old is None or (old.on, old.parameters) != (step.on, step.parameters):
            yield (
                (step.name, step.told if step.on else "off"),
                (step.told if step.on else Sentence("“%(step)s” switched off", step=step.told)),
            )
    for step in before:
        if after.step(step.name) is None:
            yield (step.name, "gone"), Sentence("“%(step)s” withdrawn", step=step.told)
