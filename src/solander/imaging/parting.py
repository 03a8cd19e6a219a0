"""Prints that touch: one blob parted into the rectangles that cover it.

Convention (see `conventions`): corners in pixels of the middle copy, clockwise.

Method. Prints that touch differ from the stage as one blob. Its straight lines are looked for along the few
directions that its line segments share: a line holds where changes across it, added up along it, go on for at
least the shortest side of a print. Rectangles between such lines are prints when an edge is seen along all four
sides, corners included (the frame of a picture inside its white border stops short of them). Of all sets of such
rectangles the one is taken that covers most of the blob without overlapping; one that two others share exactly is
left out, for the seam between them was seen from end to end. Common proportions count a little.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import cv2
import numpy as np
from attrs import evolve
from numpy.typing import NDArray

from solander.imaging.conventions import Quad
from solander.imaging.cores import cores_apart
from solander.imaging.edges import coherent_edges, cut_strip, meet, vote_lines
from solander.imaging.neighbours import told_apart
from solander.imaging.one_sheet import one_sheet
from solander.imaging.rectangles import CHANGE, SHORTEST, Rectangle, rectangles
from solander.imaging.seams import ENDS, plain_lines, to_their_edges
from solander.imaging.search import Candidate, Scene
from solander.imaging.stage import to_lab

__all__ = ["parted"]

Mask = NDArray[np.uint8]
Floats = NDArray[np.float64]
Pixels = NDArray[np.float32]

DISTANCE = 3.0
"""Spreads from the stage from which a place belongs to a blob."""

EXPLAINED = 0.9
"""Share of a blob that one outline fills, and of the outline that the blob fills, when they are the same thing."""


def parted(scene: Scene, chosen: Sequence[Candidate]) -> list[Candidate]:
    """The outlines chosen, those of blobs that are several prints replaced by their parts."""
    kept = list(chosen)
    seen = scene.likely
    rough = [] if seen is None else cores_apart(seen)
    for blob in _blobs(scene):
        here = [c for c in kept if _lies_in(scene, c, blob)]
        cores = [quad for quad in rough if _holds(scene, quad, blob)]
        whole = len(here) == 1 and here[0].support > PLAIN and _explains(scene, here[0], blob)
        if whole and len(cores) < 2 and (seen is not None or not _seamed(scene, here[0])):
            continue  # a seam alone may be the horizon of one picture: the network, where it is there, is asked
        parts = told = _told_apart(scene, cores, blob)
        if not parts or _weakest(parts) < SIDES_PLAIN:
            parts = max(parts, _parts(scene, blob), key=lambda some: _worth(scene, some, blob))
        if here and len(parts) < 2 and not _at_the_frame(blob):
            continue  # one print and no hand: the search, which knows the stage, outlines it better
        if parts and _weakest(parts) < SIDES_PLAIN and any(c.support > PLAIN for c in here):
            continue  # what is seen on all four sides gives way only to parts that are, too
        if _worth(scene, parts, blob) > (PARTED if whole or parts is told else BETTER) * _worth(scene, here, blob):
            if whole and one_sheet(scene, here[0], parts):
                parts = [evolve(here[0], doubted=True)]  # a door or window from edge to edge of one picture
            kept = [c for c in kept if not any(c is h for h in here)] + parts
    return kept


def _weakest(parts: Sequence[Candidate]) -> float:
    return min(part.support for part in parts)


def _at_the_frame(blob: Mask) -> bool:
    return bool(blob[0].any() or blob[-1].any() or blob[:, 0].any() or blob[:, -1].any())


PLAIN = 0.85
"""Support from which an outline of a whole blob is doubted only where a seam runs through it."""

BETTER = 1.05
"""How much more the parts of a blob must be worth than the outlines found in it before."""


def _worth(scene: Scene, outlines: Sequence[Candidate], blob: Mask) -> float:
    """What outlines are worth as an account of a blob: its places in them, less where they hold stage as well."""
    worth = 0.0
    for outline in outlines:
        held = blob[_coarse_mask(scene, outline.quad, blob.shape)]
        worth += outline.support * float(held.sum() * held.mean()) if held.size else 0.0
    return worth


def _blobs(scene: Scene) -> Iterator[Mask]:
    """What differs from the stage and could be two prints, each as a mask of the coarse copy's size."""
    distant = (scene.stage.distance > DISTANCE).astype(np.uint8)
    small, size = _disc(0.004 * max(distant.shape)), _disc(0.006 * max(distant.shape))
    closed = cv2.morphologyEx(cv2.morphologyEx(distant, cv2.MORPH_OPEN, small), cv2.MORPH_CLOSE, size)
    smallest = 1.5 * (SHORTEST * max(distant.shape)) ** 2
    for contour in cv2.findContours(closed, cv2.RETR_EXTERNAL, cv2.CHAIN_APPROX_SIMPLE)[0]:
        if cv2.contourArea(contour) > smallest:
            blob = np.zeros_like(distant)
            cv2.drawContours(blob, [contour], -1, (1,), -1)
            yield blob


