"""What is told at once of a picture that was taken at the stand, in plain words and by a key for its sound."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from statistics import quantiles

from solander.core.language import _
from solander.core.prints import View
from solander.tasks.condition_told import FaultTold, capture_told

__all__ = ["LEAST_PPI", "FaultTold", "best_rise", "faults_told"]

LEAST_PPI = 300.0
"""Pixels an inch on the paper below which a print of usual size is told to be taken from nearer: half of what the
finest papers hold (our choice; common practice, no source)."""

_LESS_SHARP, _STILL_SHARP = 1.7, 3.4
"""Times as wide as on this stage else, and pixels from which at all, the paper's edge is told to be less sharp
than it can be: the sharp simulated captures had up to 3.7 (docs/condition.md)."""


def faults_told(view: View, *, best_rise: float | None = None) -> tuple[FaultTold, ...]:
    """What a person should hear about a picture before the print goes back into its box; `best_rise` is the rise
    in pixels of the paper's edge that this stage comes to."""
    return tuple(_faults(view, best_rise))


def best_rise(views: Sequence[View]) -> float | None:
    """The rise of the paper's edge that a stage comes to, of what was taken there lately; None for too few."""
    rises = [view.condition.edge_rise for view in views if view.condition and view.condition.edge_rise]
    return float(quantiles(rises, n=4)[0]) if len(rises) >= _ENOUGH else None


_ENOUGH = 5


def _faults(view: View, best: float | None) -> Iterator[FaultTold]:
    told = capture_told(view)
    yield from told
    rise = view.condition.edge_rise if view.condition else None
    if best and rise and rise > max(_STILL_SHARP, _LESS_SHARP * best) and not _tells_blur(told):
        yield FaultTold(
            "not-sharp", _("It is less sharp than the prints before it: has the camera found its focus?")
        )
    if not view.outline.is_sure:
        yield FaultTold("edge", _("Its edge was not found for sure: look at the outline."))
    if view.ppi and view.ppi < LEAST_PPI:
        words = _("Only %(ppi)s pixels an inch: bring the camera nearer.", ppi=round(view.ppi))
        yield FaultTold("few-pixels", words)


def _tells_blur(told: Sequence[FaultTold]) -> bool:
    return any(fault.key in ("not-sharp", "shaken") for fault in told)
