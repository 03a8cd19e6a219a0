"""A treatment: the ordered list of what is done to a view so that the print looks well again. Data, never pixels.

The capture never changes, and the view can be made again without any of it. Each step says what it does as a
sentence, who wanted it and why, and can be switched off and on again without being forgotten. Steps keep one
working order (`solander.core.treatment_steps`), one of each kind, wherever they are added.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from attrs import evolve, field, frozen

from solander.core.errors import InvalidValue
from solander.core.sentence import Kept, Sentence, kept, read_kept
from solander.core.treatment_steps import COLOUR, KINDS, MONOCHROME, checked, is_idle, kind_of

__all__ = ["EDITION", "UNTREATED", "Step", "Treatment", "read_treatment"]

VERSION = 1
"""Of the form in which treatments are kept."""

EDITION = 1
"""Of what steps do to pixels. Whoever changes that raises it, so that pictures made before are made anew and a
recipe that was handed over says what it was made with."""

_ORDER = {name: place for place, name in enumerate(KINDS)}


@frozen
class Step:
    """One step: its `name` and `parameters` (see `KINDS`), whether it is `on`, `who` wanted it, for what `reason`.

    Raises
    ------
    InvalidValue
        When there is no such step, or its parameters can't be.
    """

    name: str
    parameters: Mapping[str, Any] = field(factory=dict, hash=False)
    on: bool = True
    who: str = ""
    reason: str = ""

    def __attrs_post_init__(self) -> None:
        object.__setattr__(self, "parameters", checked(self.name, self.parameters))

    @property
    def told(self) -> str:
        """What it does, as a sentence's part: "paper border made neutral"."""
        return kind_of(self.name).tell(self.parameters)


@frozen
class Treatment:
    """Steps in their working order.

    Raises
    ------
    InvalidValue
        When two are of one kind, out of order, or of prints of different kinds.
    """

    steps: tuple[Step, ...] = ()

    def __attrs_post_init__(self) -> None:
        names = [step.name for step in self.steps]
        twice = next((name for name in names if names.count(name) > 1), None)
        if twice:
            raise _no_treatment(Sentence("it has the step “%(name)s” twice", name=twice))
        if names != sorted(names, key=_ORDER.__getitem__):
            raise _no_treatment(Sentence("its steps are not in their working order"))
        on = {step.name for step in self.steps if step.on}
        if {COLOUR, MONOCHROME} <= on:
            raise _no_treatment(Sentence("a print is either faded in colour or yellowed in monochrome"))

    @classmethod
    def of(cls, steps: Iterable[Step]) -> Treatment:
        """The treatment of these steps, brought into their order."""
        return cls(tuple(sorted(steps, key=lambda step: _ORDER[step.name])))

    def __iter__(self) -> Iterator[Step]:
        return iter(self.steps)

    @property
    def applied(self) -> tuple[Step, ...]:
        """The steps that are on and change something; what changes nothing is told of no picture."""
        return tuple(step for step in self.steps if step.on and not is_idle(step.name, step.parameters))

    @property
    def sentences(self) -> tuple[str, ...]:
        """What is done, a sentence's part for each step that is applied."""
        return tuple(step.told for step in self.applied)

    def step(self, name: str) -> Step | None:
        """The step of that kind, on or off."""
        return next((step for step in self.steps if step.name == name), None)

    def with_step(self, step: Step) -> Treatment:
        """With that step in the place of the one of its kind, or put where it belongs."""
        return Treatment.of([*(other for other in self.steps if other.name != step.name), step])

    def without(self, name: str) -> Treatment:
        """Without the step of that kind."""
        return Treatment(tuple(step for step in self.steps if step.name != name))

    def switched(self, name: str, *, on: bool) -> Treatment:
        """With the step of that kind switched on or off; the same where there is none."""
        return Treatment(tuple(evolve(step, on=on) if step.name == name else step for step in self.steps))

    @property
    def key(self) -> str:
        """A name made from all that decides the pixels: names and parameters of the steps that are applied, and
        how they are done; "" where none is."""
        recipe = [[step.name, step.parameters] for step in self.applied]
        if not recipe:
            return ""
        return hashlib.sha256(json.dumps([EDITION, recipe], sort_keys=True).encode()).hexdigest()[:32]

    def as_json(self) -> dict[str, Any]:
        """What JSON can hold of it, all of it."""
        return {"treatment": VERSION, "steps": [_step_json(step) for step in self.steps]}


UNTREATED = Treatment()
"""Nothing is done: the view as it is."""


def read_treatment(given: Any) -> Treatment:
    """The treatment that `as_json` made JSON of.

    Raises
    ------
    InvalidValue
        When it is no treatment, is of a later form, or a step of it can't be.
    """
    if not isinstance(given, Mapping) or not isinstance(given.get("steps"), (list, tuple)):
        raise _no_treatment(Sentence("it has no list of steps"))
    if given.get("treatment") != VERSION:
        raise _no_treatment(Sentence("its form is not known to this version"))
    return Treatment(tuple(_read_step(each) for each in given["steps"]))


def _step_json(step: Step) -> dict[str, Any]:
    made = {"name": step.name, "parameters": _lists(step.parameters), "on": step.on, "who": step.who}
    return {**made, "reason": kept(step.reason)}


def _read_step(given: Any) -> Step:
    if not isinstance(given, Mapping):
        raise _no_treatment(Sentence("a step has a name and parameters"))
    parameters, on = given.get("parameters", {}), given.get("on", True)
    words = {each: given.get(each, "") for each in ("who", "reason")}
    if not isinstance(parameters, Mapping) or not isinstance(on, bool):
        raise _no_treatment(Sentence("a step has a name and parameters"))
    if not all(isinstance(word, str) for word in words.values()):
        raise _no_treatment(Sentence("who wanted a step, and why, are words"))
    reason = words["reason"] if isinstance(words["reason"], Kept) else read_kept(words["reason"])
    return Step(str(given.get("name", "")), parameters, on, words["who"], reason)


def _lists(value: Any) -> Any:
    if isinstance(value, Mapping):
        return {name: _lists(each) for name, each in value.items()}
    return [_lists(each) for each in value] if isinstance(value, tuple) else value


def _no_treatment(why: Sentence) -> InvalidValue:
    return InvalidValue(Sentence("That is no treatment"), why, Sentence("Begin again from the untreated view"))
