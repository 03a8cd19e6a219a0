"""Whether an outline can be a print at all: what the stage is strewn with has edges too.

Convention (see `conventions`): corners in pixels of the middle copy unless said otherwise.

Method. Checks of a tablecloth, columns of a newspaper and pieces of a ruler are bounded by edges as plain as
paper's. The small network (`segment`) sees what they are part of: where an outline is doubtful (small, weakly
borne out, or on a stage that its margin doesn't explain) and the network sees next to no print inside, it is
dropped. Without its weights nothing is dropped on its word. With or without them, no print is a small patch of one
colour on a patterned stage, nor are its opposite sides far from parallel.
"""

from __future__ import annotations

from collections.abc import Sequence

import cv2
import numpy as np
from numpy.typing import NDArray

from solander.imaging.conventions import Quad, area
from solander.imaging.edges import outward
from solander.imaging.search import Candidate, Scene
from solander.imaging.stage import smoothed

__all__ = ["EXPLAINED", "LEAST_SEEN", "SMALL", "likeliest", "plausible", "seen_at_rim", "seen_by_network"]

LEAST_SEEN = 0.6
"""Mean likelihood inside an outline below which it is no print: of 414 prints that were found in captures of two
simulators the least had 0.77, of checks, rulers, pencils and pieces of newsprint most had less than 0.5."""

PLAIN = 0.85
EXPLAINED = 0.95
SMALL = 0.02
"""Support, share of the margin that is stage, and share of the frame below which an outline is doubted."""


def plausible(scene: Scene, outlines: Sequence[Candidate]) -> list[Candidate]:
    """The outlines that can be prints."""
    return [one for one in outlines if not _doubtful(scene, one) or _print_like(scene, one.quad)]


def _print_like(scene: Scene, quad: Quad) -> bool:
    return not (_skewed(quad) or _check(scene, quad)) and seen_by_network(scene, quad) >= LEAST_SEEN


def _doubtful(scene: Scene, one: Candidate) -> bool:
    height, width = scene.middle.rgb.shape[:2]
    small = area(one.quad) < SMALL * height * width
    return small or one.support < PLAIN or scene.stage.explained < EXPLAINED


def _skewed(quad: Quad) -> bool:
    """Whether opposite sides are further from parallel than a leaning camera makes them."""
    ahead = np.roll(quad, -1, axis=0) - quad
    turned = np.degrees(np.arctan2(ahead[:, 1], ahead[:, 0]))
    apart = (turned[:2] - turned[2:]) % 360 - 180
    return bool(np.abs(apart).max() > SKEWED_DEG)


SKEWED_DEG = 20.0
"""Angle between opposite sides: perspective makes ten degrees at most where a camera leans by as much."""


def _check(scene: Scene, quad: Quad) -> bool:
    """Whether an outline holds one flat colour, is small, and lies on a patterned stage: a check of a cloth. Plain
    backs, flat too, lie on stages that are known, or are larger."""
    height, width = scene.middle.rgb.shape[:2]
    if area(quad) >= SMALL * height * width or scene.stage.explained >= PATTERNED:
        return False
    within = quad.mean(axis=0) + (quad - quad.mean(axis=0)) * 0.8
    lab = smoothed(scene.coarse.lab)
    inside = np.zeros(lab.shape[:2], np.uint8)
    here = scene.coarse.from_full(scene.middle.to_full(within))
    cv2.fillConvexPoly(inside, np.rint(here * 16).astype(np.int32), (1,), shift=4)
    if not inside.any():
        return True
    low, high = np.percentile(lab[inside > 0], (10, 90), axis=0)
    return bool((high - low).max() < FLAT)


PATTERNED = 0.9
"""Share of the margin that is stage, below which the stage has a pattern or is strewn with things."""

FLAT = 6.0
"""Lab units between the 10th and the 90th percentile up to which a patch has one colour: checks had 1 to 3, of 260
prints that were found none less than 9."""

MANY = 8
WORTH_A_SEARCH = 0.125
"""Rough outlines from which the network is asked which of them are worth a search, and mean likelihood inside
those that are: rough, they may hold much of the stage."""


def likeliest(scene: Scene, rough: list[Quad]) -> list[Quad]:
    """Of many rough outlines (pixels of the coarse copy) those worth a search, in the order given."""
    if len(rough) <= MANY or scene.likely is None:
        return rough
    seen = [seen_by_network(scene, scene.middle.from_full(scene.coarse.to_full(quad))) for quad in rough]
    return [quad for quad, share in zip(rough, seen, strict=True) if share >= WORTH_A_SEARCH]


def seen_by_network(scene: Scene, quad: Quad) -> float:
    """Mean likelihood (0–1) of print inside an outline; 1 without the network's weights."""
    likely = scene.likely
    if likely is None:
        return 1.0
    inside = np.zeros(likely.inside.shape, np.uint8)
    here = (quad + 0.5) / likely.scale - 0.5
    cv2.fillConvexPoly(inside, np.rint(here * 16).astype(np.int32), (1,), shift=4)
    return float(likely.inside[inside > 0].mean()) if inside.any() else 0.0


def seen_at_rim(scene: Scene, quad: Quad) -> float:
    """How likely (0–1) the small network thinks print just within the sides of an outline, on average; 1 without
    its weights."""
    likely = scene.likely
    if likely is None:
        return 1.0
    here = (quad + 0.5) / likely.scale - 0.5
    along = np.linspace(0.1, 0.9, 25)[:, None]
    sides = zip(here, np.roll(here, -1, axis=0), strict=True)
    return float(np.mean([_mean_at(likely.inside, a + (b - a) * along - RIM * outward(a, b)) for a, b in sides]))


RIM = 3.0
"""Pixels of the network's size from an outline at which it is asked: beyond what it is unsure of by itself."""


def _mean_at(shares: NDArray[np.float32], places: Quad) -> float:
    high = np.array(shares.shape[::-1]) - 1
    column, row = np.clip(np.rint(places), 0, high).astype(int).T
    return float(shares[row, column].mean())
