"""Sittings drawn by chance, one seed each, for measuring how the stage is watched."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import cv2
import numpy as np
from attrs import evolve

from solander.imaging.simulate import surroundings
from solander.imaging.simulate.camera import Camera
from solander.imaging.simulate.draws import Draw
from solander.imaging.simulate.filming import Filmed, Shot
from solander.imaging.simulate.light import Rgb, clouds
from solander.imaging.simulate.live import Moment, Play, Seen, Sheet, glare_over, passing
from solander.imaging.simulate.sheets import random_papers

__all__ = ["ACTS", "WATCHED_STAGES", "random_sitting"]

WATCHED_STAGES = ("grey stage", "blue stage", "green stage", "black felt", "wood", "white on white")
"""Cases of `draws` that are stages somebody would watch."""

ACTS = (
    "plain", "plain", "plain", "plain", "push", "turn over", "turn over", "again", "on top", "beside",
    "walk by", "lamp", "focus", "exposure", "glare", "hold",
)  # fmt: skip
"""What is done with a print; what is listed more often is done more often."""

SIZES = ((640, 480), (640, 360))


def random_sitting(
    seed: int,
    pictures: Sequence[Rgb],
    *,
    case: str = "grey stage",
    prints: int = 6,
    acts: Sequence[str] = ACTS,
) -> Iterator[Moment]:
    """The frames of a sitting drawn by `seed` on the stage of one of the `CASES`, with so many prints in turn."""
    draw = Draw.of(seed, case, SIZES[seed % 2])
    chosen = draw.rng.permutation(max(prints, len(pictures))) % len(pictures)  # none twice if enough
    sheets = [_sheet(draw, pictures[chosen[number]], f"{seed}/{number}") for number in range(prints)]
    play = _play(draw, sheets)
    yield from play.wait(700, "empty")
    spare = iter(sheets)
    for sheet in spare:
        yield from _done(play, sheet, draw.one_of(acts), spare)
        yield from play.wait(draw.between(200, 700), "empty")


def _done(play: Play, sheet: Sheet, act: str, spare: Iterator[Sheet]) -> Iterator[Moment]:
    """One print from laying down to taking away."""
    draw = play.draw
    yield from play.lay_down(sheet, adjust=draw.often(0.4))
    match act:
        case "focus":
            yield from play.wait(draw.between(400, 1200), act, _hunting(draw), well=False)
        case "exposure":
            yield from play.wait(draw.between(300, 700), act, _exposing(draw), well=False)
        case "glare":
            mirrored, _ = glare_over(draw, play.papers[-1])
            yield from play.wait(2500, act, lambda shot, _: evolve(shot, glare=mirrored), well=False)
        case "hold":
            yield from play.hold(draw.between(2000, 3000))
    yield from play.wait(draw.between(1000, 1500), act)
    match act:
        case "push":
            yield from play.push()
            yield from play.wait(1100, act)
        case "turn over":
            yield from play.turn_over(sheet)
            yield from play.wait(1100, act)
        case "again":
            yield from play.take_away()
            yield from play.wait(600, act)
            yield from play.lay_down(sheet)
            yield from play.wait(1100, act)
        case "walk by":
            yield from play.wait(draw.between(900, 2200), act, passing(draw), well=False)
            yield from play.wait(1000, act)
        case "lamp":
            play.dim(draw.one_of((0.7, 0.85, 1.2)))
            yield from play.wait(1100, act)
        case "on top" | "beside":
            yield from _with_another(play, sheet, act, next(spare, None))
    yield from play.take_away()
    play.lies()


def _with_another(play: Play, sheet: Sheet, act: str, other: Sheet | None) -> Iterator[Moment]:
    """Another is laid on it, as a pile is made, or beside it where it wouldn't hide it."""
    if other is None:
        return
    beside = play.has_room(other.front) if act == "beside" or not play.covers(other.front) else False
    if not beside and not play.covers(other.front):
        return
    yield from play.lay_down(other, beside=beside, over=not beside)
    yield from play.wait(1100, act)
    if beside:
        yield from play.take_away(0)
        play.lies(other.side(False))
    else:
        yield from play.take_away()
        play.lies(sheet.side(False))
    yield from play.wait(1100, act)


