"""A long sitting: thousands of frames watched in one process, no print missed, memory flat.

    python benchmarks/long_sitting.py --frames 6000

Prints are laid down, pushed, turned over, laid again and taken away on one stage after the other, each stage a few
hundred frames, always before the same watch, as on an evening at the stand. After each stage a line tells what was
taken once of what was laid, what went wrong, and the memory that the process holds. Not part of `./test`.

With `--stand` each frame that is wanted as a still is also taken in by a station (`AtStand`), as a live picture
is: kept, cut out, described by the slip, compared, all as on that evening. `--minutes` ends it after the stage
that is under way then, however busy the machine is.
"""

from __future__ import annotations

import argparse
import gc
import os
import sys
import tempfile
import time
from collections.abc import Iterator
from math import inf
from pathlib import Path

import cv2
from attrs import frozen

from find_prints import SETS, printed_pictures
from solander.core.orders import Order
from solander.imaging.simulate.live import Moment
from solander.imaging.simulate.sittings import WATCHED_STAGES, random_sitting
from solander.tasks.at_stand import AtStand
from solander.tasks.collection import Collection
from solander.tasks.verify import verify
from solander.tasks.watch_stage import StageWatch, Watched
from watch_stage import Tally, judged

FLAT_MB = 25
"""Megabytes by which memory may grow after the first stage: what numpy and OpenCV keep for later."""


def main() -> None:
    """Watch and print."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--frames", type=int, default=6000)
    parser.add_argument("--stage", choices=WATCHED_STAGES, default="grey stage")
    parser.add_argument("--stand", action="store_true", help="take every still in as well")
    parser.add_argument("--minutes", type=float, default=inf, help="begin no further stage after so long")
    options = parser.parse_args()
    cv2.setNumThreads(1)
    with tempfile.TemporaryDirectory() as folder, Collection.create(Path(folder) / "box") as collection:
        watch = StageWatch(collection)
        if not options.stand:
            _watch(watch, options)
            return
        stand = AtStand(collection)
        stand.say("summer 1958")
        _watch(TakingWatch(watch, stand), options)
        stand.finish()
        listed = collection.catalogue.prints()
        print(f"{len(listed)} prints entered, {len(verify(collection.root).faults)} faults of the collection")


@frozen
class TakingWatch:
    """A watch whose stills a station takes in at once."""

    watch: StageWatch
    stand: AtStand

    def frame(self, jpeg: bytes, at_ms: int) -> Watched:
        """What a frame shows; where it is wanted as a still it was taken in."""
        seen = self.watch.frame(jpeg, at_ms)
        if seen.wants_still:
            self.stand.take(jpeg, f"{at_ms}.jpg", route="frame")
        return seen

    def order(self, order: Order, at_ms: int) -> Watched:
        """What comes of an order."""
        return self.watch.order(order, at_ms)

    def taken(self, at_ms: int, good: bool) -> Watched:
        """What is told once a still was kept."""
        return self.watch.taken(at_ms, good)


def _watch(watch: StageWatch | TakingWatch, options: argparse.Namespace) -> None:
    every, clock, first = Tally(), 0, 0.0
    seed, until = SETS["judge"][0] + 5000, time.monotonic() + 60 * options.minutes
    while every.frames < options.frames and time.monotonic() < until:
        watch.order(Order.EMPTY_STAGE, clock)  # another stage lies there now
        moments = random_sitting(seed, printed_pictures("judge"), case=options.stage)
        stage = judged(_later(moments, clock), watch)
        every.add(stage)
        clock, seed = clock + 600_000, seed + 2  # frames of one size, as of one camera
        first = first or _memory_mb()
        print(f"{every.frames} frames: {every.once} of {every.wanted} sides taken once, {_memory_mb():.0f} MB")
        for fault in stage.faults:
            print(f"  {fault}")
        sys.stdout.flush()
    grown = _memory_mb() - first
    print(f"memory grew by {grown:.0f} MB after the first stage (≤ {FLAT_MB}): ", end="")
    print("met" if grown <= FLAT_MB else "not met")


def _later(moments: Iterator[Moment], ms: int) -> Iterator[Moment]:
    """The same, so much later: the watch's time goes on."""
    for one in moments:
        yield Moment(one.at_ms + ms, one.jpeg, one.act, one.side, one.well, one.prints, one.hand)


def _memory_mb() -> float:
    """What the process holds in memory (Linux), after rubbish is gone."""
    gc.collect()
    pages = int(Path("/proc/self/statm").read_text(encoding="ascii").split()[1])
    return pages * os.sysconf("SC_PAGE_SIZE") / 1e6


if __name__ == "__main__":
    main()
