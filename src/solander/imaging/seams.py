"""The sides of prints that lie together: where the small network sees a print's edge and the picture shows a line.

Convention (see `conventions`): corners in pixels of the middle copy, clockwise; strips as in `edges`.

Between prints that touch there is no stage to tell a border from a seam, and the frame of a picture inside its
border is an edge, too. The network has learnt which is which, but not to the pixel; the picture knows pixels, but
not meaning. So a side runs where a straight line is seen all along, where the network finds an edge likely, and
near the rough outline: the three are multiplied.
"""

from __future__ import annotations

from collections.abc import Sequence

import cv2
import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from solander.imaging.conventions import Quad, area
from solander.imaging.edges import Strip, coherent_edges, cut_strip, meet
from solander.imaging.search import Candidate, Scene
from solander.imaging.segment import Likely

__all__ = ["STILL", "Way", "crossed", "edges_at_middle", "nearly_as_good", "ways_beside", "with_sides"]

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
class Way:
    """A line that a side may follow: where it starts and ends, its worth (0–1), and how well it is seen (0–1)."""

    start: Floats
    end: Floats
    worth: float
    support: float


def edges_at_middle(scene: Scene, likely: Likely) -> Pixels:
    """The network's edges at the middle size (0–1), as unsure as they are."""
    wide, high = scene.middle.rgb.shape[1::-1]
    edge = cv2.resize(likely.edge, (wide, high), interpolation=cv2.INTER_LINEAR)
    return np.asarray(cv2.GaussianBlur(edge, (0, 0), SOFT), np.float32)


def with_sides(scene: Scene, edge: Pixels, rough: Quad, rounds: Sequence[Reach] = ROUNDS) -> Candidate | None:
    """The print near a rough outline, each side where network (`edge`, see `edges_at_middle`) and picture agree
    best; None if they fall apart."""
    quad, sides = rough, list[Way]()
    for reach in rounds:
        sides = _sides(scene, edge, quad, rough, reach)
        corners = meet([(side.start, side.end) for side in sides])
        if corners is None:
            return None
        quad = corners
    seen = [side.support for side in sides]
    return Candidate(quad, (0.0, 0.0, 0.0, 0.0), 0.5 * float(np.mean(seen)) + 0.5 * min(seen))


def nearly_as_good(scene: Scene, edge: Pixels, quad: Quad, other: Quad) -> bool:
    """Whether on each side the line that an outline follows is worth nearly as much as another outline's."""
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
        weighed = _weighed(strip, anywhere, np.ones(len(strip.across)), STILL.turns)
        if weighed.best(weighed.worth)[0].support > THROUGH:
            return True
    return False


PARTS = 0.3
"""Share of an outline's depth to either side of its middle within which a seam may part it."""

THROUGH = 0.9
"""Share of its length on which a seam is seen."""

NEARLY = 0.3
"""Worth of a line, as a share of that of another, from which it is believed."""


def ways_beside(scene: Scene, edge: Pixels, quad: Quad, i: int) -> list[Way]:
    """The lines that the side from corner `i` on may follow: the one that it does, then the `NEXT_BEST` worthiest
    beside it."""
    strip, told = _strips(scene, edge, quad, i, WIDELY)
    depth = float(np.linalg.norm(quad[i - 1] - quad[i]))
    expected = np.exp(-0.5 * (strip.across / (WIDELY.share * depth + SOFT)) ** 2)
    weighed = _weighed(strip, told, expected, WIDELY.turns)
    here = int(np.abs(strip.across).argmin())
    by_column = weighed.worth.copy()
    beside, straight = slice(here - 1, here + 2), slice(WIDELY.turns - 1, WIDELY.turns + 2)
    ways = [Way(quad[i], quad[(i + 1) % 4], float(by_column[straight, beside].max()), 1.0)]
    by_column[:, beside] = 0
    for _ in range(NEXT_BEST):
        way, column = weighed.best(by_column)
        if way.worth < HOPELESS * weighed.worth.max():
            break
        ways.append(way)
        by_column[:, max(0, column - ONE_LINE) : column + ONE_LINE + 1] = 0
    return ways


