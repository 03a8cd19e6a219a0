"""How sheets come to lie: one alone, several apart, several touching; and where a hand holds one."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from attrs import frozen

from solander.imaging.simulate.draws import Draw
from solander.imaging.simulate.geometry import Placement, Points
from solander.imaging.simulate.hands import SKINS, TIP, Hand
from solander.imaging.simulate.papers import Paper

__all__ = ["alone", "apart", "outline", "reaching", "touching"]

_FINEST = 18.0  # px per mm that a stand or scanner comes to, at 2400 px


def outline(paper: Paper, at: Placement) -> Points:
    """The sheet's rectangle in the capture (4, 2), tilt and lens left aside."""
    return np.asarray(_turned(_rectangle(paper.size_mm), at.angle_deg) * at.px_per_mm + np.asarray(at.centre))


def alone(draw: Draw, paper: Paper) -> Placement:
    """Anywhere that keeps the whole sheet, and a margin, inside the capture; mostly laid nearly straight."""
    angle = _angle(draw)
    box = np.ptp(_turned(_rectangle(paper.size_mm), angle), axis=0)
    fills = float((np.asarray(draw.size) / box).min())
    scale = min(draw.between(0.35, 0.88) * fills, _FINEST * draw.unit)
    room = np.maximum(np.asarray(draw.size) - 1.1 * scale * box, 0) / 2
    centre = (np.asarray(draw.size) - 1) / 2 + draw.rng.uniform(-0.9, 0.9, 2) * room
    return Placement((float(centre[0]), float(centre[1])), angle, scale, _tilt(draw))


