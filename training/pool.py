"""Scenes drawn without end by all cores into memory that they share with the one that learns."""

from __future__ import annotations

import mmap
import multiprocessing
import os
from pathlib import Path

import cv2
import numpy as np
from captures import capture
from numpy.typing import NDArray
from scenes import CANVAS, Painter
from truths import LAYERS

Bytes = NDArray[np.uint8]

SIMULATED = 0.45
"""Share of the scenes that are captures of the project's simulator."""

HELD_OUT = 6
"""Every sixth photograph is printed in the scenes that validate, and in no other."""


def photographs(folder: Path, *, held_out: bool) -> list[Bytes]:
    """The pictures of a folder at 480 pixels, either those that validate or all others."""
    files = sorted(f for f in folder.iterdir() if f.suffix.lower() in (".jpg", ".jpeg", ".png"))
    chosen = [f for i, f in enumerate(files) if (i % HELD_OUT == 0) == held_out]
    return [_reduced(cv2.imread(str(f), cv2.IMREAD_COLOR)) for f in chosen]


def _reduced(bgr: Bytes) -> Bytes:
    scale = min(1.0, 480 / max(bgr.shape[:2]))
    smaller = cv2.resize(bgr, None, fx=scale, fy=scale, interpolation=cv2.INTER_AREA)
    return np.ascontiguousarray(smaller[..., ::-1])


def _shared(shape: tuple[int, ...], kind: type) -> NDArray[np.generic]:
    """An array that processes started from here write into together."""
    length = int(np.prod(shape)) * np.dtype(kind).itemsize
    return np.frombuffer(mmap.mmap(-1, length), kind, count=int(np.prod(shape))).reshape(shape)


class Pool:
    """`training` scenes that are renewed in turn, and `validation` scenes that are drawn once.

    Both are (number, 480, 640, 10) bytes, the truths after red, green and blue. The cores never
    stop: a scene may be renewed while it is read, which at most mixes two scenes once in many thousands.
    """

    def __init__(self, folder: Path, *, size: int, check: int, seed: int, workers: int) -> None:
        cv2.setNumThreads(0)  # before the first call: a pool of threads would not survive the fork
        shape = (CANVAS[1], CANVAS[0], 3 + len(LAYERS))
        self.workers = workers
        self.training = _shared((size // workers * workers, *shape), np.uint8)
        self.validation = _shared((check // workers * workers, *shape), np.uint8)
        self._drawn = _shared((workers, 2), np.int64)
        self._pictures = photographs(folder, held_out=True), photographs(folder, held_out=False)
        start = multiprocessing.get_context("fork")
        self._cores = [start.Process(target=self._draw, args=(w, seed), daemon=True) for w in range(workers)]
        for core in self._cores:
            core.start()

    @property
    def validated(self) -> bool:
        """Whether the validation scenes are all there."""
        return bool((self._drawn[:, 0] * self.workers >= len(self.validation)).all())

    @property
    def drawn(self) -> int:
        """Training scenes drawn so far, renewals counted."""
        return int(self._drawn[:, 1].sum())

    @property
    def ready(self) -> int:
        """Training scenes, from the first, that are there."""
        return min(len(self.training), int(self._drawn[:, 1].min()) * self.workers)

    def stop(self) -> None:
        """End the cores' work."""
        for core in self._cores:
            core.terminate()
            core.join()

    def _draw(self, worker: int, seed: int) -> None:
        os.nice(5)
        checker = Painter(1_000_000 + worker, self._pictures[0])
        self._fill(checker, self.validation, worker, column=0, rounds=1)
        painter = Painter(seed * 1000 + worker, self._pictures[1])
        self._fill(painter, self.training, worker, column=1, rounds=1_000_000)

    def _fill(self, painter: Painter, scenes: Bytes, worker: int, *, column: int, rounds: int) -> None:
        for _ in range(rounds):
            for place in range(worker, len(scenes), self.workers):
                simulated = painter.rng.uniform() < SIMULATED
                seen, truths = capture(painter.rng, painter.photographs, CANVAS) if simulated else painter.scene()
                scenes[place, ..., :3], scenes[place, ..., 3:] = seen, truths
                self._drawn[worker, column] += 1
