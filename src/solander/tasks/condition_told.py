"""What is told of a view's condition in plain words: faults of its capture and how it has kept."""

from __future__ import annotations

from collections.abc import Iterator

from attrs import frozen

from solander.core.condition import Condition, turned_place
from solander.core.language import _
from solander.core.prints import View
from solander.imaging.condition_limits import (
    CORNER_DEPTH,
    DUSTY,
    FADED,
    GLARE,
    MIRRORING,
    MISSING_CORNER,
    SHAKEN,
    TEAR_DEPTH,
    TILTED,
    TOO_BRIGHT,
    TOO_DARK,
    TORN,
    UNEVEN,
    YELLOWED,
)
from solander.imaging.measure import NOT_SHARP, UNDER_A_HAND

__all__ = ["FaultTold", "capture_told", "states_told"]


@frozen
class FaultTold:
    """One fault: its key, and the sentence."""

    key: str
    words: str


def capture_told(view: View) -> tuple[FaultTold, ...]:
    """The faults of a view's capture, and what to change."""
    condition = view.condition
    return tuple(FaultTold(key, words) for key, words in _faults(condition, view.turn)) if condition else ()


def states_told(view: View) -> tuple[FaultTold, ...]:
    """How the print itself has kept, as the view shows it."""
    condition = view.condition
    return tuple(FaultTold(key, words) for key, words in _states(condition, view.turn)) if condition else ()


def _faults(condition: Condition, turn: int) -> Iterator[tuple[str, str]]:
    seen = condition.faults
    if UNDER_A_HAND in seen:
        yield "hand", _("A hand lies over its edge.")
    if NOT_SHARP in seen:
        yield "not-sharp", _("It is not sharp: focus anew, and keep the camera still.")
    if SHAKEN in seen:
        yield "shaken", _shaken(condition.shake_deg, turn)
    if GLARE in seen:
        yield "glare", _mirrors(turned_place(condition.glare_at, turn))
    if TOO_BRIGHT in seen:
        yield "too-bright", _("Part of it is so bright that nothing shows there: glare, or too much light.")
    if TOO_DARK in seen:
        yield "dark", _("Much of it is so dark that nothing shows there: give it more light.")
    if UNEVEN in seen:
        yield "uneven", _darker(turned_place(condition.darkest, turn), round(100 * (condition.light_lost or 0)))
    if TILTED in seen:
        yield (
            "tilted",
            _("The camera is tilted by %(degrees)s°: set it level.", degrees=round(condition.tilt_deg or 0)),
        )
    if DUSTY in seen:
        yield "dust", _("Dust lies on it: blow it off, and wipe the glass.")


def _shaken(angle: float | None, turn: int) -> str:
    """Which way, as the view is shown."""
    along = ((angle or 0.0) + 90 * turn) % 180
    if along < _ASLANT or along > 180 - _ASLANT:
        return _("It moved to the side while it was taken: let go of it, and wait.")
    if abs(along - 90) < _ASLANT:
        return _("It moved up or down while it was taken: let go of it, and wait.")
    return _("It moved while it was taken: let go of it, and wait.")


_ASLANT = 25.0


def _darker(place: str, share: int) -> str:
    match place:
        case "top edge":
            return _("Its top edge has %(share)s percent less light: light it from both sides.", share=share)
        case "right edge":
            return _("Its right edge has %(share)s percent less light: light it from both sides.", share=share)
        case "bottom edge":
            return _("Its bottom edge has %(share)s percent less light: light it from both sides.", share=share)
    return _("Its left edge has %(share)s percent less light: light it from both sides.", share=share)


def _mirrors(place: str) -> str:
    match place:
        case "top edge":
            return _("A lamp mirrors near its top edge: move the lamp aside.")
        case "right edge":
            return _("A lamp mirrors near its right edge: move the lamp aside.")
        case "bottom edge":
            return _("A lamp mirrors near its bottom edge: move the lamp aside.")
        case "left edge":
            return _("A lamp mirrors near its left edge: move the lamp aside.")
    return _("A lamp mirrors in its middle: move the lamp aside.")


def _states(condition: Condition, turn: int) -> Iterator[tuple[str, str]]:
    seen = condition.states
    if FADED in seen:
        yield "faded", _("Its colours have faded, the cyan dye most.")
    if YELLOWED in seen:
        yield "yellowed", _("Its paper has yellowed.")
    if MIRRORING in seen:
        yield (
            "mirroring",
            _("Its darks shine bluish near the edges: silver that came to the surface. Don’t rub it."),
        )
    if MISSING_CORNER in seen:
        for place in _places(condition, "corner", CORNER_DEPTH, turn):
            yield "missing-corner", _corner_words(place)
    if TORN in seen:
        for place in _places(condition, "edge", TEAR_DEPTH, turn):
            yield "torn", _tear_words(place)


def _places(condition: Condition, what: str, least: float, turn: int) -> tuple[str, ...]:
    """The places where paper is missing, each once, the worst first."""
    deep = (one.place for one in condition.missing if one.depth > least and one.place.endswith(what))
    return tuple(dict.fromkeys(turned_place(place, turn) for place in deep))


def _corner_words(place: str) -> str:
    match place:
        case "top left corner":
            return _("Its top left corner is missing.")
        case "top right corner":
            return _("Its top right corner is missing.")
        case "bottom right corner":
            return _("Its bottom right corner is missing.")
    return _("Its bottom left corner is missing.")


def _tear_words(place: str) -> str:
    match place:
        case "top edge":
            return _("It is torn at its top edge.")
        case "right edge":
            return _("It is torn at its right edge.")
        case "bottom edge":
            return _("It is torn at its bottom edge.")
    return _("It is torn at its left edge.")