def _disc(radius: float) -> Mask:
    size = 2 * max(1, round(radius)) + 1
    return np.asarray(cv2.getStructuringElement(cv2.MORPH_ELLIPSE, (size, size)), np.uint8)


def _lies_in(scene: Scene, candidate: Candidate, blob: Mask) -> bool:
    return _holds(scene, candidate.quad, blob)


def _holds(scene: Scene, quad: Quad, blob: Mask) -> bool:
    mask = _coarse_mask(scene, quad, blob.shape)
    return bool(blob[mask].mean() > 0.5) if mask.any() else False


def _explains(scene: Scene, candidate: Candidate, blob: Mask) -> bool:
    mask = _coarse_mask(scene, candidate.quad, blob.shape)
    shared = float(blob[mask].sum())
    return shared > EXPLAINED * max(float(mask.sum()), float(blob.sum()))


def _coarse_mask(scene: Scene, quad: Quad, shape: tuple[int, ...]) -> NDArray[np.bool_]:
    return _drawn(scene.coarse.from_full(scene.middle.to_full(quad)), shape)


def _seamed(scene: Scene, candidate: Candidate) -> bool:
    """Whether an edge runs through the outline from side to side where it would leave two of a print's shape."""
    quad = candidate.quad
    for i in (0, 1):
        width = float(np.linalg.norm(quad[(i + 1) % 4] - quad[i]))
        depth = float(np.linalg.norm(quad[i - 1] - quad[i]))
        first = SLIMMEST * min(width, depth) if depth < width / SLIMMEST else SLIMMEST * width
        if 2 * first < depth and _crossed(scene, quad, i, (first, depth)):
            return True
    return False


SLIMMEST = 0.58
"""Short side over long side of the slimmest print that touches another: a carte de visite has 0.6."""


def _crossed(scene: Scene, quad: Quad, i: int, between: tuple[float, float]) -> bool:
    """Whether an edge parallel to side `i` is seen all along, at least `between[0]` from it and its opposite."""
    start, end = quad[i], quad[(i + 1) % 4]
    first, depth = between
    share = first / depth
    near = (start + (quad[i - 1] - start) * share, end + (quad[(i + 2) % 4] - end) * share)
    strip = cut_strip(scene.middle.rgb, near, inward=depth - 2 * first, outward_px=0.0, rows=96, ends=ENDS)
    lines = plain_lines(evolve(strip, pixels=to_lab(strip.pixels)))
    return any(line.coverage > THROUGH for line in lines)


THROUGH = 0.93
"""Share of its length on which a seam is seen."""


def _told_apart(scene: Scene, cores: Sequence[Quad], blob: Mask) -> list[Candidate]:
    """The prints that the network tells apart in a blob, where their sides are seen and they cover it; or none."""
    if len(cores) < 2:
        return []
    parts = told_apart(scene, cores, _at_middle(scene, blob))
    covered = np.any([_coarse_mask(scene, part.quad, blob.shape) for part in parts], axis=0)
    if min(part.support for part in parts) < SIDES_SEEN or float(covered[blob > 0].mean()) < EXPLAINED:
        return []
    return [_vouched(scene, one, [c for c in parts if c is not one]) for one in parts]


SIDES_SEEN = 0.4
"""Support of a print's four sides from which the network is believed that it is one."""

SIDES_PLAIN = 0.6
"""Support of every print from which no other account of the blob is looked for."""


def _at_middle(scene: Scene, blob: Mask) -> Mask:
    wide, high = scene.middle.rgb.shape[1::-1]
    return np.asarray(cv2.resize(blob, (wide, high), interpolation=cv2.INTER_NEAREST), np.uint8)


def _parts(scene: Scene, blob: Mask) -> list[Candidate]:
    """The prints that a blob is made of; none where no set of rectangles is borne out."""
    here = _at_middle(scene, blob)
    settled = [c for one in rectangles(scene, here) if (c := _settled(scene, one)) is not None]
    chosen = _cover(settled, blob, scene)
    for _ in range(2):  # frames stop short of a side's ends only when the neighbouring sides are right
        chosen = to_their_edges(scene, chosen, here)
    return [_vouched(scene, one, [c for c in chosen if c is not one]) for one in chosen]