WIDELY = Reach(0.07, 6.0, 6, 0.03)
"""Where other lines than a side's own are looked for: a border is seldom wider than that."""

NEXT_BEST = 3
HOPELESS = 0.03
ONE_LINE = 2
"""Lines kept beside a side's own, worth that they need as a share of the best one's, and pixels to either side
within which two are one."""


def _strips(scene: Scene, edge: Pixels, quad: Quad, i: int, reach: Reach) -> tuple[Strip, Pixels]:
    """What lies beside a side, in the picture and as the network tells its edges."""
    side, depth = (quad[i], quad[(i + 1) % 4]), float(np.linalg.norm(quad[i - 1] - quad[i]))
    wide = reach.share * depth + reach.pixels
    strip = cut_strip(scene.middle.lab, side, inward=wide, outward_px=wide, rows=3 * SEGMENTS, ends=reach.ends)
    told = cut_strip(edge, side, inward=wide, outward_px=wide, rows=SEGMENTS, ends=reach.ends)
    return strip, told.pixels[..., 0]


def _sides(scene: Scene, edge: Pixels, quad: Quad, rough: Quad, reach: Reach) -> list[Way]:
    """The best line beside each side of an outline, where the rough one expects it."""
    spread = ASTRAY * float(np.sqrt(area(rough))) + SOFT
    sides = []
    for i in range(4):
        strip, told = _strips(scene, edge, quad, i, reach)
        expected = (rough[i] + rough[(i + 1) % 4]) / 2 - (strip.start + strip.end) / 2
        off = (strip.across - float(expected @ strip.outward)) / spread
        weighed = _weighed(strip, told, np.exp(-0.5 * off**2), reach.turns)
        sides.append(weighed.best(weighed.worth)[0])
    return sides


@frozen(eq=False)
class _Weighed:
    """All straight lines in a strip, (turns, columns): how well each is seen, how likely the network thinks it an
    edge, and its worth (all 0–1)."""

    strip: Strip
    seen: Pixels
    likely: Pixels
    worth: Floats

    def best(self, worth: Floats) -> tuple[Way, int]:
        """The line of the greatest of these worths, and the column that it crosses half-way."""
        turn, column = (int(k) for k in np.unravel_index(worth.argmax(), worth.shape))
        slope = turn - len(worth) // 2
        ends = np.array([-1.0, 1.0])
        start, end = self.strip.points(ends, self.strip.across[column] + slope * ends)
        support = min(1.0, 2 * float(self.likely[turn, column])) ** 0.5 * float(self.seen[turn, column])
        return Way(start, end, float(worth[turn, column]), support), column


def _weighed(strip: Strip, told: Pixels, expected: Floats, turns: int) -> _Weighed:
    """Of all straight lines in a strip how far each is seen all along, likely, and where one is expected."""
    middles = 2 * (np.arange(SEGMENTS) + 0.5) / SEGMENTS - 1
    slopes, columns = np.arange(-turns, turns + 1), np.arange(told.shape[1])
    at = np.clip(columns + np.rint(slopes[:, None, None] * middles[:, None]).astype(int), 0, columns[-1])
    row = np.arange(SEGMENTS)[:, None]
    seen, likely = _lines(strip)[row, at].mean(axis=1), told[row, at].mean(axis=1)
    worth = (UNSEEN + (1 - UNSEEN) * seen) ** STRAIGHT * (likely + UNLIKELY) * expected
    return _Weighed(strip, seen, likely, np.asarray(worth, np.float64))


def _lines(strip: Strip) -> Pixels:
    """How plain an edge is at each place (0–1): full from a change of `CHANGE` on, on its crest and beside it."""
    strength = coherent_edges(strip, SEGMENTS)
    crest = strength >= cv2.dilate(strength, np.ones((1, 3), np.uint8))
    plain = np.where(crest, np.minimum(strength / CHANGE, 1.0), 0.0)
    return np.asarray(cv2.dilate(plain.astype(np.float32), np.ones((1, 3), np.uint8)))
