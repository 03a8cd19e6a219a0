"""A stage that is a sheet of card on a table, its edges in the frame: not a print, but what prints lie on.

Convention (see `conventions`): outlines in pixels of the middle copy, masks and stage models of the coarse one.

Method. The margin shows the table, so that the sheet is what differs. When a large region differs whose rim is
all of one colour, that colour is taken for a second stage and prints are sought on it. Found, they count, unless
one lies square and central in the sheet: then the sheet may be the mount or border of that print. A plain sheet of
a colour that no photographic paper has is a stage on which nothing lies. Where it is the stage that the margin
shows most of, the table is what differs along the frame and leaves a convex stage.
"""

from __future__ import annotations

import cv2
import numpy as np
from attrs import evolve
from numpy.typing import NDArray

from solander.imaging.conventions import Quad, area, clockwise_from_top_left, diagonal, iou
from solander.imaging.cores import cores_apart
from solander.imaging.proposals import propose
from solander.imaging.search import Scene, search
from solander.imaging.stage import STAGE_LIKE, StageModel, margin_of, modelled, smoothed, spread_of

__all__ = ["is_mounted", "on_its_sheet"]

Mask = NDArray[np.uint8]

LARGE = 0.25
"""Share of the frame from which a region may be a sheet on which prints lie."""

ONE_COLOUR = 0.8
"""Share of the region's rim that one colour must explain."""

GOOD = 0.8
"""Support from which an outline found on the sheet counts."""


def on_its_sheet(scene: Scene) -> Scene:
    """The scene with the sheet as its stage, where there is one with a print or with nothing upon it; else the
    scene itself."""
    region = _large_region(scene)
    sheet = None if region is None else _as_stage(scene, region)
    if region is None or sheet is None:
        return _beside_the_table(scene)
    plain = float((sheet.distance < STAGE_LIKE)[region > 0].mean())
    own = _outline(scene, region)
    if not _coloured(sheet, region) and (plain < BORDER or _is_one_print(scene, own)):
        return _beside_the_table(scene)
    on_sheet = evolve(scene, stage=sheet)
    upon = [rough for rough in propose(scene.coarse, sheet) if _lies_upon(scene, _at_middle(scene, rough), region)]
    if any(is_mounted(_at_middle(scene, rough), own) for rough in upon):
        return _beside_the_table(scene)
    if any(found is not None and found.support >= GOOD for found in (search(on_sheet, rough) for rough in upon)):
        return on_sheet
    bare = plain > ONE_COLOUR and _coloured(sheet, region) and region.mean() > BARE
    return on_sheet if bare else _beside_the_table(scene)


def _is_one_print(scene: Scene, own: Quad) -> bool:
    """Whether the small network sees the whole sheet as one print: the words on a back are no prints upon it."""
    return scene.likely is not None and any(iou(seen, own) > ONE_PRINT for seen in cores_apart(scene.likely))


ONE_PRINT = 0.9
"""Overlap (IoU) from which what the network sees is the sheet itself."""

BORDER = 0.4
"""Share of a region of paper's colour that is plain, up to which it may be white borders of prints: 7 mm around a
sheet of 6 × 9 cm are 0.35."""

BARE = 0.4
"""Share of the frame that a bare sheet fills: it was meant to be the stage."""


def _beside_the_table(scene: Scene) -> Scene:
    """The scene whose stage is known to end in the frame, where what lies beyond it is a table with nothing on it:
    one or more regions along the frame that leave a convex stage. Else the scene itself."""
    stage = scene.stage
    away = _opened(stage.distance > STAGE_LIKE)  # not closed: a print may lie near the table
    number, labels = cv2.connectedComponents(away, connectivity=4)
    margin = labels[margin_of(*labels.shape)]
    along = np.bincount(margin[margin > 0], minlength=number) / margin.size
    table = (along > BESIDE)[labels]
    if not table.any() or not _convex(~table) or _print_on(scene, table):
        return scene
    known = evolve(stage, distance=np.where(table, np.float32(0), stage.distance), explained=1.0)
    return evolve(scene, stage=known)


