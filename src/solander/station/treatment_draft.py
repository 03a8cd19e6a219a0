"""A treatment as it is being changed on its page: what is in the fields, with what the view tells by itself."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from functools import partial

from attrs import define, evolve, field, frozen

from solander.core.errors import Trouble
from solander.core.sentence import Sentence
from solander.core.treatment_steps import KINDS
from solander.core.treatments import UNTREATED, Step, Treatment
from solander.station.treatment_fields import place_in, read_step, slug
from solander.tasks.treatment_desk import TreatmentDesk

__all__ = ["PICKED", "Draft", "Stroke", "draft_of", "marks_listed"]

Stroke = tuple[float, ...]
"""x, y, x, y, width of a mark, shares of the view."""

PICKED = "@pick"
"""What follows the name of a step that the picked place is to tell."""


@frozen
class Draft:
    """The list, what could not be done as it was asked, and the kind of step that was added last."""

    treatment: Treatment
    refused: tuple[str, ...] = ()
    added: str = ""


def draft_of(desk: TreatmentDesk, key: str, given: Mapping[str, str]) -> Draft:
    """The list that a page sends (`draft`), or the view's own; `with` adds a step, `without` takes one away."""
    kept = desk.view(key)[1].treatment
    sent = [name for name in KINDS if f"{slug(name)}.here" in given]
    listed = sent if "draft" in given else [step.name for step in kept]
    wanted, at, _ = given.get("with", "").partition(PICKED)
    drafting = _Drafting(desk, key, given, kept)
    for name in KINDS:
        if name == wanted:
            drafting.take(name, partial(drafting.begun, picked=bool(at)))
        elif name in listed and name != given.get("without", ""):
            drafting.take(name, drafting.sent if "draft" in given else drafting.kept_step)
    return Draft(drafting.treatment, tuple(drafting.refused), wanted if drafting.treatment.step(wanted) else "")


@define
class _Drafting:
    desk: TreatmentDesk
    key: str
    given: Mapping[str, str]
    kept: Treatment
    treatment: Treatment = UNTREATED
    refused: list[str] = field(factory=list)

    def take(self, name: str, step: Callable[[str], Step]) -> None:
        """Takes a step into the list; one that can't be is told, and is as it was kept where it was."""
        try:
            self.treatment = self.treatment.with_step(step(name))
        except Trouble as trouble:
            self.refused.append(trouble.sentence)
            before = self.kept.step(name)
            if before:
                self.treatment = self.treatment.with_step(evolve(before, on=False))

    def begun(self, name: str, *, picked: bool) -> Step:
        """The step as the view tells it by itself, or by the picked place."""
        place = place_in(self.given) if picked else None
        if picked and place is None:
            raise Trouble(
                Sentence("No place is picked yet"), "", Sentence("Click the untreated print, or say where")
            )
        return self.desk.begun(self.key, name, place)

    def sent(self, name: str) -> Step:
        """The step with what is in its fields."""
        return read_step(_marks(self._base(name), self.given), self.given)

    def kept_step(self, name: str) -> Step:
        """The step as it is kept."""
        return self.kept.step(name) or self.desk.begun(self.key, name)

    def _base(self, name: str) -> Step:
        """What the fields of a step change: as it was kept, or as it was begun by the same place."""
        before = self.kept.step(name)
        if name == "marks" and "marks.drawn" in self.given and not before:
            return Step(name, {"strokes": drawn(self.given.get("marks.more", ""))})
        place = place_in(self.given, f"{slug(name)}.at")
        if before and _is_near(before.parameters.get("place"), place):
            return before
        return self.desk.begun(self.key, name, place)


def _is_near(one: tuple[float, float] | None, other: tuple[float, float] | None) -> bool:
    """Whether two places are one, as a page rounds them."""
    if one is None or other is None:
        return one is other
    return all(abs(a - b) < 0.0006 for a, b in zip(one, other, strict=True))


def marks_listed(desk: TreatmentDesk, key: str, given: Mapping[str, str]) -> list[tuple[Stroke, bool]]:
    """The marks that a page lists, each with whether a person took it away; those that were drawn come last."""
    kept = desk.view(key)[1].treatment.step("marks")
    try:
        found = list((kept or desk.begun(key, "marks")).parameters["strokes"]) if _has_found(given) else []
    except Trouble:
        found = []
    listed = [(tuple(stroke), f"marks.less.{at}" in given) for at, stroke in enumerate(found)]
    return listed + [(tuple(stroke), False) for stroke in _drawn_well(given.get("marks.more", ""))]


def _drawn_well(text: str) -> Sequence[Stroke]:
    """The strokes that a page sends; none where they can't be strokes, which the list tells."""
    try:
        return tuple(Step("marks", {"strokes": drawn(text)}).parameters["strokes"])
    except Trouble:
        return ()


def _has_found(given: Mapping[str, str]) -> bool:
    return "marks.drawn" not in given


def _marks(step: Step, given: Mapping[str, str]) -> Step:
    """Marks without those that a person took away (`marks.less.N`), and with those drawn (`marks.more`)."""
    if step.name != "marks" or "marks.drawn" in given:
        return step
    strokes = [s for at, s in enumerate(step.parameters["strokes"]) if f"marks.less.{at}" not in given]
    return evolve(step, parameters={"strokes": [*strokes, *drawn(given.get("marks.more", ""))]})


def drawn(text: str) -> list[list[float]]:
    """Strokes as a page sends them: five numbers each, "0.1 0.2 0.3 0.2 0.004; …"."""
    try:
        return [list(map(float, each.split())) for each in text.split(";") if each.strip()]
    except ValueError:
        raise Trouble(
            Sentence("The marks that were drawn can't be read"), "", Sentence("Draw them again")
        ) from None
