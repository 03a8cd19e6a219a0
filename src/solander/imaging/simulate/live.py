"""A sitting at the stand, frame by frame, with what is true of each: hands lay prints down, push them, turn them
over, lay others on them and take them away, while lamps, shadows and the camera do what they do.

How people move and how long things take is our own choice (common practice, no source).
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

import numpy as np
from attrs import define, evolve, field, frozen

from solander.imaging.simulate.arrangements import outline
from solander.imaging.simulate.draws import Draw
from solander.imaging.simulate.filming import Filmed, Laid, Shot
from solander.imaging.simulate.geometry import Placement, Points
from solander.imaging.simulate.hands import SKINS, TIP, Hand
from solander.imaging.simulate.papers import Paper
from solander.imaging.simulate.shadows import Cast, Glare

__all__ = ["Moment", "Play", "Sheet"]

Seen = Callable[[Shot, float], Shot]
"""How a shot is seen, at a share (0–1) of what goes on."""


@frozen
class Sheet:
    """One print: both its sides, and its name."""

    name: str
    front: Paper
    back: Paper

    def side(self, turned: bool) -> str:
        """The name of one of its sides."""
        return f"{self.name} {'back' if turned else 'front'}"


@frozen
class Moment:
    """One frame (a JPEG) at a time, and what is true in it.

    `act` is what goes on. `side` is the side that lies there alone, at rest, without a hand; "" for none; `well`
    tells that it is seen well, too. `prints` counts the prints in the picture, `hand` tells of a hand in it.
    """

    at_ms: int
    jpeg: bytes = field(repr=False)
    act: str
    side: str
    well: bool
    prints: int
    hand: bool


@define
class Play:
    """Someone at the stand: each act yields its frames. `into` is the way (x, y) by which hands come in."""

    filmed: Filmed
    draw: Draw
    scale: float
    into: Points
    fps: float = 15.0
    at_ms: float = 0.0
    papers: tuple[Laid, ...] = ()
    _sides: list[str] = field(init=False, factory=list)
    _hand: Hand = field(init=False)
    _phase: float = field(init=False)
    _dimmed: float = field(init=False, default=1.0)

    def __attrs_post_init__(self) -> None:
        draw = self.draw
        self._phase = draw.between(0, 6)
        self._hand = Hand(
            fingers=int(draw.rng.integers(1, 5)),
            skin=draw.one_of(SKINS),
            sleeve=(int(draw.between(15, 220)), int(draw.between(15, 220)), int(draw.between(15, 220))),
            length_mm=1.6 * max(draw.size) / self.scale,
            cuff_mm=draw.between(140, 220) if draw.often(0.6) else None,
            scale=draw.between(0.85, 1.15),
            seed=int(draw.rng.integers(2**31)),
        )

    def wait(
        self, ms: float, act: str = "wait", seen: Seen | None = None, *, well: bool = True
    ) -> Iterator[Moment]:
        """Nothing moves; `seen` changes how it looks, `well` tells whether a still would be good."""
        side = self._sides[-1] if len(self._sides) == 1 else ""
        for share in self._shares(ms):
            shot = Shot(self.papers)
            yield self._moment(seen(shot, share) if seen else shot, act, side, well=well)

    def lay_down(
        self, sheet: Sheet, *, beside: bool = False, adjust: bool = False, over: bool = False
    ) -> Iterator[Moment]:
        """A hand slides it in and lets go: `beside` what lies there, squarely `over` it, or anywhere."""
        at = self._over(sheet.front) if over else self._place(sheet.front, beside=beside)
        out = self._outside(sheet.front, at)
        yield from self._carried(sheet.front, out, at, self.draw.between(450, 1000), "lay down")
        self.papers = (*self.papers, (sheet.front, at))
        self._sides = [*self._sides, sheet.side(False)] if beside else [sheet.side(False)]
        if adjust:
            yield from self._held(self.draw.between(70, 700), "adjust")
            yield from self._pushed("adjust")
        yield from self._let_go("let go")

    def take_away(self, index: int = -1) -> Iterator[Moment]:
        """A hand comes for one of the prints and slides it out; what lay below lies there again."""
        yield from self._reached("take away", index)
        paper, at = self.papers[index]
        rest = list(self.papers)
        del rest[index]
        self.papers = tuple(rest)
        yield from self._carried(paper, at, self._outside(paper, at), self.draw.between(350, 800), "take away")

    def push(self) -> Iterator[Moment]:
        """A hand comes, pushes the print a little and leaves."""
        yield from self._reached("push")
        yield from self._pushed("push")
        yield from self._let_go("push")

    def turn_over(self, sheet: Sheet, *, turned: bool = True) -> Iterator[Moment]:
        """A hand comes, lifts the print, lays it down on its other side and leaves."""
        yield from self._reached("turn over")
        paper, at = self.papers[-1]
        other = sheet.back if turned else sheet.front
        for share in self._shares(self.draw.between(500, 900)):
            shown, tilt = (paper, 150 * share) if share < 0.5 else (other, 150 * (share - 1))
            lifted = evolve(at, tilt_deg=(0.0, tilt))
            yield self._moment(Shot((*self.papers[:-1], (shown, lifted)), self._holding(shown, at)), "turn over")
        self.papers = (*self.papers[:-1], (other, at))
        self._sides = [sheet.side(turned)]
        yield from self._let_go("turn over")

    def hold(self, ms: float) -> Iterator[Moment]:
        """A hand comes and stays on the print."""
        yield from self._reached("hold")
        yield from self._held(ms, "hold")
        yield from self._let_go("hold")

    def lies(self, *sides: str) -> None:
        """Tells what lies there now, where taking away leaves more than nothing."""
        self._sides = list(sides)

    def dim(self, factor: float) -> None:
        """From now on a lamp gives that share of its light."""
        self._dimmed *= factor

    def _shares(self, ms: float) -> list[float]:
        count = max(2, round(ms * self.fps / 1000))
        return [(i + 1) / count for i in range(count)]

    def _moment(self, shot: Shot, act: str, side: str = "", *, well: bool = False) -> Moment:
        wavers = 0.02 * np.sin(self.at_ms / 9000 + self._phase) + self.draw.rng.normal(0, 0.002)
        gain = [part * self._dimmed * (1 + wavers) for part in shot.gain]
        shake = self.draw.rng.normal(0, 0.12, 2)
        seen = evolve(shot, gain=tuple(gain), shift_px=(float(shake[0]), float(shake[1])))
        at_ms = round(self.at_ms)
        self.at_ms += 1000 / self.fps * self.draw.between(0.8, 1.2)
        prints = sum(self._in_sight(outline(*laid)) for laid in shot.papers)
        hand = any(self._in_sight(np.array([self._tip(at)])) for _, at in shot.hands)
        return Moment(at_ms, self.filmed.shoot(seen), act, side, well, prints, hand)

    def _in_sight(self, points: Points) -> bool:
        """Whether the box around some points reaches into the frame."""
        return bool((points.max(axis=0) > 0).all() and (points.min(axis=0) < self.draw.size).all())

    def _carried(self, paper: Paper, start: Placement, end: Placement, ms: float, act: str) -> Iterator[Moment]:
        below = self.papers
        for share in self._shares(ms):
            at = _between(start, end, share)
            yield self._moment(Shot((*below, (paper, at)), self._holding(paper, at)), act)

    def _held(self, ms: float, act: str) -> Iterator[Moment]:
        hands = self._holding(*self.papers[-1])
        for _ in self._shares(ms):
            yield self._moment(Shot(self.papers, hands), act)

    def _pushed(self, act: str) -> Iterator[Moment]:
        paper, at = self.papers[-1]
        by = self.draw.rng.normal(0, 6, 2) * self.scale
        to = evolve(
            at,
            centre=(at.centre[0] + by[0], at.centre[1] + by[1]),
            angle_deg=at.angle_deg + self.draw.between(-4, 4),
        )
        self.papers = self.papers[:-1]
        yield from self._carried(paper, at, to, self.draw.between(200, 500), act)
        self.papers = (*self.papers, (paper, to))

    def _reached(self, act: str, index: int = -1) -> Iterator[Moment]:
        yield from self._hand_moved(self.draw.between(200, 450), act, index, coming=True)
        if self.draw.often(0.5):
            hands = self._holding(*self.papers[index])
            for _ in self._shares(self.draw.between(70, 400)):
                yield self._moment(Shot(self.papers, hands), act)

    def _let_go(self, act: str) -> Iterator[Moment]:
        yield from self._hand_moved(self.draw.between(200, 450), act, -1, coming=False)

    def _hand_moved(self, ms: float, act: str, index: int, *, coming: bool) -> Iterator[Moment]:
        held = self._holding(*self.papers[index])
        far = self._way_out(held[0][1]) + 20 * self.scale
        for share in self._shares(ms)[:-1]:
            back = far * _eased(1 - share if coming else share)
            hands = tuple((hand, _shifted(at, -self.into * back)) for hand, at in held)
            yield self._moment(Shot(self.papers, hands), act)

    def _holding(self, paper: Paper, at: Placement) -> tuple[tuple[Hand, Placement], ...]:
        """The hand with its fingertips a centimetre and a half over the print's nearest edge."""
        corners = outline(paper, evolve(at, tilt_deg=(0.0, 0.0)))
        middle = corners.mean(axis=0)
        reach = float(((corners - middle) @ self.into).min())
        tip = middle + self.into * (0.75 * reach + 15 * self.scale)
        length = self._hand.length_mm
        centre = tip - self.into * (length / 2 - TIP[1]) * self.scale
        angle = float(np.degrees(np.arctan2(self.into[0], -self.into[1])))
        return ((self._hand, Placement((float(centre[0]), float(centre[1])), angle, self.scale)),)

    def _way_out(self, at: Placement) -> float:
        """Pixels from the fingertips back to beyond the frame's edge."""
        return _to_edge(self._tip(at), -self.into, self.draw.size)

    def _tip(self, at: Placement) -> Points:
        """Where the foremost fingertip is."""
        return np.asarray(at.centre) + self.into * (self._hand.length_mm / 2 - TIP[1]) * self.scale

    def _outside(self, paper: Paper, at: Placement) -> Placement:
        """Where the print is not in the frame yet."""
        away = _to_edge(np.asarray(at.centre), -self.into, self.draw.size)
        return _shifted(at, -self.into * (away + 0.6 * float(np.hypot(*paper.size_mm)) * self.scale))

    def _place(self, paper: Paper, *, beside: bool) -> Placement:
        """Somewhere that keeps the whole print well in the frame; `beside` clear of what lies there."""
        best = None
        for _ in range(60):
            angle = self.draw.between(-8, 8)
            size = np.asarray(self.draw.size)
            box = np.ptp(outline(paper, Placement((0.0, 0.0), angle, self.scale)), axis=0)
            room = np.maximum(size - box - 0.08 * size.max(), 0) / 2
            centre = size / 2 + self.draw.rng.uniform(-1, 1, 2) * room * (1.0 if beside else 0.5)
            best = Placement((float(centre[0]), float(centre[1])), angle, self.scale)
            if not beside or not any(_near(paper, best, *laid) for laid in self.papers):
                return best
        raise ValueError("there is no room beside what lies there")

    def covers(self, paper: Paper) -> bool:
        """Whether it hides what lies there but for a few millimetres."""
        below = self.papers[-1][0].size_mm
        return all(side <= above + 6 for side, above in zip(below, paper.size_mm, strict=True))

    def _over(self, paper: Paper) -> Placement:
        """On what lies there, as neatly as a pile is made by hand."""
        below = self.papers[-1][1]
        by = self.draw.rng.normal(0, 1.5, 2) * self.scale
        return evolve(_shifted(below, by), angle_deg=below.angle_deg + self.draw.between(-1.5, 1.5))

    def has_room(self, paper: Paper) -> bool:
        """Whether it may be laid beside what lies there."""
        try:
            self._place(paper, beside=True)
        except ValueError:
            return False
        return True


