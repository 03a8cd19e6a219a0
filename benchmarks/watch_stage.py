"""How well the stage is watched: simulated sittings, each print to be taken once, soon, and with no hand over it.

    python benchmarks/watch_stage.py --judge --sittings 6

Each sitting is filmed at 640 pixels, 10 to 15 frames a second (JPEG, noise, a camera that shakes a little): a hand
lays a print down, sometimes adjusts it, lets go, and takes it away later; in between it is pushed, turned over,
laid again, another is laid on it or beside it; somebody walks by, a lamp goes out, the lens hunts for its focus,
the exposure steps, a lamp mirrors in the gloss, the hand stays. `--act` asks for some of that alone.

A side is right when it is taken exactly once. Time runs from the first frame in which it lies alone, at rest, seen
well and without a hand. Whoever changes the watching tunes with `--tune` (the default) and reports what `--judge`
says: other seeds, and the other half of the photographs. Times are processor time of one thread, decoding
included; the fixed work is that of `find_prints.py`.
"""

from __future__ import annotations

import argparse
import tempfile
import time
from collections import Counter
from collections.abc import Iterator, Sequence
from multiprocessing import get_context
from pathlib import Path
from typing import Protocol

import cv2
import numpy as np
from attrs import define, field

from find_prints import SETS, _fixed_work, _seconds, printed_pictures
from solander.imaging.simulate.live import Moment
from solander.imaging.simulate.sittings import ACTS, WATCHED_STAGES, random_sitting
from solander.tasks.collection import Collection
from solander.tasks.watch_stage import StageWatch, Watched

SOON_MS = 700


@define
class Tally:
    """What came of one or more sittings."""

    wanted: int = 0
    once: int = 0
    faults: list[str] = field(factory=list)
    waits_ms: list[float] = field(factory=list)
    told: Counter[tuple[str, str]] = field(factory=Counter)
    frames: int = 0
    frame_ms: list[float] = field(factory=list)

    def add(self, other: Tally) -> None:
        self.wanted, self.once, self.frames = (
            self.wanted + other.wanted, self.once + other.once, self.frames + other.frames,
        )  # fmt: skip
        self.faults += other.faults
        self.waits_ms += other.waits_ms
        self.told.update(other.told)
        self.frame_ms += other.frame_ms

    def of(self, kind: str) -> int:
        return sum(fault.startswith(kind) for fault in self.faults)


class Watches(Protocol):
    """What is judged: `StageWatch`, or what stands before it."""

    def frame(self, jpeg: bytes, at_ms: int) -> Watched:
        """What a frame shows."""

    def taken(self, at_ms: int, good: bool) -> Watched:
        """What is told once a still was kept."""


def judged(moments: Iterator[Moment], watch: Watches) -> Tally:
    """One sitting, watched and judged by what is true in it."""
    tally, taken, wanted = Tally(), Counter[str](), dict[str, float]()
    side, since = "", 0.0
    for moment in moments:
        started = time.process_time()
        seen = watch.frame(moment.jpeg, moment.at_ms)
        tally.frame_ms.append(1000 * (time.process_time() - started))
        tally.frames += 1
        lies = moment.side if moment.well else ""
        if lies != side:
            side, since = lies, moment.at_ms
        if side and moment.at_ms - since >= SOON_MS:
            wanted.setdefault(side, since)
        if seen.why:
            tally.told[moment.act, _told(seen)] += 1
        if seen.wants_still:
            watch.taken(moment.at_ms + 150, good=True)
            _count(tally, taken, moment, waited=moment.at_ms - since if side else 0.0)
    tally.wanted = len(wanted)
    tally.once = sum(taken[one] == 1 for one in wanted)
    tally.faults += [f"missed: {one} at {wanted[one] / 1000:.1f} s" for one in wanted if not taken[one]]
    return tally


def _told(seen: Watched) -> str:
    return f"{seen.why} ({seen.where})" if seen.where else seen.why


def _count(tally: Tally, taken: Counter[str], moment: Moment, *, waited: float) -> None:
    at = f"{moment.act} at {moment.at_ms / 1000:.1f} s"
    if moment.hand:
        tally.faults.append(f"with a hand: {at}")
    elif not moment.prints:
        tally.faults.append(f"empty stage: {at}")
    elif not moment.side:
        tally.faults.append(f"several or moving: {at}")
    elif taken[moment.side]:
        tally.faults.append(f"twice: {moment.side}, {at}")
    elif not moment.well and moment.act in ("focus", "glare"):
        tally.faults.append(f"spoilt: {at}")
    else:
        tally.waits_ms.append(waited)
    if moment.side:
        taken[moment.side] += 1