def _vouched(scene: Scene, one: Candidate, others: Sequence[Candidate]) -> Candidate:
    """The part, its support lessened by the share of its sides beyond which lies neither stage nor a print."""
    shape = scene.stage.distance.shape
    known = scene.stage.distance < DISTANCE
    for other in others:
        known |= _coarse_mask(scene, other.quad, shape)
    ring = _coarse_mask(scene, one.quad, shape).astype(np.uint8)
    outer = cv2.dilate(ring, _disc(4)) - cv2.dilate(ring, _disc(2))
    beyond = float(known[outer > 0].mean()) if outer.any() else 0.0
    return evolve(one, support=one.support * (0.4 + 0.6 * min(1.0, beyond / 0.9)))


WELL = 0.87
"""Support from which a rectangle counts as well borne out."""

MOST_PRINTS = 12
BEAM = 12

TWICE = 0.1
"""Share of a part that may lie on others: two lines' worth of doubt where they meet."""


def _cover(parts: Sequence[Candidate], blob: Mask, scene: Scene) -> list[Candidate]:
    """The set of parts that covers most of the blob, well and without overlap.

    A part that others share exactly counts less than they do: the seam between them was seen from end to end."""
    shape = (blob.shape[0] // 2, blob.shape[1] // 2)
    scale = np.array([shape[1], shape[0]]) / np.array(scene.middle.rgb.shape[1::-1])
    masks = np.array([_drawn((p.quad + 0.5) * scale - 0.5, shape).ravel() for p in parts], np.float32)
    if not len(masks):
        return []
    common = masks @ masks.T
    size = np.diag(common)
    worth = np.array([p.support**2 for p in parts]) * size
    well = np.array([p.support >= WELL for p in parts])
    for whole in range(len(parts)):
        within = (common[whole] > 0.95 * size) & (size < 0.75 * size[whole]) & well
        if within.sum() > 1:
            shares = _best_set(np.nonzero(within)[0], size, common)
            if size[list(shares)].sum() > 0.9 * size[whole]:
                worth[whole] *= PARTED
    return [parts[i] for i in _best_set(np.arange(len(parts)), worth, common)]


PARTED = 0.6
"""What a part counts that others share: less than they, more than nothing."""


def _best_set(among: NDArray[np.int64], worth: Pixels, common: Pixels) -> tuple[int, ...]:
    """Of the parts `among`, those that together are worth most without overlapping: a beam search, in which
    sets are kept that lose least on what they cover."""
    size = np.diag(common)
    beam: list[tuple[float, float, tuple[int, ...]]] = [(0.0, 0.0, ())]
    champion = beam[0][1:]
    for _ in range(MOST_PRINTS):
        grown: dict[tuple[int, ...], tuple[float, float]] = {}
        for rank, score, chosen in beam:
            twice = common[:, list(chosen)].sum(axis=1)
            for i in among[twice[among] <= TWICE * size[among]]:
                gain = float(worth[i] - 2 * twice[i])
                grown[tuple(sorted((*chosen, int(i))))] = (rank + gain - FAIR * float(size[i]), score + gain)
        if not grown:
            break
        beam = sorted(((rank, score, chosen) for chosen, (rank, score) in grown.items()), reverse=True)[:BEAM]
        champion = max(champion, *(state[1:] for state in beam))
    return champion[1]


FAIR = 0.85
"""Worth of a part, as a share of its size, that speaks neither for nor against a set."""


def _drawn(quad: Quad, shape: tuple[int, ...]) -> NDArray[np.bool_]:
    mask = np.zeros(shape, np.uint8)
    cv2.fillConvexPoly(mask, np.rint(quad * 16).astype(np.int32), 1, shift=4)
    return mask > 0


def _settled(scene: Scene, found: Rectangle) -> Candidate | None:
    """The part with each side moved to the edge seen nearest: between prints there is no stage to go by."""
    quad, cover = found.quad, list[float]()
    for reach in (5.0, 4.0):
        sides = []
        cover = []
        for start, end in zip(quad, np.roll(quad, -1, axis=0), strict=True):
            strip = cut_strip(scene.middle.lab, (start, end), inward=reach, outward_px=reach, rows=96)
            strength = coherent_edges(strip, 12)
            lines = vote_lines(strength, strip, reach=3, bows=(0.0,), noise=CHANGE / 2)
            if not lines:
                return None
            line = max(lines, key=lambda one: one.strength * one.coverage**2)
            points = strip.points(np.array([-1.0, 1.0]), line.middle + line.slope * np.array([-1.0, 1.0]))
            sides.append((points[0], points[1]))
            cover.append(line.coverage)
        met = meet(sides)
        if met is None:
            return None
        quad = met
    support = (0.5 * float(np.mean(cover)) + 0.5 * min(cover)) * found.merit
    return Candidate(quad, (0.0, 0.0, 0.0, 0.0), support)
