"""A small real collection whose outlines are not sure, with what is true of them."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from unittest.mock import patch

import numpy as np
from attrs import frozen
from numpy.typing import NDArray
from PIL import Image

from solander.imaging.locate import Found
from solander.imaging.simulate import Camera, Paper, Placement, Shadow, Stage, drawn_picture, simulate_capture
from solander.tasks.accession import accession
from solander.tasks.collection import Collection

SIZE = (900, 680)
BESIDE = np.array([[9.0, -7.0], [-8.0, 8.0], [7.0, 6.0], [-9.0, -6.0]])
"""Pixels by which the doubtful outlines miss the true corners."""


@frozen(eq=False)
class Doubtful:
    """A collection on disk, and the true corners of the print in each of its captures, by file name."""

    root: Path
    truths: dict[str, NDArray[np.float64]]

    @contextmanager
    def opened(self) -> Iterator[Collection]:
        with Collection.open(self.root) as collection:
            yield collection

    def copied_to(self, root: Path) -> Doubtful:
        """The same once more, to be changed."""
        shutil.copytree(self.root, root)
        return Doubtful(root, self.truths)


def doubtful_box(folder: Path) -> Doubtful:
    """Prints 1 and 2 found half sure, the second less so; 3 for sure; in 4 nothing was found. The second-best
    outline of 1 and 2 is the true one."""
    captures = folder / "captures"
    captures.mkdir(parents=True)
    truths = {
        name: _capture(captures / name, number) for number, name in enumerate(("a.png", "b.png", "c.png", "d.png"))
    }
    a, b, c, _ = truths.values()
    answers = iter(
        [(Found(a + BESIDE, 0.6, second=a),), (Found(b - BESIDE, 0.3, second=b),), (Found(c, 0.97),), ()]
    )
    finding = patch("solander.tasks.prepare.locate_prints", lambda rgb, **_: next(answers))
    with finding, Collection.create(folder / "collection", title="The Sollihøgda boxes") as collection:
        accession(collection, [captures], container="B12/E34/P5")
    return Doubtful(folder / "collection", truths)


def _capture(path: Path, number: int) -> NDArray[np.float64]:
    width, height = ((128, 89), (89, 128))[number % 2]
    picture = drawn_picture(number, (480, round(480 * height / width)), style=("harbour", "town")[number % 2])
    paper = Paper(picture, (width, height), border_mm=4, seed=number)
    placement = Placement((SIZE[0] / 2, SIZE[1] / 2), 4.0 + number, 4.2)
    seen = simulate_capture(
        [paper],
        [placement],
        Stage("grey"),
        size=SIZE,
        seed=number,
        camera=Camera(noise=1.0),
        shadow=Shadow((2, 2), 3),
    )
    Image.fromarray(seen.rgb).save(path)
    return np.asarray(seen.truths[0], np.float64)
