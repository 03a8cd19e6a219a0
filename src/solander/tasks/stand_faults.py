"""What is told at once of a picture that was taken at the stand, in plain words and by a key for its sound."""

from __future__ import annotations

from collections.abc import Iterator

from attrs import frozen

from solander.core.language import _
from solander.core.prints import View
from solander.imaging.measure import NOT_SHARP, UNDER_A_HAND

__all__ = ["LEAST_PPI", "FaultTold", "faults_told"]

LEAST_PPI = 300.0
"""Pixels an inch on the paper below which a print of usual size is told to be taken from nearer: half of what the
finest papers hold (our choice; common practice, no source)."""

_TOO_LIGHT, _TOO_DARK = 0.04, 0.3
"""Shares of a view at the ends of the scale that are told. Paper white lies below the end on a stand that is lit
well, while dark corners of old prints reach the other one (our choice)."""


@frozen
class FaultTold:
    """One fault: its key, and the sentence."""

    key: str
    words: str


def faults_told(view: View) -> tuple[FaultTold, ...]:
    """What a person should hear about a picture before the print goes back into its box."""
    return tuple(FaultTold(key, words) for key, words in _faults(view))


def _faults(view: View) -> Iterator[tuple[str, str]]:
    condition = view.condition
    seen = condition.faults if condition else ()
    if UNDER_A_HAND in seen:
        yield "hand", _("A hand lies over its edge.")
    if NOT_SHARP in seen:
        yield "not-sharp", _("It is not sharp.")
    if condition and condition.clipped_light > _TOO_LIGHT:
        yield "glare", _("Part of it is so bright that nothing shows there: glare, or too much light.")
    if condition and condition.clipped_dark > _TOO_DARK:
        yield "dark", _("Much of it is so dark that nothing shows there.")
    if not view.outline.is_sure:
        yield "edge", _("Its edge was not found for sure: look at the outline.")
    if view.ppi and view.ppi < LEAST_PPI:
        words = _("Only %(ppi)s pixels an inch: bring the camera nearer.", ppi=round(view.ppi))
        yield "few-pixels", words
