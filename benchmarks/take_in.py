"""What taking in one 12-megapixel JPEG costs, against the least that any program must do with it.

    .venv/bin/python benchmarks/take_in.py [--runs 9] [--json]

The floor is: read, hash, decode, encode, write. The take-in is the real one, `tasks.accession.accession` into a
new collection on the same disk, with everything it does for safety (flushing to the disk, the catalogue), and then
the description written into the access picture, as a release does. Both run in this process, on one core, in turn;
figures are medians. The picture is drawn by `imaging.simulate`: one print on a grey stage, 4000 × 3000 pixels.
"""

from __future__ import annotations

import argparse
import hashlib
import json
import os
import statistics
import sys
import tempfile
import time
from collections import defaultdict
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager
from pathlib import Path
from unittest import mock

import cv2
import numpy as np
import simplejpeg

from solander.core.descriptions import DescribedPrint, When
from solander.core.prints import Side
from solander.core.statements import Sure
from solander.delivery.embed import embed_file, fields_of
from solander.imaging.encode import encode_jpeg
from solander.imaging.simulate import Camera, Paper, Placement, Stage, drawn_picture, simulate_capture
from solander.tasks import accession as accession_module
from solander.tasks import prepare as prepare_module
from solander.tasks.accession import accession
from solander.tasks.collection import Collection
from solander.vault.store import Vault

AIM = 4.0
SIZE = (4000, 3000)
NOISE = 4.0
"""Gives a file of 1.6 bits a pixel, amid the 0.9–2.2 of the photographs in shared/data; smoother pictures decode
and encode faster, which makes the floor lower."""

Seconds = dict[str, float]

STAGES = (
    ("read, check", accession_module, "probe"),
    ("read, check", prepare_module, "probe"),
    ("read, hash, keep", Vault, "put"),
    ("decode", prepare_module, "decode"),
    ("find", prepare_module, "locate_prints"),
    ("straighten", prepare_module, "straighten"),
    ("measure view", prepare_module, "measure_view"),
    ("measure edge", prepare_module, "edge_rise"),
    ("fingerprint", prepare_module, "fingerprint"),
    ("encode access copy", prepare_module, "encode_jpeg"),
    ("make thumbnail", prepare_module, "thumbnail"),
    ("write views", prepare_module, "_write_whole"),
)
"""Stage, and the function of the real take-in that does it; encoding the thumbnail counts as encoding."""


def main() -> int:
    """Runs the benchmark; 1 when the ratio is above the aim."""
    options = _options()
    _one_core()
    with tempfile.TemporaryDirectory() as folder:
        picture = _picture(Path(folder))
        floors, takes = [], []
        for run in range(options.runs + 1):  # the first warms caches and is not counted
            floors.append(floor(picture, Path(folder)))
            takes.append(take_in(picture, Path(folder) / f"collection-{run}"))
        size = picture.stat().st_size
    least, whole = _medians(floors[1:]), _medians(takes[1:])
    return _report(least, whole, size=size, options=options)


def _options() -> argparse.Namespace:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--runs", type=int, default=9)
    parser.add_argument("--json", action="store_true")
    return parser.parse_args()


def _one_core() -> None:
    """One thread in OpenCV, and one core for everything where the system can say so."""
    cv2.setNumThreads(1)
    if hasattr(os, "sched_setaffinity"):
        os.sched_setaffinity(0, {max(os.sched_getaffinity(0))})


def _picture(folder: Path) -> Path:
    """A print of 100 × 75 mm that fills about four fifths of the frame, slightly turned."""
    paper = Paper(drawn_picture(12, (1500, 1125)), size_mm=(100.0, 75.0))
    at = Placement((2010.0, 1490.0), angle_deg=1.7, px_per_mm=35.5, tilt_deg=(1.0, -1.0))
    capture = simulate_capture([paper], [at], Stage("grey"), size=SIZE, seed=12, camera=Camera(noise=NOISE))
    path = folder / "capture.jpg"
    path.write_bytes(simplejpeg.encode_jpeg(np.ascontiguousarray(capture.rgb), quality=92, colorsubsampling="420"))
    return path


def floor(picture: Path, folder: Path) -> Seconds:
    """Seconds of each step that nothing can leave out; no flushing to the disk, no safety."""
    took: Seconds = {}
    with _timed(took, "read"):
        content = picture.read_bytes()
    with _timed(took, "hash"):
        hashlib.sha256(content).hexdigest()
    with _timed(took, "decode"):
        pixels = simplejpeg.decode_jpeg(content, colorspace="RGB")
    with _timed(took, "encode"):
        encoded = encode_jpeg(pixels)
    with _timed(took, "write"):
        (folder / "floor.jpg").write_bytes(encoded)
    return took


def take_in(picture: Path, root: Path) -> Seconds:
    """Seconds of each stage of the real take-in of the file into a new collection, and of the description."""
    took: Seconds = defaultdict(float)
    with Collection.create(root) as collection, ExitStack() as watched:
        for stage, owner, name in STAGES:
            watched.enter_context(mock.patch.object(owner, name, _watched(getattr(owner, name), took, stage)))
        whole: Seconds = {}
        with _timed(whole, "take-in"):
            report = accession(collection, [picture])
        took["catalogue and the rest"] = whole["take-in"] - sum(took.values())
        (number,) = report.prints
        with _timed(took, "embed"):
            _describe(collection, number)
    return dict(took)


def _describe(collection: Collection, number: str) -> None:
    print_ = collection.catalogue.print(number)
    view = print_.recto
    assert view is not None
    day = When("1952-07-19", "19 July 1952", "1952-07-19", "1952-07-19", "1952-07-19", Sure.CERTAIN, stated=True)
    described = DescribedPrint(print_, 1, day, caption="On the jetty", note="Made up for a benchmark")
    access_copy, _ = prepare_module.view_paths(collection.views_root, view.key)
    embed_file(access_copy, fields_of(described, Side.RECTO))


def _watched(function: Callable[..., object], took: Seconds, stage: str) -> Callable[..., object]:
    def timed(*arguments: object, **named: object) -> object:
        with _timed(took, stage):
            return function(*arguments, **named)

    return timed


@contextmanager
def _timed(took: Seconds, stage: str) -> Iterator[None]:
    began = time.perf_counter()
    yield
    took[stage] = took.get(stage, 0.0) + time.perf_counter() - began


def _medians(runs: list[Seconds]) -> Seconds:
    medians = {stage: statistics.median(run[stage] for run in runs) for stage in runs[0]}
    return {**medians, "all": statistics.median(sum(run.values()) for run in runs)}


def _report(least: Seconds, whole: Seconds, *, size: int, options: argparse.Namespace) -> int:
    ratio = whole["all"] / least["all"]
    if options.json:
        print(json.dumps({"floor_s": least, "take_in_s": whole, "ratio": ratio, "aim": AIM, "bytes": size}))
    else:
        print(f"{SIZE[0]} × {SIZE[1]} pixels, {size / 1e6:.1f} MB, one core, median of {options.runs}\n")
        _table("floor", least, least["all"])
        _table("take-in", whole, least["all"])
        print(f"take-in / floor = {ratio:.2f} (aim: at most {AIM:g})")
    return int(ratio > AIM)


def _table(title: str, took: Seconds, unit: float) -> None:
    print(f"{title:24}    ms   of the floor")
    for stage, seconds in took.items():
        print(f"  {stage:22} {seconds * 1000:6.1f} {seconds / unit:8.2f}")
    print()


if __name__ == "__main__":
    sys.exit(main())