BESIDE = 0.1
"""Share of the margin from which what differs may be the table beside the stage: an arm reaches over less."""


def _convex(stage: NDArray[np.bool_]) -> bool:
    """Whether the stage is large enough, of one piece and convex, as a sheet cut by the frame is."""
    contours = cv2.findContours(stage.astype(np.uint8), cv2.RETR_EXTERNAL, cv2.CHAIN_APPROX_NONE)[0]
    largest = max(contours, key=cv2.contourArea, default=None)
    if largest is None or cv2.contourArea(largest) < LARGE * stage.size:
        return False
    return bool(cv2.contourArea(largest) > CONVEX * cv2.contourArea(cv2.convexHull(largest)))


CONVEX = 0.97
"""Share of its hull that the stage fills: prints and hands at its edge make dents."""


def _print_on(scene: Scene, table: NDArray[np.bool_]) -> bool:
    """Whether the small network sees print there; True without its weights, for nobody else can tell."""
    seen = scene.likely
    if seen is None:
        return True
    there = cv2.resize(table.astype(np.uint8), seen.core.shape[::-1], interpolation=cv2.INTER_NEAREST)
    return bool((seen.core[there > 0] > 0.5).any())


DISC = cv2.getStructuringElement(cv2.MORPH_ELLIPSE, (7, 7))


def _opened(places: NDArray[np.bool_]) -> Mask:
    return np.asarray(cv2.morphologyEx(places.astype(np.uint8), cv2.MORPH_OPEN, DISC), np.uint8)


def _closed(places: NDArray[np.bool_]) -> Mask:
    return np.asarray(cv2.morphologyEx(_opened(places), cv2.MORPH_CLOSE, DISC), np.uint8)


def _outline(scene: Scene, region: Mask) -> Quad:
    (rim,) = cv2.findContours(region, cv2.RETR_EXTERNAL, cv2.CHAIN_APPROX_SIMPLE)[0]
    points = cv2.boxPoints(cv2.minAreaRect(rim))
    return _at_middle(scene, clockwise_from_top_left(points))


def _large_region(scene: Scene) -> Mask | None:
    """The largest region that differs from the stage, holes filled; None where it is no sheet's size."""
    distant = _closed(scene.stage.distance > STAGE_LIKE)
    contours = cv2.findContours(distant, cv2.RETR_EXTERNAL, cv2.CHAIN_APPROX_SIMPLE)[0]
    largest = max(contours, key=cv2.contourArea, default=None)
    if largest is None or cv2.contourArea(largest) < LARGE * distant.size:
        return None
    around = cv2.minAreaRect(largest)[1]
    if cv2.contourArea(largest) < RECTANGULAR * around[0] * around[1]:
        return None
    region = np.zeros(distant.shape, np.uint8)
    cv2.drawContours(region, [largest], -1, (1,), -1)
    return region


RECTANGULAR = 0.8
"""Share of the rectangle around it that a sheet fills, cut by the frame or not; prints that touch mostly less."""


def _as_stage(scene: Scene, region: Mask) -> StageModel | None:
    """The region's rim as a stage, or None where it isn't of one colour."""
    framed = cv2.copyMakeBorder(region, 1, 1, 1, 1, cv2.BORDER_REPLICATE)  # the frame's edge is no rim
    near, far = (cv2.erode(framed, np.ones((2 * r + 1,) * 2, np.uint8))[1:-1, 1:-1] for r in RIM)
    rim = (near > 0) & (far == 0)
    if rim.sum() < 200:
        return None
    model = _evenly_coloured(smoothed(scene.coarse.lab), rim)
    explained = float((model.distance[rim] < STAGE_LIKE).mean())
    even = model.spread.max() <= EVEN
    return _alone(model, region, explained) if even and explained >= ONE_COLOUR else None


def _alone(model: StageModel, region: Mask, explained: float) -> StageModel:
    """The sheet's model, the table beyond it counted as stage too: around the sheet it would enclose all on it."""
    return evolve(model, distance=np.where(region > 0, model.distance, np.float32(0)), explained=explained)


