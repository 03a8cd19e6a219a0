"""Prints in a capture, found to the pixel.

Convention (see `conventions`): picture uint8 sRGB; corners (x, y) float64, (0, 0) the centre of the first
pixel, on the paper's edge, clockwise from the corner nearest the picture's top left.

Method. The stage's colour is learnt from the margin (`stage`); what differs from it is proposed, roughly, at a
small size (`proposals`; `lines` where no mask shows an outline); each side of a proposal is searched at a middle
size for edges that run along it (`search`), what is seen beside each is weighed (`choice`), and of all outlines of
one edge a side the best is taken and the next best kept; then at full size each edge is fitted as a slightly bowed
curve to sub-pixels (`refine`), and neighbours are intersected. What was measured on the way gives the chance that
the corners are right (`confidence`).
"""

from __future__ import annotations

import numpy as np
from attrs import evolve, field, frozen

from solander.imaging.confidence import PARTED, confidence_in
from solander.imaging.conventions import Quad, Rgb, area, clockwise_from_top_left, iou, require_rgb
from solander.imaging.cores import cores_apart
from solander.imaging.empty import stage_from_empty
from solander.imaging.hands import hand_over
from solander.imaging.lines import outlines_from_lines
from solander.imaging.parting import parted
from solander.imaging.plausible import likeliest, plausible, seen_at_rim
from solander.imaging.proposals import propose
from solander.imaging.refine import Refined, refine
from solander.imaging.search import Candidate, Scene, differ, is_rival, search, with_rival
from solander.imaging.sheet_on_table import on_its_sheet
from solander.imaging.sizes import may_be_cut_short
from solander.imaging.stage import Reduced, reduce, stage_from_margin

__all__ = ["Found", "locate_prints", "look", "outlines_in"]

COARSE = 448
"""Long side at which prints are proposed."""

MIDDLE = 1024
"""Long side at which sides are searched."""

LEAST = 0.35
"""Support, lessened where the fits don't agree, below which a find is not told at all."""


@frozen
class Found:
    """One print: its corners (4, 2) and how well its outline is borne out, 0–1.

    `second` is the outline that is borne out next best, for a person to choose instead; None where nothing else
    comes near. `hand` tells that a hand or finger reaches over the print's edge. `bows` tell how far the middles
    of the sides, from the first corner on, lie outside the lines between the corners (px); None for straight ones.
    """

    corners: Quad = field(eq=lambda corners: bytes(corners.tobytes()))
    confidence: float
    second: Quad | None = field(default=None, eq=lambda corners: None if corners is None else corners.tobytes())
    hand: bool = False
    bows: tuple[float, float, float, float] | None = None


def locate_prints(rgb: Rgb, *, empty_stage: Rgb | None = None) -> tuple[Found, ...]:
    """The prints in a capture, in reading order: rows from top to bottom, in a row from left to right.

    Each is a `Found`: its four corners in pixels of `rgb`, and the chance (0–1) that these are right to .3 % of
    its diagonal. Nothing found, or nothing that can be told from the stage: an empty tuple. `empty_stage` is a
    capture of the same stage without prints, from the same place.
    """
    require_rgb(rgb)
    if min(rgb.shape[:2]) < SMALLEST_FRAME:
        return ()
    scene = look(rgb, empty_stage)
    if empty_stage is None:
        scene = on_its_sheet(scene)
    found = [_told(scene, outline, refine(scene, outline)) for outline in outlines_in(scene)]
    return _reading_order(_by_size(_with_hands(scene, [f for f in found if f is not None])))


SMALLEST_FRAME = 48

PLAIN = 0.85
"""Support from which an outline is plain, so that none is looked for by its lines."""


def outlines_in(scene: Scene) -> list[Candidate]:
    """The outlines of a scene's prints as the middle size shows them, each with its rivals."""
    candidates = _searched(scene, propose(scene.coarse, scene.stage))
    if not any(c.support > PLAIN for c in candidates):
        candidates += _searched(scene, outlines_from_lines(scene.coarse, scene.stage))
    believed = plausible(scene, candidates)
    alone = _without_rivals(believed)
    # What is no print itself may be a piece of one that no mask outlined: then the network is asked, too.
    if not alone or any(outline.support <= PLAIN for outline in _without_rivals(candidates)):
        alone = _without_rivals(believed + _likely_beside(scene, alone))
    alone = [_or_as_likely(scene, outline, alone) for outline in alone]
    return [_with_what_was_seen(outline, alone) for outline in parted(scene, alone)]


