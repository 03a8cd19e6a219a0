"""How well prints are followed in a camera's frames: changes noticed, false alarms, corners, time.

Each sitting is simulated: an empty stage; a hand slides a print in, leaves it, and takes it away again, twice
over, while the camera shakes by up to a pixel and the light drifts by some per cent. What moved is known by
construction. Times are processor time of one thread, frames decoded before.
"""

from __future__ import annotations

import argparse
import time
from collections.abc import Iterator

import cv2
import numpy as np
from attrs import define, field

from solander.imaging.conventions import corner_error
from solander.imaging.locate import locate_prints
from solander.imaging.simulate import Hand, Paper, Placement, Simulated, Stage, drawn_picture
from solander.imaging.simulate.sequences import Moment, Sight, film, sitting
from solander.imaging.tracking import Change, Tracked, track

STAGES = ("grey", "black felt", "wood", "white paper")
SIZES = {"1080": (1920, 1080), "360": (640, 360)}
SHAKE_PX = 1.0
DRIFT = 0.05


@define
class Tally:
    """What was counted over frames: times in ms, corner errors in % of the diagonal."""

    moved: int = 0
    noticed: int = 0
    still: int = 0
    alarms: int = 0
    hands: int = 0
    hands_told: int = 0
    free: int = 0
    hands_falsely: int = 0
    followed: list[float] = field(factory=list)
    searched: list[float] = field(factory=list)
    followed_ms: list[float] = field(factory=list)
    moving_ms: list[float] = field(factory=list)
    searched_ms: list[float] = field(factory=list)


def scenes(seed: int, size: tuple[int, int]) -> list[tuple[Moment, Sight]]:
    """The frames of one sitting and how each is seen."""
    rng = np.random.default_rng(seed)
    papers = [_laid(rng, 10 * seed + number, size) for number in range(2)]
    hand = Hand(fingers=int(rng.integers(1, 4)), length_mm=300, seed=seed)
    shown = sitting(papers, hand, size=size)
    light = 1 + DRIFT * np.sin(np.arange(len(shown)) / 9.0 + rng.uniform(0, 6))
    shifts = rng.uniform(-1, 1, (len(shown), 2)) * SHAKE_PX * min(1.0, size[0] / 1920)
    return [
        (moment, Sight(float(light[i]), (float(shifts[i][0]), float(shifts[i][1])), seed=1000 * seed + i))
        for i, moment in enumerate(shown)
    ]


def _laid(rng: np.random.Generator, seed: int, size: tuple[int, int]) -> tuple[Paper, Placement]:
    picture = drawn_picture(seed, (1200, 850), style=("harbour", "town")[seed % 2])
    border = float(rng.choice([0, 4]))
    paper = Paper(picture, ((128, 89), (105, 74))[seed % 2], border_mm=border, seed=seed)
    x, y = np.array(size) / 2 + rng.uniform(-0.04, 0.04, 2) * size
    return paper, Placement((float(x), float(y)), float(rng.uniform(-8, 8)), 0.0062 * size[1])


def follow(seed: int, size: tuple[int, int], stage: str, tally: Tally) -> Iterator[str]:
    """One sitting, tallied; a line for each frame."""
    told: Tracked | None = None
    before: Moment | None = None
    shown = scenes(seed, size)
    for (moment, _), seen in zip(shown, film(shown, Stage(stage), size=size, seed=seed), strict=True):
        began = time.process_time()
        now = track(seen.rgb, told)
        took = 1000 * (time.process_time() - began)
        if told is not None and before is not None:
            _count_change(tally, told, now, moved=moment is not before)
            _count_time(tally, told, now, took)
        _count_hand(tally, now, seen)
        _count_corners(tally, now, seen)
        yield f"{now.change.value:16} hand {now.hand:d} of {seen.hand:d}, found {len(now.found)}, {took:.0f} ms"
        told, before = now, moment


def _at_rest(told: Tracked) -> bool:
    return told.change in (Change.NOTHING, Change.LIGHT)


def _count_change(tally: Tally, told: Tracked, now: Tracked, *, moved: bool) -> None:
    if moved:
        tally.moved, tally.noticed = tally.moved + 1, tally.noticed + (not _at_rest(now))
    elif _at_rest(told):  # else this is the frame that is searched, now that all has come to rest
        tally.still, tally.alarms = tally.still + 1, tally.alarms + (not _at_rest(now))


def _count_time(tally: Tally, told: Tracked, now: Tracked, took: float) -> None:
    if _at_rest(now):
        (tally.followed_ms if now.found else tally.moving_ms).append(took)
    else:
        (tally.moving_ms if now.searched is told.searched else tally.searched_ms).append(took)


def _count_hand(tally: Tally, now: Tracked, seen: Simulated) -> None:
    if seen.hand:
        tally.hands, tally.hands_told = tally.hands + 1, tally.hands_told + now.hand
    else:
        tally.free, tally.hands_falsely = tally.free + 1, tally.hands_falsely + now.hand


def _count_corners(tally: Tally, now: Tracked, seen: Simulated) -> None:
    if now.settled and seen.truths:
        for found, errors in ((now.found, tally.followed), (locate_prints(seen.rgb), tally.searched)):
            errors.append(min((corner_error(f.corners, seen.truths[0]) for f in found), default=np.inf))


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--sittings", type=int, default=2, help="sittings on each stage")
    parser.add_argument("--size", choices=SIZES, default="1080", help="height of the frames")
    parser.add_argument("--stage", action="append", choices=STAGES)
    parser.add_argument("--verbose", action="store_true", help="every frame")
    options = parser.parse_args()
    cv2.setNumThreads(1)
    for stage in options.stage or STAGES:
        tally = Tally()
        for seed in range(options.sittings):
            for number, line in enumerate(follow(seed, SIZES[options.size], stage, tally)):
                if options.verbose:
                    print(f"  {number:3} {line}")
        print(*lines(stage, tally), sep="\n  ", flush=True)


def lines(stage: str, tally: Tally) -> list[str]:
    """The figures in words."""
    return [
        stage,
        f"moves noticed {tally.noticed} of {tally.moved}; false alarms {tally.alarms} in {tally.still} frames",
        f"hand told in {tally.hands_told} of {tally.hands}, falsely in {tally.hands_falsely} of {tally.free}",
        f"corner error followed {_spread(tally.followed, 3)} %, searched anew {_spread(tally.searched, 3)} %",
        f"a frame at rest with a print {_spread(tally.followed_ms, 1)} ms, without or moving "
        f"{_spread(tally.moving_ms, 1)} ms, searched {_spread(tally.searched_ms, 0)} ms",
    ]


def _spread(values: list[float], digits: int) -> str:
    if not values:
        return "–"
    return f"{np.median(values):.{digits}f} (p95 {np.quantile(values, 0.95):.{digits}f})"


if __name__ == "__main__":
    main()