EVEN = 2.5
"""Lab units by which a sheet's colour may vary: card, felt and wood had 0.8, the rims of borderless pictures that
were taken for one colour 4.8 and more."""


def _evenly_coloured(lab: NDArray[np.float32], rim: NDArray[np.bool_]) -> StageModel:
    """A stage whose colour is a plane over the frame, fitted to the rim's (trimmed least squares)."""
    height, width = rim.shape
    row, column = np.nonzero(rim)
    basis = np.stack([np.ones(len(row)), column / width - 0.5, row / height - 0.5], axis=1)
    colours = lab[rim].astype(np.float64)
    off = np.linalg.norm(colours - np.median(colours, axis=0), axis=1)
    kept = off < max(14.0, 1.5 * float(np.median(off)))
    for _ in range(4):
        plane = np.linalg.lstsq(basis[kept], colours[kept], rcond=None)[0]
        residual = colours - basis @ plane
        spread = spread_of(residual[kept].astype(np.float32))
        kept = (np.abs(residual) / spread).max(axis=1) < STAGE_LIKE
    x, y = ((np.arange(side, dtype=np.float32) / side - 0.5) for side in (width, height))
    planes = [level + across * x + down * y[:, None] for level, across, down in plane.T.astype(np.float32)]
    return modelled(lab, np.asarray(cv2.merge(planes), np.float32), spread)


RIM = (3, 9)
"""Pixels inside the region's edge between which its rim lies: beyond the edge's blur and a shadow's."""


def _at_middle(scene: Scene, quad: Quad) -> Quad:
    return scene.middle.from_full(scene.coarse.to_full(quad))


def _coarse(scene: Scene, quad: Quad) -> Quad:
    return scene.coarse.from_full(scene.middle.to_full(quad))


def _filled(scene: Scene, quad: Quad) -> NDArray[np.bool_]:
    mask = np.zeros(scene.stage.distance.shape, np.uint8)
    cv2.fillConvexPoly(mask, np.rint(_coarse(scene, quad) * 16).astype(np.int32), (1,), shift=4)
    return mask > 0


def _lies_upon(scene: Scene, quad: Quad, region: Mask) -> bool:
    mask = _filled(scene, quad)
    inside = float(region[mask].mean()) if mask.any() else 0.0
    return inside > 0.97 and float(mask.sum()) < UPON * float(region.sum())


UPON = 0.85
"""Largest share of the sheet that a print upon it covers."""


def is_mounted(inner: Quad, outer: Quad) -> bool:
    """Whether one outline lies square and nearly central in the other, as a picture in its border or mount."""
    along = (outer[1] - outer[0]) / np.linalg.norm(outer[1] - outer[0])
    shift = (inner.mean(axis=0) - outer.mean(axis=0)) / diagonal(outer)
    less, more = np.sort(np.abs([shift @ along, shift[1] * along[0] - shift[0] * along[1]]))
    turned = (_turns(inner) - _turns(outer).mean() + 45) % 90 - 45
    central = less < CENTRAL and more < WIDE_FOOT
    return bool(central and np.abs(turned).mean() < SQUARE_DEG and area(inner) > 0.3 * area(outer))


def _turns(quad: Quad) -> NDArray[np.float64]:
    """By how much each side is turned from level or upright, degrees from -45 to 45."""
    ahead = np.roll(quad, -1, axis=0) - quad
    return (np.degrees(np.arctan2(ahead[:, 1], ahead[:, 0])) + 45) % 90 - 45


CENTRAL, WIDE_FOOT = 0.02, 0.08
SQUARE_DEG = 1.5
"""Shift of the middles (diagonals) across and along, and turn, up to which an outline is a picture's in its
border or mount: an instant print's wide foot shifts it by .06 (common practice, no source)."""


def _coloured(sheet: StageModel, region: Mask) -> bool:
    """Whether the sheet has a colour that paper for prints doesn't: dark, or plainly coloured."""
    light, a, b = np.median(sheet.colour[region > 0], axis=0)
    return bool(light < 66 or np.hypot(a, b) > 30)
