"""How well prints are found: simulated captures of every case, and real pictures beside the project.

    python benchmarks/find_prints.py --judge --per-case 24 --jobs 2

Prints one line a case, each figure beside its target (a "!" where it isn't kept) and whether all are met; then
what would be accepted without asking, how confidence is calibrated, search times on one thread, and the real
telephone pictures of `shared/data/quads`, when that folder is beside the project. Pictures printed are those of
`shared/data/photos` where present, else drawn ones.

Whoever changes the finder tunes with `--tune` (the default) and reports what `--judge` says: other seeds, and the
other half of the photographs. `--worst 3` names the seeds of the worst captures of each case. `--speed` tells the
search times alone, each also as a multiple of a fixed piece of work done in between, so that figures of a busy or
another machine can be compared.

In the real pictures a postcard, an envelope and a paper towel lie beside the measured cards: finds of these count
as false there. Times are processor time of the search alone.
"""

from __future__ import annotations

import argparse
import csv
import time
from collections import defaultdict
from collections.abc import Callable, Iterator, Sequence
from functools import cache
from multiprocessing import get_context
from pathlib import Path

import cv2
import numpy as np

from finder_score import REAL, WITH_EMPTY, Outcome, outcome, row, sureness, verdict
from solander.imaging.conventions import Quad, Rgb
from solander.imaging.locate import locate_prints
from solander.imaging.simulate import CASES, PLAIN_CASES, drawn_picture, random_capture

SHARED = Path(__file__).resolve().parents[2] / "shared" / "data"
SETS = {"tune": (10_000, 0), "judge": (700_000, 1)}
"""First seed, and which of every two photographs, so that what is tuned is judged on what it hasn't seen."""

SPEEDS = ((1920, 1080, 60), (4000, 3000, 200))
"""Width, height and the milliseconds that a search may take there."""


def main() -> None:
    """Measure and print everything."""
    options = _options()
    if options.speed:
        _print_speed(options.set)
        return
    every: list[Outcome] = []
    for case in options.case or CASES:
        outcomes = list(measured(case, options))
        every += outcomes
        for name in dict.fromkeys(one.row for one in outcomes):
            of_row = [one for one in outcomes if one.row == name]
            print(row(name, of_row)[0], flush=True)
            _print_worst(of_row, options.worst)
    _print_together(every)
    if not options.case:
        _print_speed(options.set)
        _print_real(options.worst)


def measured(case: str, options: argparse.Namespace) -> Iterator[Outcome]:
    """What came of each capture of a case."""
    first = SETS[options.set][0]
    work = [(case, seed, options.width, options.set) for seed in range(first, first + options.per_case)]
    if options.jobs == 1:
        yield from (one for job in work for one in _measure(job))
        return
    with get_context("fork").Pool(options.jobs) as pool:
        for outcomes in pool.imap(_measure, work):
            yield from outcomes


