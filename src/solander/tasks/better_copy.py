"""Which of two prints of one photograph is the better one to keep in sight, and why, in plain words."""

from __future__ import annotations

from attrs import frozen

from solander.core.language import _
from solander.core.prints import Print, View
from solander.imaging.one_negative import Likeness
from solander.tasks.collection import Collection
from solander.tasks.duplicates import compared

__all__ = ["Better", "better_copy", "better_of"]

CLEARLY = 1.15
"""Ratio from which one is told to be sharper, or to have more pixels: less nobody sees (our choice)."""

MORE_SHOWN = 0.04
"""Share of the picture from which one is told to show more of it (our choice)."""

CLIPPED = 0.01
"""Share of pixels at an end of the scale from which detail is told to be lost (our choice)."""


@frozen
class Better:
    """What speaks for the first and for the second of two, finished phrases; `best` is the place of the better
    one, None where as much speaks for either."""

    reasons: tuple[tuple[str, ...], tuple[str, ...]]
    best: int | None


def better_copy(one: Print, other: Print, found: Likeness | None) -> Better:
    """What speaks for each of two fronts. `found` is what came of comparing them, the first print first."""
    views = one.recto, other.recto
    if views[0] is None or views[1] is None:
        return Better(((), ()), None)
    sides: tuple[list[str], list[str]] = ([], [])
    weight = [0.0, 0.0]
    for told, words, weighs in _differences(views[0], views[1], found):
        sides[told].append(words)
        weight[told] += weighs
    best = None if weight[0] == weight[1] else int(weight[1] > weight[0])
    return Better((tuple(sides[0]), tuple(sides[1])), best)


def better_of(collection: Collection, one: Print, other: Print) -> Better:
    """The same of two prints of a collection, by what came of comparing them."""
    keys = [print_.recto.key if print_.recto else "" for print_ in (one, other)]
    return better_copy(one, other, compared(collection, *keys))


def _differences(one: View, other: View, found: Likeness | None) -> list[tuple[int, str, float]]:
    """Whom it speaks for (0 or 1), in which words, and how much it weighs."""
    told = []
    if found is not None and abs(found.within[0] - found.within[1]) > MORE_SHOWN:
        # The one of which less lies in the other shows more.
        told.append((int(found.within[1] < found.within[0]), _("shows more of the picture"), 3.0))
    detail = [_detail(view, share) for view, share in zip((one, other), _shares(found), strict=True)]
    if detail[0] and detail[1] and max(detail) > CLEARLY * min(detail):
        told.append((int(detail[1] > detail[0]), _("is sharper: it shows finer detail"), 2.0))
    pixels = [view.width * view.height * share for view, share in zip((one, other), _shares(found), strict=True)]
    if max(pixels) > CLEARLY**2 * min(pixels):
        told.append((int(pixels[1] > pixels[0]), _("has more pixels for the same picture"), 0.5))
    lost = [
        view.condition.clipped_dark + view.condition.clipped_light if view.condition else 0
        for view in (one, other)
    ]
    if abs(lost[0] - lost[1]) > CLIPPED:
        told.append((int(lost[1] < lost[0]), _("loses less in shadows and lights"), 1.0))
    faults = [len(view.condition.faults) if view.condition else 0 for view in (one, other)]
    if faults[0] != faults[1]:
        told.append((int(faults[1] < faults[0]), _("has fewer faults of the picture taking"), 1.0))
    return told


def _shares(found: Likeness | None) -> tuple[float, float]:
    """Of each picture the share that both show."""
    return found.within if found is not None else (1.0, 1.0)


def _detail(view: View, share: float) -> float:
    """How many of the rises of its sharpest edges the part that both show is wide: more is finer."""
    if view.condition is None or not view.condition.sharpness:
        return 0.0
    return float((view.width * view.height * share) ** 0.5 / view.condition.sharpness)
