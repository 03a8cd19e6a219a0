"""How well prints are found: simulated captures of every case, and real pictures beside the project.

    python benchmarks/find_prints.py --per-case 50

Prints one line a case: captures, prints, misses (no find with IoU ≥ .5), false finds, share of prints with IoU
≥ .98 and ≥ .99, median and 95th percentile of the corner error (% of the diagonal, of prints not missed), share
with confidence ≥ the level of `--sure` and their p95, and milliseconds a search on one thread. Then the search
time for 12 megapixels, and mean IoU on `shared/data/quads`, when that folder is beside the project. Pictures
printed are those of `shared/data/photos` where present, else drawn ones.
"""

from __future__ import annotations

import argparse
import csv
import time
from collections import defaultdict
from collections.abc import Iterable, Sequence
from pathlib import Path

import cv2
import numpy as np
from attrs import define, field

from solander.imaging.conventions import Quad, Rgb, corner_error, iou
from solander.imaging.locate import Found, locate_prints
from solander.imaging.simulate import CASES, drawn_picture, random_capture

SHARED = Path(__file__).resolve().parents[2] / "shared" / "data"
HIT = 0.5


@define
class Tally:
    """What came of the captures of one case."""

    captures: int = 0
    prints: int = 0
    misses: int = 0
    false: int = 0
    overlaps: list[float] = field(factory=list)
    errors: list[float] = field(factory=list)
    confidences: list[float] = field(factory=list)
    seconds: list[float] = field(factory=list)

    def add(self, found: Sequence[Found], truths: Iterable[Quad], seconds: float) -> None:
        """Count one capture: every truth takes the find that overlaps it most."""
        left = list(found)
        self.captures += 1
        self.seconds.append(seconds)
        for truth in truths:
            self.prints += 1
            best = max(left, key=lambda f: iou(f.corners, truth), default=None)
            overlap = iou(best.corners, truth) if best else 0.0
            self.overlaps.append(overlap)
            if best is None or overlap < HIT:
                self.misses += 1
                continue
            left = [f for f in left if f is not best]
            self.errors.append(corner_error(best.corners, truth))
            self.confidences.append(best.confidence)
        self.false += len(left)

    def row(self, name: str, sure: float) -> str:
        """One line of the table."""
        overlaps, errors = np.array(self.overlaps or [np.nan]), np.array(self.errors or [np.nan])
        accepted = errors[np.array(self.confidences or [0.0]) >= sure]
        share = len(accepted) / max(self.prints, 1)
        return (
            f"{name:16} {self.captures:5} {self.prints:6} {self.misses:6} {self.false:5}"
            f" {100 * (overlaps >= 0.98).mean():7.1f} {100 * (overlaps >= 0.99).mean():7.1f}"
            f" {overlaps.mean():6.3f}"
            f" {np.median(errors):7.3f} {np.percentile(errors, 95):7.3f}"
            f" {100 * share:6.1f} {np.percentile(accepted, 95) if len(accepted) else np.nan:7.3f}"
            f" {1000 * np.median(self.seconds):6.0f}"
        )


HEADER = "case              capt prints misses false  %≥.98  %≥.99   mean  median     p95  %sure sure95     ms"


def main() -> None:
    """Measure and print the table."""
    options = _options()
    cv2.setNumThreads(1)
    pictures = printed_pictures()
    print(HEADER)
    for case in options.case or CASES:
        tally = Tally()
        for seed in range(options.first_seed, options.first_seed + options.per_case):
            capture = random_capture(seed, pictures, case=case, size=(options.width, options.width * 3 // 4))
            _measure(tally, capture.rgb, capture.truths)
        print(tally.row(case, options.sure), flush=True)
    _print_speed(pictures)
    _print_real(options.sure)


def printed_pictures() -> list[Rgb]:
    """Photographs of the shared folder, or drawn pictures without it."""
    files = sorted((SHARED / "photos").glob("*.jpg"))
    if files:
        return [np.ascontiguousarray(cv2.imread(str(f))[..., ::-1]) for f in files]
    return [drawn_picture(seed) for seed in range(24)]


def real_pictures() -> dict[Path, list[Quad]]:
    """Telephone pictures with measured outlines, by file; empty without the shared folder."""
    table = SHARED / "quads" / "quads.csv"
    outlines: dict[Path, list[Quad]] = defaultdict(list)
    if table.exists():
        with table.open(encoding="utf-8", newline="") as lines:
            for row in csv.DictReader(lines):
                corners = [[float(row[f"x{i}"]), float(row[f"y{i}"])] for i in range(1, 5)]
                outlines[table.parent / row["file"]].append(np.array(corners))
    return outlines


def _options() -> argparse.Namespace:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--per-case", type=int, default=50, help="captures of each case")
    parser.add_argument("--case", action="append", choices=CASES, help="only this case (may be repeated)")
    parser.add_argument("--width", type=int, default=2400, help="width of the captures in pixels, 4:3")
    parser.add_argument("--first-seed", type=int, default=10_000, help="seeds count up from here")
    parser.add_argument("--sure", type=float, default=0.7, help="confidence from which a find counts as sure")
    return parser.parse_args()


def _measure(tally: Tally, rgb: Rgb, truths: Iterable[Quad]) -> None:
    began = time.perf_counter()
    found = locate_prints(rgb)
    tally.add(found, truths, time.perf_counter() - began)


def _print_speed(pictures: Sequence[Rgb]) -> None:
    captures = [random_capture(seed, pictures, size=(4000, 3000)) for seed in (1, 2, 3)]
    tally = Tally()
    for capture in captures * 3:
        _measure(tally, capture.rgb, capture.truths)
    print(f"12 megapixels, one thread: {1000 * np.median(tally.seconds):.0f} ms a search (median of 9)")


def _print_real(sure: float) -> None:
    outlines = real_pictures()
    if not outlines:
        print("shared/data/quads is not beside the project: real pictures left out")
        return
    tally = Tally()
    for file, truths in outlines.items():
        _measure(tally, np.ascontiguousarray(cv2.imread(str(file))[..., ::-1]), truths)
    print(tally.row("real (quads)", sure))


if __name__ == "__main__":
    main()