def _or_as_likely(scene: Scene, outline: Candidate, alone: list[Candidate]) -> Candidate:
    """The outline, or in its place what is borne out where the small network sees that print otherwise: if that is
    plainly better, or if it holds the outline as a print does its picture."""
    seen = max(_network_outlines(scene), key=lambda quad: iou(quad, outline.quad), default=None)
    if seen is None or iou(seen, outline.quad) >= AGREED:
        return outline
    if any(other is not outline and _overlap(seen, other.quad) > SHARED for other in alone):
        return outline
    other = search(scene, scene.coarse.from_full(scene.middle.to_full(seen)))
    if other is None or iou(seen, other.quad) < AGREED or other.support < SEEN_TOO:
        return outline
    holds = area(other.quad) > area(outline.quad) and _overlap(outline.quad, other.quad) > HELD
    return with_rival(other, outline) if holds or other.merit > outline.merit + BETTER else outline


AGREED = 0.94
"""Overlap (IoU) from which the network's outline and another are the same: in nine of ten captures it is more."""

SEEN_TOO = 0.75
BETTER = 1.0
HELD = 0.95
"""Support of an outline as the network sees it from which it is believed, merit by which it must be better, and
share of the other outline that it holds where it need not be."""


def _likely_beside(scene: Scene, alone: list[Candidate]) -> list[Candidate]:
    """What is borne out where the small network sees prints, beside those that are plain already."""
    plain = [outline.quad for outline in alone if outline.support > PLAIN]
    seen = plausible(scene, _searched(scene, _likely(scene)))
    return [c for c in seen if all(_overlap(c.quad, quad) < SHARED for quad in plain)]


def _with_what_was_seen(outline: Candidate, alone: list[Candidate]) -> Candidate:
    """An outline that parting moved a little, with what the search saw of its sides, and with its rivals."""
    for before in alone:
        if not outline.chosen and iou(before.quad, outline.quad) > SAME:
            return evolve(outline, merit=before.merit, chosen=before.chosen, rivals=before.rivals)
    return outline


SAME = 0.9
"""Overlap (IoU) from which two outlines are of the same print."""


def _likely(scene: Scene) -> list[Quad]:
    """Rough outlines where the small network sees prints, in pixels of the coarse copy."""
    return [scene.coarse.from_full(scene.middle.to_full(quad)) for quad in _network_outlines(scene)]


def _network_outlines(scene: Scene) -> list[Quad]:
    """Rough outlines where the small network sees prints; none without its weights."""
    return [] if scene.likely is None else cores_apart(scene.likely)


def _searched(scene: Scene, outlines: list[Quad]) -> list[Candidate]:
    """What the edges around rough outlines bear out; each print that is plain is searched once."""
    found: list[Candidate] = []
    for rough in likeliest(scene, outlines):
        quad = scene.middle.from_full(scene.coarse.to_full(rough))
        if any(c.support > PLAIN and iou(c.quad, quad) > SAME for c in found):
            continue
        candidate = search(scene, rough)
        if candidate is not None:
            found.append(candidate)
    return found


def look(rgb: Rgb, empty_stage: Rgb | None = None) -> Scene:
    """The capture at its three sizes, its stage learnt."""
    middle = reduce(rgb, MIDDLE)
    again = reduce(middle.rgb, COARSE)
    coarse = Reduced(again.rgb, again.scale * middle.scale)
    stage = stage_from_margin(coarse) if empty_stage is None else stage_from_empty(coarse, empty_stage)
    return Scene(rgb, middle, coarse, stage)


SHARED = 0.15
"""Share of the smaller of two outlines from which they can't both be prints."""


def _without_rivals(candidates: list[Candidate]) -> list[Candidate]:
    """Of outlines that overlap, the one with most support; the larger where the smaller is hardly better. Another
    that is borne out nearly as well stays as its rival."""
    kept: list[Candidate] = []
    for candidate in sorted(candidates, key=lambda c: -c.support * area(c.quad) ** 0.2):
        over = [i for i, k in enumerate(kept) if _overlap(candidate.quad, k.quad) >= SHARED]
        if candidate.support >= LEAST and not over:
            kept.append(candidate)
        elif len(over) == 1 and _borders(candidate, kept[over[0]]):
            kept[over[0]] = with_rival(candidate, kept[over[0]])
        elif len(over) == 1 and is_rival(candidate, kept[over[0]]):
            kept[over[0]] = with_rival(kept[over[0]], candidate)
    return kept


