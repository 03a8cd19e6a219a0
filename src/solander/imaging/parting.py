"""Prints that touch, and what else the search took for one print or for none: parted as the network tells them.

Convention (see `conventions`): corners in pixels of the middle copy, clockwise.

Method. Where the search found one print and the network at its small size sees just that one, nothing is asked.
Otherwise the network looks again at twice the size and tells how many prints there are and roughly where. A find
that is one of these, to a hair, stays, for the search knows the stage; any other gives way to the outline whose
sides the network and the picture both see. Finds of which the network sees nothing stay, too.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from attrs import evolve

from solander.imaging.conventions import Quad, area, iou
from solander.imaging.cores import cores_apart
from solander.imaging.one_sheet import one_sheet
from solander.imaging.plausible import seen_by_network
from solander.imaging.seams import crossed, nearly_as_good, with_sides
from solander.imaging.search import Candidate, Scene
from solander.imaging.segment import Likely

__all__ = ["parted"]


def parted(scene: Scene, chosen: Sequence[Candidate]) -> list[Candidate]:
    """The outlines chosen, with those that the network tells otherwise replaced."""
    kept = list(chosen)
    if scene.likely is None or _agreed(scene, kept, cores_apart(scene.likely)):
        return kept
    likely = scene.likely_closely
    if likely is None:
        return kept
    told = [one for rough in cores_apart(likely) if (one := _told(scene, likely, rough, kept)) is not None]
    if len(kept) == 1 and len(told) > 1 and one_sheet(scene, kept[0], told):
        return [evolve(kept[0], doubted=True)]  # a door or window from edge to edge of one picture
    return told + [one for one in kept if all(_shared(one.quad, other.quad) < BESIDE for other in told)]


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


def _told(scene: Scene, likely: Likely, rough: Quad, chosen: Sequence[Candidate]) -> Candidate | None:
    """The print that the network tells: the find that is the same, or the outline that network and picture see."""
    seen = with_sides(scene, likely, rough)
    if seen is not None and seen.support < SURE and seen_by_network(scene, seen.quad) < SEEN:
        seen = None
    same = max(chosen, key=lambda one: iou(one.quad, rough), default=None)
    if same is not None and iou(same.quad, rough) > ALIKE:
        if seen is None or seen.support < WEAK:
            return same
        if nearly_as_good(scene, likely, same.quad, seen.quad):
            return same if iou(same.quad, seen.quad) > THE_SAME else evolve(same, doubted=True)
        return seen
    return seen if seen is not None and seen.support > LEAST else None


ALIKE = 0.75
"""Overlap (IoU) from which a find may be the print that the network tells."""

THE_SAME = 0.96
"""Overlap (IoU) with what network and picture see below which a person is asked about a find."""

SEEN = 0.6
"""Mean likelihood inside an outline at the small size: of 260 prints in captures the least had .76."""

LEAST = 0.3
WEAK = 0.5
SURE = 0.9
"""Support below which what the network tells is not borne out; below which a find is believed before it; and from
which it is believed where the network at its small size sees no print: checks of a cloth have less."""


def _shared(one: Quad, other: Quad) -> float:
    """Shared area over the smaller of the two."""
    share = iou(one, other)
    return float(share / (1 + share) * (area(one) + area(other)) / np.minimum(area(one), area(other)))
