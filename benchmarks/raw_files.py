"""How long a raw file takes to develop, and how much memory: `python benchmarks/raw_files.py [MEGAPIXELS…]`.

The files are made (tests/imaging/made_dng.py), uncompressed, of a smooth picture with grain; each is read in a
process of its own.
"""

from __future__ import annotations

import multiprocessing
import re
import sys
import tempfile
import time
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[1] / "tests" / "imaging"))
from made_dng import write_dng

from solander.imaging.decode import decode, probe


def main() -> None:
    """Prints a line for each size."""
    for megapixels in map(float, sys.argv[1:] or ["12", "24", "45"]):
        with tempfile.TemporaryDirectory() as folder:
            path = _written(Path(folder) / "made.dng", megapixels)
            with multiprocessing.get_context("spawn").Pool(1) as pool:
                probe_s, decode_s, peak = pool.apply(_read, (path,))
            print(
                f"{megapixels:g} megapixels, {path.stat().st_size / 1e6:.0f} MB: looked at in {probe_s:.2f} s, "
                f"developed in {decode_s:.2f} s, {peak:.0f} MB at most"
            )


def _written(path: Path, megapixels: float) -> Path:
    height = int((megapixels * 1e6 / 1.5) ** 0.5) // 2 * 2
    y, x = np.mgrid[0:height, 0 : height * 3 // 2]
    grain = np.random.default_rng(1958).integers(0, 20, x.shape)
    rgb = np.stack([x * 200 // x.max() + grain, y * 200 // y.max() + grain, 60 + grain], axis=-1)
    return write_dng(path, rgb.astype(np.uint8))


def _read(path: Path) -> tuple[float, float, float]:
    began = time.perf_counter()
    probe(path)
    probed = time.perf_counter()
    decode(path)
    done = time.perf_counter()
    return probed - began, done - probed, _peak_mb()


def _peak_mb() -> float:
    """Of this process alone: what `getrusage` tells begins with the memory of the process that started it."""
    status = Path("/proc/self/status").read_text()
    return int(re.search(r"VmHWM:\s+(\d+)", status)[1]) / 1000


if __name__ == "__main__":
    main()
