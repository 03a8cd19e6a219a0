"""Prints that touch, and what else the search took for one print or for none: parted as the network tells them.

Convention (see `conventions`): corners in pixels of the middle copy, clockwise.

Method. Where the search found one print and the network at its small size sees just that one, nothing is asked.
Otherwise the network looks again at twice the size and tells how many prints there are and roughly where. A find
that is one of these, to a hair, stays, for the search knows the stage; any other gives way to the outline whose
sides the network and the picture both see. Finds of which the network sees nothing stay, too. Of prints that lie
together the sides are then chosen together (`together`).
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from attrs import evolve

from solander.imaging.conventions import Quad, area, iou
from solander.imaging.cores import cores_apart
from solander.imaging.edges import Pixels
from solander.imaging.one_sheet import one_sheet
from solander.imaging.plausible import EXPLAINED, LEAST_SEEN, SMALL, seen_by_network
from solander.imaging.seams import crossed, edges_at_middle, nearly_as_good, with_sides
from solander.imaging.search import Candidate, Scene
from solander.imaging.segment import Likely
from solander.imaging.together import together

__all__ = ["parted"]


def parted(scene: Scene, chosen: Sequence[Candidate]) -> list[Candidate]:
    """The outlines chosen, with those that the network tells otherwise replaced."""
    kept = list(chosen)
    if scene.likely is None or _agreed(scene, kept, cores_apart(scene.likely)):
        return kept
    likely = scene.likely_closely
    if likely is None:
        return kept
    edge = edges_at_middle(scene, likely)
    told = _at_both_sizes(scene, likely, edge, kept)
    if len(kept) == 1 and len(told) > 1 and one_sheet(scene, kept[0], told):
        return [evolve(kept[0], doubted=True)]  # a door or window from edge to edge of one picture
    told = _borne_out(told, kept)
    return together(scene, edge, told + [one for one in kept if _beside(one, told)])


def _at_both_sizes(scene: Scene, likely: Likely, edge: Pixels, found: Sequence[Candidate]) -> list[Candidate]:
    """The prints that the network tells closely, and those that it tells only at its small size: a core that a
    picture's own lines cut to pieces close by may be whole from afar."""
    told = [one for rough in cores_apart(likely) if (one := _told(scene, edge, rough, found)) is not None]
    for rough in [] if scene.likely is None else cores_apart(scene.likely):
        if all(_shared(rough, one.quad) < BESIDE for one in told):
            one = _told(scene, edge, rough, found)
            told += [one] if one is not None and one.support >= WEAK and _beside(one, told) else []
    return told


def _borne_out(told: list[Candidate], found: Sequence[Candidate]) -> list[Candidate]:
    """What the network tells, less the weak over finds that nothing plainer contradicts: what hides a side, as
    a hand does, hides it from both."""
    strong = [one for one in told if one.support >= WEAK]
    firm = [one for one in found if _beside(one, strong)]
    return strong + [one for one in told if one.support < WEAK and _beside(one, firm)]


def _beside(one: Candidate, others: Sequence[Candidate]) -> bool:
    """Whether an outline may be a print although all the others are."""
    return all(_shared(one.quad, other.quad) < BESIDE for other in others)


def _agreed(scene: Scene, chosen: Sequence[Candidate], rough: Sequence[Quad]) -> bool:
    """Whether the search found one print, plainly, through which no line runs, and the network sees it or none."""
    if len(chosen) != 1 or chosen[0].support < PLAIN or len(rough) > 1 or crossed(scene, chosen[0].quad):
        return False
    return not rough or iou(chosen[0].quad, rough[0]) > ROUGHLY


PLAIN = 0.85
"""Support from which an outline is plain."""

ROUGHLY = 0.85
"""Overlap (IoU) from which a rough outline at the network's small size is that of a find."""

BESIDE = 0.3
"""Share of the smaller of two outlines up to which both may be prints."""


def _told(scene: Scene, edge: Pixels, rough: Quad, chosen: Sequence[Candidate]) -> Candidate | None:
    """The print that the network tells: the find that is the same, or the outline that network and picture see."""
    seen = with_sides(scene, edge, rough)
    if seen is not None and not _print_like(scene, seen):
        seen = None
    same = max(chosen, key=lambda one: iou(one.quad, rough), default=None)
    if same is not None and iou(same.quad, rough) > ALIKE:
        return same if seen is None else _likelier(scene, edge, same, seen)
    return seen


def _print_like(scene: Scene, seen: Candidate) -> bool:
    """Whether what the network tells closely is print at its small size, too, and no picture on newsprint."""
    height, width = scene.middle.rgb.shape[:2]
    strewn = scene.stage.explained < EXPLAINED and area(seen.quad) < SMALL * height * width
    least = ON_STREWN if strewn else LEAST
    return seen.support > least and seen_by_network(scene, seen.quad) >= LEAST_SEEN


def _likelier(scene: Scene, edge: Pixels, found: Candidate, seen: Candidate) -> Candidate:
    """A find, or in its place what network and picture see of the same print, if that is plainly better; doubted
    where it is about as good but elsewhere."""
    ahead, alike = seen.support - found.support, iou(found.quad, seen.quad) > THE_SAME
    if seen.support < WEAK:
        return found
    if ahead > AHEAD and not alike:
        return seen
    if seen.support > SURE and not nearly_as_good(scene, edge, found.quad, seen.quad):
        return seen
    return found if alike or ahead < -BEHIND else evolve(found, doubted=True)


ALIKE = 0.75
"""Overlap (IoU) from which a find may be the print that the network tells."""

THE_SAME = 0.97
"""Overlap (IoU) with what network and picture see below which a person is asked about a find."""

LEAST = 0.3
WEAK = 0.5
SURE = 0.9
"""Support below which what the network tells is not borne out; below which a find is believed before it; and from
which it may be believed before a find that is borne out as well."""

ON_STREWN = 0.75
"""Support that a small print needs on a stage that its margin doesn't explain: pictures on newsprint had less, the
smallest prints that touch others 0.80."""

AHEAD, BEHIND = 0.05, 0.05
"""Support by which what the network tells must be better borne out than a find to take its place, and by which it
must be worse to raise no doubt: of 24 finds in doubt the nine that were wrong were better borne out by 0.01."""


def _shared(one: Quad, other: Quad) -> float:
    """Shared area over the smaller of the two."""
    share = iou(one, other)
    return float(share / (1 + share) * (area(one) + area(other)) / np.minimum(area(one), area(other)))