def glare_over(draw: Draw, laid: Laid) -> tuple[Glare, int]:
    """A lamp mirrored over one side of a print, and which: 0 to 3 from the corner nearest the top left."""
    corners = outline(*laid)
    side = int(draw.rng.integers(4))
    middle = (corners[side] + corners[(side + 1) % 4]) / 2
    at = middle + (corners.mean(axis=0) - middle) * draw.between(0.05, 0.3)
    length = float(np.hypot(*(corners[1] - corners[0])))
    radius = (draw.between(0.12, 0.25) * length, draw.between(0.12, 0.25) * length)
    return Glare((float(at[0]), float(at[1])), radius, draw.between(0.8, 2.0), square=draw.often(0.3)), side


def passing(draw: Draw) -> Seen:
    """Somebody walks by: a broad soft shadow goes over the stage."""
    size = np.asarray(draw.size, float)
    angle, strength = draw.between(0, 2 * np.pi), draw.between(0.08, 0.35)
    way = np.array([np.cos(angle), np.sin(angle)])
    across, wide = np.array([-way[1], way[0]]) * 2 * size.max(), draw.between(0.15, 0.5) * size.max()

    def seen(shot: Shot, share: float) -> Shot:
        middle = size / 2 + way * (share - 0.5) * 2.4 * size.max()
        band = np.array(
            [middle - across, middle + across, middle + across + way * wide, middle - across + way * wide]
        )
        return evolve(shot, casts=(Cast(band, draw.size[0] / 16, strength),))

    return seen