def main() -> None:
    """Measure and print everything."""
    options = _options()
    first, every = SETS[options.set][0], Tally()
    for case in options.case or WATCHED_STAGES:
        of_case = Tally()
        work = [
            (case, seed, options.prints, options.set, options.act)
            for seed in range(first + options.skip, first + options.skip + options.sittings)
        ]
        for job, tally in zip(work, _measured(work, options.jobs), strict=True):
            of_case.add(tally)
            for fault in tally.faults if options.verbose else ():
                print(f"    {job[1]} {fault}", flush=True)
        print(line(case, of_case), flush=True)
        every.add(of_case)
    print(line("all", every))
    print(*told(every), sep="\n")
    print(speed(every))


def _measured(work: Sequence[tuple[str, int, int, str, list[str] | None]], jobs: int) -> Iterator[Tally]:
    if jobs == 1:
        yield from map(_measure, work)
        return
    with get_context("fork").Pool(jobs) as pool:
        yield from pool.imap(_measure, work)


def _measure(job: tuple[str, int, int, str, list[str] | None]) -> Tally:
    case, seed, prints, which, acts = job
    cv2.setNumThreads(1)
    moments = random_sitting(seed, printed_pictures(which), case=case, prints=prints, acts=acts or ACTS)
    with tempfile.TemporaryDirectory() as folder, Collection.create(Path(folder) / "box") as collection:
        return judged(moments, StageWatch(collection))


def line(name: str, tally: Tally) -> str:
    """The figures of a stage, each beside its target."""
    share = 100 * tally.once / max(1, tally.wanted)
    soon = 100 * float(np.mean(np.array(tally.waits_ms or [0]) <= SOON_MS))
    return (
        f"{name}: {tally.once} of {tally.wanted} sides taken once ({share:.1f} %{'' if share >= 98 else ' !'}), "
        f"missed {tally.of('missed')}, twice {tally.of('twice')}, with a hand {tally.of('with a hand')}, "
        f"of the empty stage {tally.of('empty')}, several or moving {tally.of('several')}, "
        f"spoilt {tally.of('spoilt')}; waited {np.median(tally.waits_ms or [0]):.0f} ms "
        f"(p95 {np.quantile(tally.waits_ms or [0], 0.95):.0f}; {soon:.1f} % within {SOON_MS}); "
        f"{tally.frames} frames"
    )


def told(tally: Tally) -> list[str]:
    """What was told in which act, in frames."""
    acts = sorted({act for act, _ in tally.told})
    return [
        f"  told in {act}: "
        + ", ".join(f"{why} {count}" for (of, why), count in tally.told.most_common() if of == act)
        for act in acts
    ]


def speed(tally: Tally) -> str:
    fixed = 1000 * float(np.median([_seconds(_fixed_work) for _ in range(5)]))
    took = np.array(tally.frame_ms)
    over = 100 * float(np.mean(took > 1000 / 15))
    return (
        f"a frame takes {np.median(took):.1f} ms (mean {took.mean():.1f}, p95 {np.quantile(took, 0.95):.1f}, "
        f"{over:.1f} % over 1/15 s, most {took.max():.0f}); the mean is {took.mean() / fixed:.2f} times the "
        f"fixed work's {fixed:.0f} ms"
    )


def _options() -> argparse.Namespace:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--sittings", type=int, default=2, help="sittings on each stage")
    parser.add_argument("--skip", type=int, default=0, help="seeds left out")
    parser.add_argument("--prints", type=int, default=6, help="prints in each sitting")
    parser.add_argument(
        "--case", action="append", choices=WATCHED_STAGES, help="only this stage (may be repeated)"
    )
    parser.add_argument(
        "--act", action="append", choices=sorted(set(ACTS)), help="only this act (may be repeated)"
    )
    which = parser.add_mutually_exclusive_group()
    for name in SETS:
        which.add_argument(f"--{name}", dest="set", action="store_const", const=name, help=f"the set to {name} on")
    parser.set_defaults(set="tune")
    parser.add_argument("--jobs", type=int, default=1, help="sittings measured at a time")
    parser.add_argument("--verbose", action="store_true", help="name every fault")
    return parser.parse_args()


if __name__ == "__main__":
    main()
