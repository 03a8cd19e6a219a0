"""Stages, lamps and cameras drawn by chance: what a real person's stand, table or scanner looks like.

Strengths are our own choice (common practice, no source): a prepared stage is evenly lit, by one or two soft
lamps, now and then with the soft shadow of the stand's arm; a household is as it is.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from solander.imaging.simulate.camera import Camera
from solander.imaging.simulate.draws import Draw
from solander.imaging.simulate.geometry import Placement, Points
from solander.imaging.simulate.shadows import Cast, Glare, Shadow
from solander.imaging.simulate.stages import STAGES, Around, Stage
from solander.imaging.simulate.things import Pencil, Ruler

__all__ = ["camera", "casts", "glare", "lamps", "rulers", "stage"]

_Colour = tuple[int, int, int]

_PLAIN = {"grey stage": "grey", "blue stage": "blue", "green stage": "green", "black felt": "black felt"}
_PREPARED = ("grey", "blue", "green", "black felt")
_KINDS: dict[str, tuple[str, ...]] = {
    **{case: (kind,) for case, kind in _PLAIN.items()},
    "wood": ("wood",),
    "white on white": ("white paper", "white paper", "flatbed lid"),
    "dark on black": ("black felt", "black card"),
    "stage edge": (*_PREPARED, "black card", "white paper"),
    "flatbed": ("flatbed lid",),
    "flatbed touching": ("flatbed lid",),
    "album page": ("album leaf",),
    "household": ("carpet", "cloth", "wood", "tiles", "stone"),
    "empty": (*_PREPARED, *_PREPARED, "black card", "white paper", "flatbed lid", "wood", "cloth", "stone"),
}
_COLOURS: dict[str, tuple[_Colour, ...]] = {
    "wood": ((142, 98, 62), (96, 60, 38), (186, 148, 104), (70, 42, 30), (206, 184, 150), (120, 112, 104)),
    "cloth": ((70, 82, 110), (40, 42, 52), (150, 140, 122), (110, 40, 44), (200, 194, 180), (60, 84, 66)),
    "carpet": ((150, 128, 98), (120, 96, 66), (176, 166, 148), (84, 88, 96), (110, 60, 54)),
    "tiles": ((176, 164, 146), (204, 198, 186), (140, 108, 88), (120, 122, 124)),
    "stone": ((186, 184, 178), (150, 146, 140), (84, 84, 86), (206, 200, 188)),
    "album leaf": ((48, 46, 44), (36, 36, 36), (120, 112, 98), (214, 200, 172), (84, 88, 84)),
}
_AROUND = ("wood", "wood", "cloth", "white paper", "carpet", "stone", "grey", "tiles")


def stage(draw: Draw, outlines: Sequence[Points], px_per_mm: float) -> Stage:
    """What lies below; `outlines` are those of the prints, which it has to hold."""
    kind = draw.one_of(_KINDS.get(draw.case, _PREPARED))
    bounded = {"stage edge": 1.0, "album page": 0.5, "empty": 0.25}.get(draw.case, 0.0)
    return Stage(
        kind,
        unevenness=0.03 if kind == "flatbed lid" else draw.between(0.04, 0.25),
        colour=_colour(draw, kind),
        px_per_mm=px_per_mm,
        lint=int(draw.rng.integers(0, 9)) if draw.often(0.3) else 0,
        scratches=int(draw.rng.integers(1, 5)) if draw.case == "empty" and draw.often(0.3) else 0,
        around=_around(draw, outlines, kind) if draw.often(bounded) else None,
    )


def _colour(draw: Draw, kind: str) -> _Colour:
    """One that such a surface has; no two cards are of quite the same."""
    colour = draw.one_of(_COLOURS.get(kind, (STAGES[kind][0],)))
    lighter = draw.between(0.92, 1.06)
    red, green, blue = (int(np.clip(part * lighter + draw.between(-3, 3), 0, 252)) for part in colour)
    return red, green, blue


def _around(draw: Draw, outlines: Sequence[Points], kind: str) -> Around:
    """A stage that ends within the frame on some sides; all four only below a print, which tells it from one."""
    size, angle = np.asarray(draw.size, float), np.deg2rad(draw.between(-6, 6))
    turn = np.array([[np.cos(angle), np.sin(angle)], [-np.sin(angle), np.cos(angle)]])
    middle, half = size / 2, np.abs(turn).T @ size / 2
    held = np.concatenate(outlines) if outlines else middle + np.array([[-1], [1]]) * 0.5 * half
    local = (held - middle) @ turn.T
    gap = draw.between(0.006, 0.03) * float(size.max())
    nearest = np.array([*-local.min(axis=0), *local.max(axis=0)]) + gap
    farthest = np.tile(0.97 * size / 2, 2)
    reach = np.tile(1.4 * half, 2)  # left, top, right, bottom: beyond the frame
    count = int(draw.rng.integers(1, 5 if outlines else 3))
    for side in [side for side in draw.rng.permutation(4) if nearest[side] < farthest[side]][:count]:
        reach[side] = draw.between(nearest[side], farthest[side])
    left, top, right, bottom = reach * [-1, -1, 1, 1]
    corners = np.array([[left, top], [right, top], [right, bottom], [left, bottom]]) @ turn + middle
    other = draw.one_of([one for one in _AROUND if one != kind])
    return Around(other, corners, _colour(draw, other), draw.between(0.1, 0.5))


def lamps(draw: Draw, px_per_mm: float) -> list[Shadow]:
    """The shadows of a quarter of a millimetre of paper, or of an edge that stands off a little, in each lamp."""
    if draw.is_scan:
        shift = draw.between(0.1, 0.5) * px_per_mm * draw.one_of((-1, 1))
        return [Shadow((0.0, shift), 0.25 * px_per_mm, draw.between(0.05, 0.3), draw.between(0, 0.25))]
    both = draw.often(0.5)
    first, contact = draw.between(0, 2 * np.pi), draw.between(0.05, 0.35)
    directions = (first, first + np.pi + draw.between(-0.6, 0.6)) if both else (first,)
    faint = draw.case == "white on white"
    shadows = []
    for direction in directions:
        away = draw.between(0.2, 1.5 if draw.case == "curl" else 0.9) * px_per_mm
        strength = draw.between(0.04, 0.25) if faint else draw.between(0.1, 0.3 if both else 0.5)
        offset = (away * float(np.cos(direction)), away * float(np.sin(direction)))
        shadows.append(Shadow(offset, max(0.4, draw.between(0.15, 0.8) * away), strength, contact))
        contact = 0.0
    return shadows


def casts(draw: Draw) -> list[Cast]:
    """The shadow of the stand's arm or the telephone across the stage; at home of whatever is in the way."""
    household = draw.case == "household"
    if draw.is_scan or not draw.often(0.4 if household else 0.15):
        return []
    softness = draw.between(3, 40) if household else draw.between(25, 110)
    strength = draw.between(0.2, 0.6) if household else draw.between(0.05, 0.22)
    return [Cast(_band(draw), softness * draw.unit, strength)]