def _between(start: Placement, end: Placement, share: float) -> Placement:
    part = _eased(share)
    x, y = (a + (b - a) * part for a, b in zip(start.centre, end.centre, strict=True))
    return evolve(end, centre=(x, y), angle_deg=start.angle_deg + (end.angle_deg - start.angle_deg) * part)


def _eased(share: float) -> float:
    return share * share * (3 - 2 * share)


def _shifted(at: Placement, by: Points) -> Placement:
    return evolve(at, centre=(float(at.centre[0] + by[0]), float(at.centre[1] + by[1])))


def _to_edge(start: Points, heading: Points, size: Sequence[int]) -> float:
    ways = [
        (edge - start[axis]) / heading[axis]
        for axis in (0, 1)
        for edge in (0.0, float(size[axis]))
        if abs(heading[axis]) > 1e-9 and (edge - start[axis]) / heading[axis] > 0
    ]
    return float(min(ways, default=0.0))


def _near(paper: Paper, at: Placement, other: Paper, lies: Placement) -> bool:
    """Whether two prints lie less than a centimetre apart, by the boxes around them."""
    one, two = outline(paper, at), outline(other, lies)
    gap = np.maximum(one.min(axis=0) - two.max(axis=0), two.min(axis=0) - one.max(axis=0)).max()
    return bool(gap < 10 * at.px_per_mm)
