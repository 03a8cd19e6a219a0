"""The pictures that steps of a treatment name: the second of two lights, a blank sheet of the stage."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from numpy.typing import NDArray

from solander.core.errors import Trouble
from solander.core.prints import View
from solander.core.sentence import Sentence
from solander.core.treatments import Step
from solander.tasks.collection import Collection

__all__ = ["NAMED", "pictures_named"]

NAMED = {"two lights": "second", "even light": "field"}
"""Steps that name a picture, and the parameter that does."""


def pictures_named(collection: Collection, view: View, steps: Iterable[Step]) -> dict[str, NDArray[Any]]:
    """Each picture by the name that a step has for it, as this view would show it.

    Raises
    ------
    Trouble
        When one is not there.
    """
    for step in steps:
        if step.name in NAMED:
            name = str(step.parameters[NAMED[step.name]])
            raise Trouble(
                Sentence("%(step)s can't be done", step=step.told),
                Sentence("the picture %(name)s is not there", name=name),
                Sentence("Switch the step off"),
            )
    return {}