def _measure(job: tuple[str, int, int, str]) -> list[Outcome]:
    """One capture, searched; a dark print on black a second time with the frame of the empty stage."""
    case, seed, width, which = job
    cv2.setNumThreads(1)
    with_empty = case == "dark on black"
    capture = random_capture(
        seed, printed_pictures(which), case=case, size=(width, width * 3 // 4), with_empty=with_empty
    )
    rows = [(case, None), (WITH_EMPTY, capture.empty)] if with_empty else [(case, None)]
    outcomes = []
    for name, empty in rows:
        began = time.process_time()
        found = locate_prints(capture.rgb, empty_stage=empty)
        seconds = time.process_time() - began
        outcomes.append(outcome(name, seed, found, capture.truths, hand=capture.hand, seconds=seconds))
    return outcomes


@cache
def printed_pictures(which: str) -> list[Rgb]:
    """Every second photograph of the shared folder, or drawn pictures without it."""
    part = SETS[which][1]
    files = sorted((SHARED / "photos").glob("*.jpg"))[part::2]
    return [_read(file) for file in files] or [drawn_picture(seed) for seed in range(part, 48, 2)]


def real_pictures() -> dict[Path, list[Quad]]:
    """Telephone pictures with measured outlines, by file; empty without the shared folder."""
    table = SHARED / "quads" / "quads.csv"
    outlines: dict[Path, list[Quad]] = defaultdict(list)
    if table.exists():
        with table.open(encoding="utf-8", newline="") as lines:
            for line in csv.DictReader(lines):
                corners = [[float(line[f"x{i}"]), float(line[f"y{i}"])] for i in range(1, 5)]
                outlines[table.parent / line["file"]].append(np.array(corners))
    return outlines


def _read(file: Path) -> Rgb:
    bgr = cv2.imread(str(file))
    if bgr is None:
        raise SystemExit(f"{file.name} can't be read as a picture: bring the shared folder again")
    return np.ascontiguousarray(bgr[..., ::-1]).astype(np.uint8, copy=False)


def _options() -> argparse.Namespace:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--per-case", type=int, default=24, help="captures of each case")
    parser.add_argument("--case", action="append", choices=CASES, help="only this case (may be repeated)")
    parser.add_argument("--width", type=int, default=2400, help="width of the captures in pixels, 4:3")
    which = parser.add_mutually_exclusive_group()
    for name in SETS:
        which.add_argument(f"--{name}", dest="set", action="store_const", const=name, help=f"the set to {name} on")
    parser.set_defaults(set="tune")
    parser.add_argument("--jobs", type=int, default=1, help="captures measured at a time")
    parser.add_argument("--worst", type=int, default=0, help="name so many captures of each case that went worst")
    parser.add_argument("--speed", action="store_true", help="only the search times")
    return parser.parse_args()


def _print_worst(outcomes: Sequence[Outcome], count: int) -> None:
    def badness(one: Outcome) -> tuple[float, float]:
        return min((p.overlap for p in one.prints), default=1.0) - len(one.false), -one.seed

    for one in sorted(outcomes, key=badness)[:count]:
        prints = ", ".join(f"{p.overlap:.3f} (confidence {p.confidence:.2f})" for p in one.prints)
        print(f"    seed {one.seed}: overlaps {prints or '–'}; false {len(one.false)}")


def _print_together(outcomes: Sequence[Outcome]) -> None:
    print()
    plain = [one for one in outcomes if one.row in PLAIN_CASES]
    if plain:
        print(sureness("plain stages", plain))
    for line in verdict([one for one in outcomes if one.row != WITH_EMPTY]):
        print(line)
    print(f"a search took {1000 * np.median([one.seconds for one in outcomes]):.0f} ms (median of all captures)\n")


def _print_speed(which: str) -> None:
    cv2.setNumThreads(1)
    cases = ("grey stage", "black felt", "wood", "white on white", "curl")
    for width, height, most in SPEEDS:
        captures = [
            random_capture(1, printed_pictures(which), case=case, size=(width, height)).rgb for case in cases
        ]
        rounds = [(_seconds(_fixed_work), _seconds(lambda rgb=rgb: locate_prints(rgb))) for rgb in captures * 7]
        fixed, took = 1000 * np.median(rounds, axis=0)
        met = "met" if took <= most else "not met"
        print(
            f"{width} × {height}, one thread, decoding apart: {took:.0f} ms a search (≤ {most}): {met}; "
            f"{took / fixed:.2f} times the fixed work's {fixed:.0f} ms",
            flush=True,
        )


def _seconds(work: Callable[[], object]) -> float:
    """Processor time of a piece of work."""
    began = time.process_time()
    work()
    return time.process_time() - began


def _fixed_work() -> None:
    """Of the kind that a search is: strips cut out of a picture, and small arrays in many steps."""
    picture, strip = np.full((540, 960, 3), 99, np.uint8), np.full((160, 60, 3), 0.3, np.float32)
    turn = np.array([[0.9, 0.1, 200], [-0.1, 0.9, 200]])
    for _ in range(40):
        cut = cv2.warpAffine(picture, turn, (60, 480), flags=cv2.INTER_LINEAR | cv2.WARP_INVERSE_MAP)
        cv2.resize(cut.astype(np.float32), (60, 160), interpolation=cv2.INTER_AREA)
        length = np.sqrt((strip * strip).sum(axis=2))
        for column in range(12):
            np.median(np.clip(length[:, column : column + 5], 0.2, 0.8), axis=1)


def _print_real(worst: int) -> None:
    outlines = real_pictures()
    if not outlines:
        print("shared/data/quads is not beside the project: real pictures left out")
        return
    outcomes = []
    for number, (file, truths) in enumerate(outlines.items()):
        rgb = _read(file)
        began = time.process_time()
        found = locate_prints(rgb)
        seconds = time.process_time() - began
        outcomes.append(outcome(REAL, number, found, truths, hand=False, seconds=seconds))
    print(row(REAL, outcomes)[0])
    print(sureness("real pictures", outcomes))
    _print_worst(outcomes, worst)


if __name__ == "__main__":
    main()