def _borders(outer: Candidate, inner: Candidate) -> bool:
    """Whether an outline lies around another as a faint white border does: hardly seen, but better borne out by
    its four sides together."""
    larger = outer.support >= LEAST and area(outer.quad) > area(inner.quad)
    return larger and bool(inner.chosen) and outer.merit > inner.merit


def _overlap(a: Quad, b: Quad) -> float:
    """Shared area over the smaller of the two."""
    shared = iou(a, b)
    together = area(a) + area(b)
    return shared / (1 + shared) * together / min(area(a), area(b))


def _told(scene: Scene, candidate: Candidate, refined: Refined) -> Found | None:
    """The find, or None where its sides are hardly seen or it is no print's shape."""
    seen = candidate.support * (0.5 + 0.5 * float(np.mean(refined.agreement or (0.0,))))
    if seen < LEAST or _slim(refined.corners):
        return None
    corners = clockwise_from_top_left(refined.corners)
    first = int(np.linalg.norm(refined.corners - corners[0], axis=1).argmin())
    top, right, bottom, left = np.roll(refined.bows or (0.0,) * 4, -first).tolist()
    bows = (top, right, bottom, left) if refined.bows else None
    sure = confidence_in(candidate, refined, at_rim=seen_at_rim(scene, scene.middle.from_full(corners)))
    return Found(corners, sure, _second(scene, candidate, refined.corners), bows=bows)


SLIMMEST = 0.22
"""Short side over long side of the slimmest print: rulers are slimmer, a panorama of 6 × 17 cm has 0.35
(common practice, no source). A strip of a photo booth, 4 × 20 cm, has to be outlined by hand."""


def _slim(quad: Quad) -> bool:
    sides = np.linalg.norm(np.roll(quad, -1, axis=0) - quad, axis=1)
    return bool(sides[:2].min() < SLIMMEST * sides.max() or sides[2:].min() < SLIMMEST * sides.max())


def _by_size(found: list[Found]) -> list[Found]:
    """The finds, a person to be asked about those that are a little smaller than another: a border may be lost."""
    corners = [f.corners for f in found]
    cut = [may_be_cut_short(quad, corners[:i] + corners[i + 1 :]) for i, quad in enumerate(corners)]
    return [
        evolve(f, confidence=PARTED * f.confidence) if short else f for f, short in zip(found, cut, strict=True)
    ]


def _with_hands(scene: Scene, found: list[Found]) -> list[Found]:
    """The finds, those marked over whose edge a hand reaches; beside them nothing unsure, for it is the hand."""
    sure = [f for f in found if f.confidence >= UNSURE]
    marked = [_marked(scene, f, [g.corners for g in sure if g is not f]) for f in found]
    return [f for f in marked if f.confidence >= UNSURE or not any(g.hand for g in marked if g is not f)]


def _marked(scene: Scene, found: Found, others: list[Quad]) -> Found:
    """The find, marked where a hand reaches over its edge: part of it is hidden, so a person is asked."""
    if not hand_over(scene, found.corners, others):
        return found
    return evolve(found, hand=True, confidence=min(found.confidence, UNDER_A_HAND))


UNDER_A_HAND = 0.85
"""Most confidence in an outline over which a hand reaches: below what is accepted without asking."""

UNSURE = 0.1
"""Confidence below which a find beside a hand is taken for the hand itself."""


def _second(scene: Scene, candidate: Candidate, corners: Quad) -> Quad | None:
    """The best rival that is near enough, to sub-pixels, unless it comes to the same."""
    if not candidate.rivals or candidate.margin > NEAR:
        return None
    second = refine(scene, candidate.rivals[0]).corners
    return clockwise_from_top_left(second) if differ(second, corners) else None


NEAR = 5.0
"""Merit by which the next best outline may be behind and still be offered: 1 to 150."""


def _reading_order(found: list[Found]) -> tuple[Found, ...]:
    """Rows from top to bottom, left to right in each; a print belongs to a row when its middle lies within half of
    the height of the row's first print."""
    waiting = sorted(found, key=lambda f: float(f.corners[:, 1].mean()))
    ordered: list[Found] = []
    while waiting:
        first = waiting[0]
        middle, height = float(first.corners[:, 1].mean()), float(np.ptp(first.corners[:, 1]))
        row = [f for f in waiting if float(f.corners[:, 1].mean()) <= middle + height / 2]
        ordered += sorted(row, key=lambda f: float(f.corners[:, 0].mean()))
        waiting = waiting[len(row) :]
    return tuple(ordered)
