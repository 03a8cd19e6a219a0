"""Whether a take-in streams: peak memory of `solander accession` for many files against few.

    .venv/bin/python benchmarks/memory.py [--few 500] [--many 5000]

Each take-in is a process of its own; the figure is the largest resident size that the system saw of it or of one
of its workers (`ru_maxrss`), so it needs a system that counts that: not Windows. Files are small drawn pictures,
each different, because the question is what grows with their number, not with their size.
"""

from __future__ import annotations

import argparse
import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path

import numpy as np
import simplejpeg

AIM = 1.5
"""How much more memory ten times the files may take (our own aim; a list of names grows with them)."""


def main() -> int:
    """Runs both take-ins; 1 when the many take more than `AIM` times the memory of the few."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--few", type=int, default=500)
    parser.add_argument("--many", type=int, default=5000)
    options = parser.parse_args()
    few, many = (_peak_mb(count) for count in (options.few, options.many))
    print(f"many / few = {many / few:.2f} (aim: at most {AIM:g})")
    return int(many / few > AIM)


def _peak_mb(count: int) -> float:
    with tempfile.TemporaryDirectory() as folder:
        pictures, collection = Path(folder) / "pictures", Path(folder) / "collection"
        _draw(pictures, count)
        _solander("new", str(collection))
        began = time.monotonic()
        peak = _solander("accession", str(collection), str(pictures))
        print(f"{count} files: {peak:.0f} MB at most, {time.monotonic() - began:.0f} s", flush=True)
    return peak


def _draw(folder: Path, count: int) -> None:
    """A print of patches on a grey stage, 160 × 120 pixels; no two alike, since alike ones are compared."""
    folder.mkdir()
    for number in range(count):
        rng = np.random.default_rng(number)
        picture = rng.integers(90, 114, (120, 160, 3), dtype=np.uint8)
        patches = rng.integers(150, 256, (8, 10, 3), dtype=np.uint8)
        picture[20:100, 30:130] = patches.repeat(10, axis=0).repeat(10, axis=1)
        (folder / f"{number:05d}.jpg").write_bytes(simplejpeg.encode_jpeg(picture, quality=90))


def _solander(*arguments: str) -> float:
    """Runs the command; gives the peak resident size in MB of its largest process.

    `wait4` counts the processes that the child itself has waited for as well, its workers.
    """
    child = subprocess.Popen([sys.executable, "-m", "solander", *arguments], stdout=subprocess.DEVNULL)
    _, status, usage = os.wait4(child.pid, 0)
    if os.waitstatus_to_exitcode(status):
        raise SystemExit(f"solander {arguments[0]} gave {os.waitstatus_to_exitcode(status)}")
    return usage.ru_maxrss / (1 << 20 if sys.platform == "darwin" else 1 << 10)


if __name__ == "__main__":
    sys.exit(main())
