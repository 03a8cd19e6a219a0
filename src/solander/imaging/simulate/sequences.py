"""Frames of a camera above a stage on which prints and hands come and go, with exact truth.

Convention: as in `captures`. A frame is simulated without noise and then seen by a camera that shakes, in light
that drifts: so the stage's texture stays what it is from frame to frame, and the noise doesn't.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import cv2
import numpy as np
from attrs import evolve, field, frozen

from solander.imaging.simulate.camera import Camera
from solander.imaging.simulate.captures import Simulated, simulate_capture
from solander.imaging.simulate.geometry import Placement
from solander.imaging.simulate.hands import Hand
from solander.imaging.simulate.light import Rgb
from solander.imaging.simulate.papers import Paper
from solander.imaging.simulate.stages import Stage

__all__ = ["Moment", "Sight", "film", "sitting"]


@frozen
class Moment:
    """What lies on the stage, and the hands above it, while nothing moves."""

    papers: tuple[tuple[Paper, Placement], ...] = ()
    hands: tuple[tuple[Hand, Placement], ...] = ()


@frozen
class Sight:
    """How a frame is seen: `exposure` multiplies the light, `shift` is how far a shake moves the picture (x, y;
    px), `noise` the deviation in code values, `seed` that of the noise, `jpeg_quality` as in `Camera`."""

    exposure: float = 1.0
    shift: tuple[float, float] = (0.0, 0.0)
    noise: float = 2.0
    seed: int = 0
    jpeg_quality: int | None = field(default=85)


def film(
    moments: Sequence[tuple[Moment, Sight]], stage: Stage, *, size: tuple[int, int], seed: int
) -> Iterator[Simulated]:
    """A frame for every moment, as it is seen; the same moment in the same light is drawn once in a row."""
    drawn, exposure = None, 0.0
    still = None
    for moment, sight in moments:
        if still is None or drawn is not moment or exposure != sight.exposure:
            camera = Camera(noise=0.0, exposure=sight.exposure)
            papers, places = [paper for paper, _ in moment.papers], [at for _, at in moment.papers]
            still = simulate_capture(
                papers, places, stage, size=size, seed=seed, camera=camera, hands=moment.hands
            )
            drawn, exposure = moment, sight.exposure
        yield evolve(still, rgb=_seen(still.rgb, sight), truths=tuple(t + sight.shift for t in still.truths))


def _seen(still: Rgb, sight: Sight) -> Rgb:
    x, y = sight.shift
    moved = still
    if sight.shift != (0.0, 0.0):
        move = np.array([[1, 0, x], [0, 1, y]], float)
        flags = cv2.INTER_CUBIC
        moved = np.asarray(
            cv2.warpAffine(still, move, still.shape[1::-1], flags=flags, borderMode=cv2.BORDER_REPLICATE), np.uint8
        )
    noise = np.random.default_rng(sight.seed).standard_normal(still.shape, dtype=np.float32) * sight.noise
    rgb: Rgb = np.clip(np.rint(moved + noise), 0, 255).astype(np.uint8)
    if sight.jpeg_quality is None:
        return rgb
    data = cv2.imencode(".jpg", rgb[..., ::-1], [cv2.IMWRITE_JPEG_QUALITY, sight.jpeg_quality])[1]
    back = np.asarray(cv2.imdecode(data, cv2.IMREAD_COLOR), np.uint8)
    return np.ascontiguousarray(back[..., ::-1])


def sitting(papers: Sequence[tuple[Paper, Placement]], hand: Hand, *, size: tuple[int, int]) -> list[Moment]:
    """An empty stage, and each print in turn: a hand slides it in from below, lays it down and leaves; it lies a
    while; the hand takes it away again. The frames in which a print lies alone are one and the same moment."""
    moments = [Moment()] * 3
    for paper, at in papers:
        steps = [_lowered(at, size[1] * share) for share in (0.55, 0.3, 0.15, 0.05)]
        sliding = [Moment(((paper, step),), ((hand, _holding(hand, paper, step)),)) for step in (*steps, at)]
        leaving = [
            Moment(((paper, at),), ((hand, _lowered(_holding(hand, paper, at), size[1] * share)),))
            for share in (0.06, 0.14)
        ]
        moments += [*sliding, *leaving, *[Moment(((paper, at),))] * 8, *leaving[::-1], *sliding[::-1]]
    return [*moments, Moment(), Moment()]


def _lowered(at: Placement, px: float) -> Placement:
    return evolve(at, centre=(at.centre[0], at.centre[1] + px))


def _holding(hand: Hand, paper: Paper, at: Placement) -> Placement:
    """The hand's place with its fingertips 12 mm over the paper's lower edge."""
    edge = at.centre[1] + paper.size_mm[1] / 2 * at.px_per_mm
    return Placement((at.centre[0] + 10.0, edge + (hand.length_mm / 2 - 12.0) * at.px_per_mm), 0.0, at.px_per_mm)
