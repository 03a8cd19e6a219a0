"""A treatment at screen size, fast enough to be seen while a parameter is being moved.

Convention: see `treat`. Steps that need every pixel of the view (light, marks, texture) are done in full size once
and kept; the others are done on what is left of that at screen size, from the first that changed on.
"""

from __future__ import annotations

import json
from collections.abc import Sequence

from solander.imaging.conventions import Rgb
from solander.imaging.treatment.deep import Deep, as_deep
from solander.imaging.treatment.output import for_size
from solander.imaging.treatment.treat import Others, Step, Treated, treat

__all__ = ["IN_FULL_SIZE", "Preview"]

IN_FULL_SIZE = ("two lights", "even light", "marks", "texture")
"""Steps that are nothing at another size: they come before all others, and take a second a megapixel at most."""

KEPT = 4
"""Treated sizes kept, the newest: with a step and without it, before and after a change."""


class Preview:
    """A view as it is going to look, at most `long_side` pixels long."""

    def __init__(self, view: Rgb, *, long_side: int = 1600, others: Others | None = None) -> None:
        self._view, self._others, self._long_side = view, others, long_side
        self._kept: dict[str, Deep] = {}

    def shown(self, steps: Sequence[Step]) -> Treated:
        """The view with those steps; the size in which it goes out is left to what shows it.

        What the step "output" does is left out: its sharpening belongs to another size.
        """
        full = [step for step in steps if step.name in IN_FULL_SIZE]
        rest = [step for step in steps if step.name not in (*IN_FULL_SIZE, "output")]
        return treat(self._reduced(full), rest, others=self._others)

    def _reduced(self, full: Sequence[Step]) -> Deep:
        key = json.dumps([(step.name, dict(step.parameters)) for step in full], sort_keys=True)
        if key not in self._kept:
            picture = treat(self._view, full, others=self._others).picture if full else self._view
            while len(self._kept) >= KEPT:
                self._kept.pop(next(iter(self._kept)))
            self._kept[key] = for_size(as_deep(picture), self._long_side, sharpening=0)
        return self._kept[key]
