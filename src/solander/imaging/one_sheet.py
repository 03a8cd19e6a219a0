"""Whether an outline is that of one sheet of paper, whatever lines run through the picture on it.

Convention (see `conventions`): corners in pixels of the middle copy.

A door, a window or a horizon may run from edge to edge of a picture and look like the seam between two prints. But
sheets that were laid side by side make one rectangle only if they are of one size; others are not as long as each
other, and their edges don't run on in one line.
"""

from __future__ import annotations

from collections.abc import Sequence

from solander.imaging.conventions import area
from solander.imaging.refine import refine
from solander.imaging.search import Candidate, Scene

__all__ = ["one_sheet"]

SUPPORTED = 0.95
"""Support of the whole outline: of 24 captures of prints that touch the one whose prints filled a rectangle had
0.86, of six prints with a door or mount in which the network saw two prints or more the least had 0.96."""

RUNS_ON = 0.8
"""Share of every side that lies on one curve: drawn sheets of which one is a hair longer than the other had 0.64
to 0.76, a print that was parted at its window 0.97."""

ONE_SIZE = 1.1
"""How many times as large as the smallest the largest of prints of one size may seem."""


def one_sheet(scene: Scene, whole: Candidate, parts: Sequence[Candidate]) -> bool:
    """Whether all four sides of an outline are seen from corner to corner and run on in one line, while the parts
    that somebody sees in it are not of one size."""
    sizes = [area(part.quad) for part in parts]
    if not sizes or whole.support < SUPPORTED or max(sizes) < ONE_SIZE * min(sizes):
        return False
    return min(refine(scene, whole).agreement, default=0.0) >= RUNS_ON