def apart(draw: Draw, papers: Sequence[Paper]) -> list[Placement]:
    """One to a cell of a grid, at one scale, as large as the cells allow."""
    columns, rows = {1: (1, 1), 2: (2, 1), 3: (2, 2), 4: (2, 2), 5: (3, 2), 6: (3, 2)}.get(len(papers), (4, 2))
    cell = np.array([draw.size[0] / columns, draw.size[1] / rows])
    angles = [_angle(draw) for _ in papers]
    boxes = [
        np.ptp(_turned(_rectangle(paper.size_mm), angle), axis=0)
        for paper, angle in zip(papers, angles, strict=True)
    ]
    fills = min(float((cell / box).min()) for box in boxes)
    scale = min(draw.between(0.7, 0.93) * fills, _FINEST * draw.unit)
    tilt, placements = _tilt(draw), []
    for index, box, angle in zip(draw.rng.permutation(columns * rows), boxes, angles, strict=False):
        free = np.maximum(cell - 1.05 * scale * box, 0) / 2
        middle = (np.array([index % columns, index // columns]) + 0.5) * cell + draw.rng.uniform(-free, free)
        placements.append(Placement((float(middle[0]), float(middle[1])), angle, scale, tilt))
    return placements


def touching(draw: Draw, papers: Sequence[Paper]) -> list[Placement]:
    """Edge to edge, one after the other: flush or not, square or a trifle turned; as many as find a place."""
    laid = [_Laid(np.zeros(2), 0.0, papers[0].size_mm)]
    for paper in papers[1:]:
        beside = _beside(draw, laid, paper.size_mm)
        if beside is None:
            break
        laid.append(beside)
    whole = _angle(draw)
    points = np.concatenate([_turned(one.corners(), whole) for one in laid])
    box, middle = np.ptp(points, axis=0), (points.max(axis=0) + points.min(axis=0)) / 2
    fills = float((np.asarray(draw.size) / box).min())
    scale = min(draw.between(0.6, 0.92) * fills, _FINEST * draw.unit)
    centres = [(_turned(one.middle, whole) - middle) * scale + (np.asarray(draw.size) - 1) / 2 for one in laid]
    return [
        Placement((float(x), float(y)), whole + one.angle, scale)
        for one, (x, y) in zip(laid, centres, strict=True)
    ]


def reaching(draw: Draw, paper: Paper, at: Placement) -> tuple[Hand, Placement]:
    """A hand over one of the sheet's edges, from outside the frame, mostly from below."""
    corners = outline(paper, at)
    sides = np.roll(corners, -1, axis=0) - corners
    outwards = np.column_stack([sides[:, 1], -sides[:, 0]]) / np.hypot(*sides.T)[:, None]
    weights = np.clip(outwards[:, 1], 0, 1) + 0.25
    side = int(draw.rng.choice(4, p=weights / weights.sum()))
    lean = np.deg2rad(draw.between(-35, 35))
    pointing = -outwards[side] @ np.array([[np.cos(lean), np.sin(lean)], [-np.sin(lean), np.cos(lean)]])
    tip = corners[side] + sides[side] * draw.between(0.1, 0.9) + pointing * draw.between(5, 22) * at.px_per_mm
    most = int(0.6 * float(np.hypot(*sides[side])) / at.px_per_mm / 19)  # or the whole edge would be covered
    fingers = int(draw.rng.choice([0, 1, 2, 3, 4], p=[0.25, 0.3, 0.2, 0.15, 0.1]))
    length = min(600.0, _way_out(tip, -pointing, draw.size) / at.px_per_mm + 60)
    hand = Hand(
        fingers=min(fingers, max(1, most)),
        skin=draw.one_of(SKINS),
        sleeve=(int(draw.between(15, 220)), int(draw.between(15, 220)), int(draw.between(15, 220))),
        length_mm=max(120.0, length),
        cuff_mm=draw.between(140, 220) if draw.often(0.6) else None,
        scale=draw.between(0.85, 1.15),
        lift_mm=draw.between(5, 14),
        seed=int(draw.rng.integers(2**31)),
    )
    centre = tip - pointing * (hand.length_mm / 2 - TIP[1]) * at.px_per_mm
    angle = float(np.degrees(np.arctan2(pointing[0], -pointing[1])))
    return hand, Placement((float(centre[0]), float(centre[1])), angle, at.px_per_mm)


@frozen
class _Laid:
    """A sheet in the plane of the stage, mm."""

    middle: Points
    angle: float
    size_mm: tuple[float, float]

    def corners(self) -> Points:
        return np.asarray(_turned(_rectangle(self.size_mm), self.angle) + self.middle)


def _beside(draw: Draw, laid: Sequence[_Laid], size_mm: tuple[float, float]) -> _Laid | None:
    """Of some places that touch one of the sheets and overlap none the most compact; None where none is found."""
    free = []
    for _ in range(24):
        placed = _against(draw, draw.one_of(laid), size_mm)
        if not any(_overlap(placed.corners(), other.corners()) for other in laid):
            free.append(placed)
        if len(free) == 3:
            break
    return min(free, key=lambda one: _spread([*laid, one]), default=None)


def _spread(laid: Sequence[_Laid]) -> float:
    return float(np.ptp(np.concatenate([one.corners() for one in laid]), axis=0).max())


def _against(draw: Draw, host: _Laid, size_mm: tuple[float, float]) -> _Laid:
    """At one of the host's sides: flush with one of its ends or anywhere along it, square or a trifle turned."""
    side = int(draw.rng.integers(4))
    angle = host.angle + (0.0 if draw.often(0.4) else float(draw.rng.normal(0, 0.8)))
    outward = _turned(np.array([[0, -1], [1, 0], [0, 1], [-1, 0]][side], float), host.angle)
    along = np.array([-outward[1], outward[0]])
    across = side % 2  # 0: the sheets lie one above the other and slide along x
    slack = (host.size_mm[across] - size_mm[across]) / 2
    reach = 0.35 * min(host.size_mm[across], size_mm[across]) + abs(slack)
    slide = draw.one_of((-slack, slack)) if draw.often(0.5) else draw.between(-reach, reach)
    gap = 0.0 if draw.often(0.7) else draw.between(0.05, 0.5)
    return _pushed(host, angle, size_mm, outward, along * slide, gap)


def _pushed(
    host: _Laid, angle: float, size_mm: tuple[float, float], outward: Points, aside: Points, gap: float
) -> _Laid:
    """As near to the host as it can lie, seen from inside out."""
    near, far = 0.0, 600.0
    for _ in range(40):
        middle = (near + far) / 2
        at = _Laid(host.middle + outward * middle + aside, angle, size_mm)
        near, far = (middle, far) if _overlap(at.corners(), host.corners()) else (near, middle)
    return _Laid(host.middle + outward * (far + gap + 1e-6) + aside, angle, size_mm)


def _overlap(a: Points, b: Points) -> bool:
    """Whether two convex outlines share area: no side of either parts them."""
    for one, other in ((a, b), (b, a)):
        sides = np.roll(one, -1, axis=0) - one
        away = other[None] - one[:, None]
        outside = sides[:, None, 1] * away[..., 0] - sides[:, None, 0] * away[..., 1]
        if (outside > -1e-9).all(axis=1).any():
            return False
    return True


def _way_out(start: Points, heading: Points, size: tuple[int, int]) -> float:
    """How far (px) from a point to the frame's rim."""
    ways = [
        ((edge - start[axis]) / heading[axis])
        for axis in (0, 1)
        for edge in (0, size[axis])
        if abs(heading[axis]) > 1e-9 and (edge - start[axis]) / heading[axis] > 0
    ]
    return float(min(ways, default=0.0))


def _angle(draw: Draw) -> float:
    """Laid nearly straight, any way up; one in five at any angle; on a scanner's glass hardly turned."""
    quarter = 90.0 * int(draw.rng.integers(4))
    if draw.is_scan:
        return quarter + draw.between(-4, 4)
    return draw.between(-180, 180) if draw.often(0.2) else quarter + draw.between(-9, 9)


def _tilt(draw: Draw) -> tuple[float, float]:
    if draw.is_scan:
        return 0.0, 0.0
    most = 12.0 if draw.case == "household" else 3.0
    return draw.between(-most, most), draw.between(-most, most)


def _rectangle(size_mm: tuple[float, float]) -> Points:
    return np.asarray(np.array([[-1, -1], [1, -1], [1, 1], [-1, 1]]) * np.asarray(size_mm) / 2, np.float64)


def _turned(points: Points, angle_deg: float) -> Points:
    """Clockwise on the screen."""
    angle = np.deg2rad(angle_deg)
    return np.asarray(points @ np.array([[np.cos(angle), np.sin(angle)], [-np.sin(angle), np.cos(angle)]]))