def _band(draw: Draw) -> Points:
    """A long straight band, or the corner of something large."""
    size = np.asarray(draw.size, float)
    angle, start = draw.between(0, 2 * np.pi), draw.rng.uniform(0, 1, 2) * size
    along = np.array([np.cos(angle), np.sin(angle)]) * 2 * float(size.max())
    across = np.array([-along[1], along[0]]) * (draw.between(0.02, 0.08) if draw.often(0.5) else 1.0)
    begin = start - along if draw.often(0.6) else start
    return np.array([begin, start + along, start + along + across, begin + across])


def glare(draw: Draw, outlines: Sequence[Points]) -> Glare | None:
    """A lamp mirrored over an edge of the print in the case of that name; else now and then a faint sheen."""
    if not outlines or draw.is_scan:
        return None
    if draw.case != "glare":
        return _sheen(draw, outlines[0]) if draw.often(0.3) else None
    corners = outlines[0]
    side, share = int(draw.rng.integers(4)), draw.between(0.1, 0.9)
    at = corners[side] * (1 - share) + corners[(side + 1) % 4] * share
    length = float(np.hypot(*(corners[1] - corners[0])))
    radius = (draw.between(0.08, 0.3) * length, draw.between(0.08, 0.3) * length)
    return Glare((float(at[0]), float(at[1])), radius, draw.between(0.2, 1.0), square=draw.often(0.3))


def _sheen(draw: Draw, corners: Points) -> Glare:
    """Faint and as wide as the print: a bright wall in gloss or in the tooth of a silk surface."""
    centre = corners.mean(axis=0) + draw.rng.normal(0, 0.3, 2) * np.ptp(corners, axis=0)
    radius = float(np.ptp(corners, axis=0).max()) * draw.between(0.4, 1.0)
    return Glare((float(centre[0]), float(centre[1])), (radius, radius), draw.between(0.01, 0.06))


def rulers(draw: Draw, px_per_mm: float) -> list[tuple[Ruler | Pencil, Placement]]:
    """What was left lying on an empty stage."""
    if draw.case != "empty" or not draw.often(0.2):
        return []
    thing = (
        Ruler() if draw.often(0.5) else Pencil(colour=draw.one_of(((190, 150, 30), (150, 30, 34), (30, 60, 44))))
    )
    centre = draw.rng.uniform(0.15, 0.85, 2) * draw.size
    return [(thing, Placement((float(centre[0]), float(centre[1])), draw.between(-180, 180), px_per_mm))]


def camera(draw: Draw) -> Camera:
    """A scanner, a camera on a stand, or a telephone; prepared stages see both of the latter."""
    if draw.is_scan:
        return Camera(blur_px=0.6, noise=0.8, sharpening=draw.between(0, 0.4), jpeg_quality=92)
    bright = draw.between(0.8, 1.05)
    cast = (draw.between(0.93, 1.05), 1.0, draw.between(0.9, 1.05))
    if draw.case != "household" and draw.often(0.4):
        return Camera(
            blur_px=draw.between(0.5, 0.9), corner_blur_px=draw.between(0, 0.5),
            distortion=draw.between(-0.012, 0.018), distortion_2=draw.between(-0.004, 0.004),
            falloff=draw.between(0.02, 0.2), fringe_px=draw.between(-0.5, 0.5) * draw.unit,
            noise=draw.between(0.8, 2.5), mosaic=True, exposure=bright, cast=cast,
            sharpening=draw.between(0, 0.3), jpeg_quality=int(draw.rng.integers(88, 98)),
        )  # fmt: skip
    return Camera(
        blur_px=draw.between(0.6, 1.2), corner_blur_px=draw.between(0.1, 1.0),
        distortion=draw.between(-0.01, 0.012), distortion_2=draw.between(-0.008, 0.008),
        falloff=draw.between(0.05, 0.3), fringe_px=draw.between(-0.9, 0.9) * draw.unit,
        noise=draw.between(2.0, 6.0), mosaic=True, exposure=bright, cast=cast,
        smoothing=draw.between(0.3, 0.95), sharpening=draw.between(0.2, 0.9),
        jpeg_quality=int(draw.rng.integers(80, 96)),
    )  # fmt: skip
