"""Whether an outline can be a print at all: what the stage is strewn with has edges too.

Convention (see `conventions`): corners in pixels of the middle copy unless said otherwise.

Method. Checks of a tablecloth, columns of a newspaper and pieces of a ruler are bounded by edges as plain as
paper's. The small network (`segment`) sees what they are part of: where an outline is doubtful (small, weakly
borne out, or on a stage that its margin doesn't explain) and the network sees next to no print inside, it is
dropped. Without its weights nothing is dropped on its word.
"""

from __future__ import annotations

from collections.abc import Sequence

import cv2
import numpy as np

from solander.imaging.conventions import Quad, area
from solander.imaging.search import Candidate, Scene

__all__ = ["likeliest", "plausible", "seen_by_network"]

LEAST_SEEN = 0.25
"""Mean likelihood inside an outline below which it is no print: of 260 prints in captures of two simulators the
least had 0.7, of 206 outlines of checks, rulers and newsprint 197 had less."""

PLAIN = 0.85
EXPLAINED = 0.95
SMALL = 0.02
"""Support, share of the margin that is stage, and share of the frame below which an outline is doubted."""


def plausible(scene: Scene, outlines: Sequence[Candidate]) -> list[Candidate]:
    """The outlines that can be prints."""
    return [one for one in outlines if not _doubtful(scene, one) or seen_by_network(scene, one.quad) >= LEAST_SEEN]


def _doubtful(scene: Scene, one: Candidate) -> bool:
    height, width = scene.middle.rgb.shape[:2]
    small = area(one.quad) < SMALL * height * width
    return small or one.support < PLAIN or scene.stage.explained < EXPLAINED


MANY = 8
"""Rough outlines from which the network is asked which of them are worth a search."""


def likeliest(scene: Scene, rough: list[Quad]) -> list[Quad]:
    """Of many rough outlines (pixels of the coarse copy) those worth a search, in the order given."""
    if len(rough) <= MANY or scene.likely is None:
        return rough
    seen = [seen_by_network(scene, scene.middle.from_full(scene.coarse.to_full(quad))) for quad in rough]
    return [quad for quad, share in zip(rough, seen, strict=True) if share >= LEAST_SEEN / 2]


def seen_by_network(scene: Scene, quad: Quad) -> float:
    """Mean likelihood (0–1) of print inside an outline; 1 without the network's weights."""
    likely = scene.likely
    if likely is None:
        return 1.0
    inside = np.zeros(likely.inside.shape, np.uint8)
    here = (quad + 0.5) / likely.scale - 0.5
    cv2.fillConvexPoly(inside, np.rint(here * 16).astype(np.int32), (1,), shift=4)
    return float(likely.inside[inside > 0].mean()) if inside.any() else 0.0
