"""The sides of prints that lie together: where the small network sees a print's edge and the picture shows a line.

Convention (see `conventions`): corners in pixels of the middle copy, clockwise; strips as in `edges`.

Between prints that touch there is no stage to tell a border from a seam, and the frame of a picture inside its
border is an edge, too. The network has learnt which is which, but not to the pixel; the picture knows pixels, but
not meaning. So a side runs where a straight line is seen all along, where the network finds an edge likely, and
near the rough outline: the three are multiplied.
"""

from __future__ import annotations

import cv2
import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from solander.imaging.conventions import Quad, area
from solander.imaging.edges import Strip, coherent_edges, cut_strip, meet
from solander.imaging.search import Candidate, Scene
from solander.imaging.segment import Likely

__all__ = ["crossed", "nearly_as_good", "with_sides"]

Floats = NDArray[np.float64]
Pixels = NDArray[np.float32]

SEGMENTS = 32
"""Parts of a side judged one by one."""

CHANGE = 0.5
"""Lab units a pixel across a line from which it is seen: the shadow of paper on paper makes about one."""

UNSEEN = 0.1
"""What a place counts at which the network sees an edge and the picture none: white paper on white."""


@frozen
class Reach:
    """How far around a side its edge is looked for, as a share of the print's depth and in pixels; by how many
    pixels it may turn at its ends; and the share of the side left out at each end."""

    share: float
    pixels: float
    turns: int
    ends: float


ROUNDS = (Reach(0.1, 6.0, 8, 0.05), Reach(0.02, 6.0, 4, 0.01))

STILL = Reach(0.0, 2.0, 1, 0.01)
"""Of a side that is there already."""

SOFT = 2.5
"""Pixels (standard deviation) by which the network's edges may be off."""

ASTRAY = 0.03
"""Share of a print's size (standard deviation) by which a rough outline is off."""

UNLIKELY = 0.05
"""Likelihood of an edge where the network sees none."""

STRAIGHT = 3
"""Power of the share of a side on which a line is seen: the frame of a picture, or a neighbour's, stops short."""


@frozen(eq=False)
class Seen:
    """Where a side starts and ends, the worth of its line (0–1), and how well it is seen (0–1)."""

    start: Floats
    end: Floats
    worth: float
    support: float


def with_sides(scene: Scene, likely: Likely, rough: Quad) -> Candidate | None:
    """The print near a rough outline, each side where network and picture agree best; None if they fall apart."""
    edge = _at_middle(scene, likely)
    quad, sides = rough, list[Seen]()
    for reach in ROUNDS:
        sides = _sides(scene, edge, quad, rough, reach)
        corners = meet([(side.start, side.end) for side in sides])
        if corners is None:
            return None
        quad = corners
    seen = [side.support for side in sides]
    return Candidate(quad, (0.0, 0.0, 0.0, 0.0), 0.5 * float(np.mean(seen)) + 0.5 * min(seen))


def nearly_as_good(scene: Scene, likely: Likely, quad: Quad, other: Quad) -> bool:
    """Whether on each side the line that an outline follows is worth nearly as much as another outline's."""
    edge = _at_middle(scene, likely)
    ours, theirs = (_sides(scene, edge, one, one, STILL) for one in (quad, other))
    return all(our.worth > NEARLY * their.worth for our, their in zip(ours, theirs, strict=True))


def crossed(scene: Scene, quad: Quad) -> bool:
    """Whether a straight line runs through an outline from side to side, where it may part two prints."""
    for i in (0, 1):
        middle = (quad[i] + quad[i - 1]) / 2, (quad[(i + 1) % 4] + quad[(i + 2) % 4]) / 2
        wide = PARTS * float(np.linalg.norm(quad[i - 1] - quad[i]))
        strip = cut_strip(
            scene.middle.lab, middle, inward=wide, outward_px=wide, rows=3 * SEGMENTS, ends=ROUNDS[-1].ends
        )
        anywhere = np.ones((SEGMENTS, len(strip.across)), np.float32)
        if _best_line(strip, anywhere, np.ones(len(strip.across)), STILL.turns).support > THROUGH:
            return True
    return False


PARTS = 0.3
"""Share of an outline's depth to either side of its middle within which a seam may part it."""

THROUGH = 0.9
"""Share of its length on which a seam is seen."""

NEARLY = 0.3
"""Worth of a line, as a share of that of another, from which it is believed."""


def _at_middle(scene: Scene, likely: Likely) -> Pixels:
    """The network's edges at the middle size, as unsure as they are."""
    wide, high = scene.middle.rgb.shape[1::-1]
    edge = cv2.resize(likely.edge, (wide, high), interpolation=cv2.INTER_LINEAR)
    return np.asarray(cv2.GaussianBlur(edge, (0, 0), SOFT), np.float32)


def _sides(scene: Scene, edge: Pixels, quad: Quad, rough: Quad, reach: Reach) -> list[Seen]:
    """The best line beside each side of an outline, where the rough one expects it."""
    spread = ASTRAY * float(np.sqrt(area(rough))) + SOFT
    sides = []
    for i in range(4):
        side, expected = (quad[i], quad[(i + 1) % 4]), (rough[i] + rough[(i + 1) % 4]) / 2
        depth = float(np.linalg.norm(quad[i - 1] - quad[i]))
        wide = reach.share * depth + reach.pixels
        strip = cut_strip(scene.middle.lab, side, inward=wide, outward_px=wide, rows=3 * SEGMENTS, ends=reach.ends)
        told = cut_strip(edge, side, inward=wide, outward_px=wide, rows=SEGMENTS, ends=reach.ends)
        off = (strip.across - float((expected - (side[0] + side[1]) / 2) @ strip.outward)) / spread
        sides.append(_best_line(strip, told.pixels[..., 0], np.exp(-0.5 * off**2), reach.turns))
    return sides


def _best_line(strip: Strip, told: Pixels, expected: Floats, turns: int) -> Seen:
    """Of all straight lines in a strip the one that is seen all along, likely, and where one is expected."""
    middles = 2 * (np.arange(SEGMENTS) + 0.5) / SEGMENTS - 1
    slopes, columns = np.arange(-turns, turns + 1), np.arange(told.shape[1])
    at = np.clip(columns + np.rint(slopes[:, None, None] * middles[:, None]).astype(int), 0, columns[-1])
    row = np.arange(SEGMENTS)[:, None]
    seen, likely = _lines(strip)[row, at].mean(axis=1), told[row, at].mean(axis=1)
    worth = (UNSEEN + (1 - UNSEEN) * seen) ** STRAIGHT * (likely + UNLIKELY) * expected
    slope, column = (int(k) for k in np.unravel_index(worth.argmax(), worth.shape))
    ends = strip.points(np.array([-1.0, 1.0]), strip.across[column] + slopes[slope] * np.array([-1.0, 1.0]))
    support = min(1.0, 2 * float(likely[slope, column])) ** 0.5 * float(seen[slope, column])
    return Seen(ends[0], ends[1], float(worth[slope, column]), support)


def _lines(strip: Strip) -> Pixels:
    """How plain an edge is at each place (0–1): full from a change of `CHANGE` on, on its crest and beside it."""
    strength = coherent_edges(strip, SEGMENTS)
    crest = strength >= cv2.dilate(strength, np.ones((1, 3), np.uint8))
    plain = np.where(crest, np.minimum(strength / CHANGE, 1.0), 0.0)
    return np.asarray(cv2.dilate(plain.astype(np.float32), np.ones((1, 3), np.uint8)))