def _sheet(draw: Draw, picture: Rgb, name: str) -> Sheet:
    front = random_papers(draw, [picture], 1)[0]
    back = evolve(
        front, picture=_back(draw), border_mm=0.0, frames=(), tone="colour", curl=-front.curl, fading=0.0,
        seed=front.seed + 1,
    )  # fmt: skip
    return Sheet(name, front, back)


_STOCKS = ((240, 233, 214), (246, 243, 232), (232, 222, 196), (248, 248, 247))


def _back(draw: Draw) -> Rgb:
    """A bare back, or one with a few lines that nobody can read; as fine as a preview shows it."""
    back = np.tile(np.asarray(draw.one_of(_STOCKS), np.float32), (400, 600, 1))
    back *= 1 + 0.012 * clouds(draw.rng, (600, 400), cell=(90, 90))[..., None]
    for line in range(int(draw.rng.integers(0, 5))):
        x = np.linspace(60, draw.between(250, 540), 120)
        y = 90 + 55 * line + np.cumsum(draw.rng.normal(0, 2.2, 120)) * 0.4 + draw.rng.normal(0, 6, 120)
        points = np.rint(np.stack([x, y], axis=1)).astype(np.int32)
        cv2.polylines(back, [points], False, (40, 44, 80), 2, cv2.LINE_AA)
    return np.asarray(np.clip(back, 0, 255), np.uint8)


def _play(draw: Draw, sheets: Sequence[Sheet]) -> Play:
    size = np.asarray(draw.size, float)
    largest = max((max(sheet.front.size_mm) for sheet in sheets), default=150.0)
    high = max((sheet.front.size_mm[1] for sheet in sheets), default=100.0)
    fills = min(0.85 * size[0] / largest, 0.82 * size[1] / high)
    scale = float(fills * draw.between(0.6, 1.0))
    heading = np.deg2rad(draw.between(-25, 25)) + (0 if draw.often(0.75) else draw.one_of((-1, 1)) * np.pi / 2)
    camera = evolve(Camera(), noise=0.0, blur_px=draw.between(0.5, 0.9), falloff=draw.between(0, 0.25),
                    exposure=draw.between(0.75, 1.0),
                    cast=(draw.between(0.93, 1.05), 1.0, draw.between(0.9, 1.05)))  # fmt: skip
    filmed = Filmed(
        surroundings.stage(draw, [], scale),
        draw.size,
        int(draw.rng.integers(2**31)),
        shadows=surroundings.lamps(draw, scale),
        camera=camera,
        noise=draw.between(0.8, 3.0),
        jpeg_quality=int(draw.rng.integers(55, 90)),
    )
    into = np.array([np.sin(heading), -np.cos(heading)])
    return Play(filmed, draw, scale, into, fps=draw.between(10, 15))


def _hunting(draw: Draw) -> Seen:
    """The lens goes past its focus and back before it rests there."""

    def seen(shot: Shot, share: float) -> Shot:
        return evolve(shot, defocus_px=most * abs(float(np.cos(1.5 * np.pi * share * turns))) * (1 - share) ** 0.5)

    most, turns = draw.between(2.5, 7), int(draw.rng.integers(1, 4))
    return seen


def _exposing(draw: Draw) -> Seen:
    """The camera answers a print by exposing otherwise, in four steps."""
    first = draw.one_of((0.7, 0.8, 1.2, 1.3))

    def seen(shot: Shot, share: float) -> Shot:
        gain = 1 + (first - 1) * (1 - round(share * 4) / 4)
        return evolve(shot, gain=(gain, gain, gain))

    return seen
