"""How the light over the stage stands during a sitting: steady, drifting, flickering, or daylight that changes.

Convention (see `conventions`): light as in `rim`, logarithms of encoded values since the empty stage was seen: .01
is about 2.4 % of the light itself.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from attrs import evolve, frozen

from solander.imaging.rim import Lit

__all__ = ["Light", "noted"]

RECENT = 12
"""Frames over which flicker is told: about a second."""

FLICKERS = 0.006
"""Deviation from frame to frame (median) from which light flickers: 1.5 % of it; a camera's own exposure wavers by
some tenths of that."""

DRIFTED = 0.03
"""Change from which light has drifted: 7 % of it, as in `tracking`; two prints side by side would differ."""

ONE_SIDED = 0.02
"""Change of colour (red against blue), or from the middle to an edge, from which light is not the lamp's alone."""

A_SECOND, KEPT = 1000, 120
"""Milliseconds between two notes of the light, and how many are kept."""

AT_ONCE = 0.5
"""Share of a change that comes within one note, from which it was a switch and no daylight."""

LASTS = 3
"""Notes that a change must last: a passing shadow doesn't."""


class Note(NamedTuple):
    """The light at a time: its level, its colour, and by how much the right and the lower edge have more of it."""

    at_ms: int
    level: float
    colour: float
    across: float
    down: float


@frozen
class Light:
    """What is known of the light: the levels of the frames just seen, and a note a second."""

    levels: tuple[float, ...] = ()
    notes: tuple[Note, ...] = ()

    @property
    def told(self) -> str:
        """ "flicker", "daylight", "drift", or "" for a light that stands still."""
        if _flicker(self.levels) > FLICKERS:
            return "flicker"
        if len(self.notes) < LASTS:
            return ""
        changes = np.array([note[1:] for note in self.notes])
        level, *aside = np.abs(np.median(changes[-LASTS:], axis=0))
        if max(aside) > ONE_SIDED and not _at_once(changes[:, 1:]):
            return "daylight"
        return "drift" if max(level, *aside) > DRIFTED else ""


def noted(light: Light, change: Lit, at_ms: int) -> Light:
    """With the light of one more frame in which all lies at rest."""
    level = float(change.level.mean())
    light = evolve(light, levels=(*light.levels, level)[-RECENT:])
    if light.notes and at_ms - light.notes[-1].at_ms < A_SECOND:
        return light
    colour = float(change.level[0] - change.level[2])
    note = Note(at_ms, level, colour, float(change.across.mean()), float(change.down.mean()))
    return evolve(light, notes=(*light.notes, note)[-KEPT:])


def _flicker(levels: tuple[float, ...]) -> float:
    """Deviation of each level from the mean of its neighbours: what drifts has none, what steps hardly any."""
    if len(levels) < RECENT:
        return 0.0
    series = np.array(levels)
    return float(np.median(np.abs(series[1:-1] - (series[:-2] + series[2:]) / 2)))


def _at_once(changes: np.ndarray) -> bool:
    """Whether most of the greatest change came from one note to the next."""
    which = int(np.abs(changes[-1]).argmax())
    steps = np.abs(np.diff(changes[:, which], prepend=0.0))
    return bool(steps.max() > AT_ONCE * abs(changes[-1, which]))
