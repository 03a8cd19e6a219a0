"""A workbench over the small collection of prints, of which one is in colour with a yellow border."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import numpy as np
from attrs import define, field
from named_box import Workbench as Asking
from PIL import Image
from print_bench import _draw, print_collection

from solander.core.prints import Side, View
from solander.imaging.simulate import drawn_picture
from solander.station import workbench
from solander.station.app import create_app
from solander.tasks.prepare import view_paths
from solander.tasks.treatment_desk import TreatmentDesk

__all__ = ["DARK", "TreatedBench", "treated_bench"]

DARK = (0.5, 0.5)
"""A place that was a neutral dark, in shares of the view."""


@define
class TreatedBench(Asking):
    """The workbench with all desks."""

    treatments: TreatmentDesk = field(init=False)

    def __attrs_post_init__(self) -> None:
        bench = workbench.Workbench.over(self.collection)
        assert bench.treatments is not None
        self.treatments, self.app = bench.treatments, create_app(bench)

    @property
    def view(self) -> View:
        """The front that is treated."""
        view = self.collection.catalogue.print("B1-0001").recto
        assert view is not None
        return view

    @property
    def here(self) -> str:
        """The address of its treatment."""
        return f"/treatment/{self.view.key}"


@contextmanager
def treated_bench(root: Path) -> Iterator[TreatedBench]:
    """A workbench over a new collection in `root`; its first print has a front of 600 × 400 pixels."""
    with print_collection(root) as collection:
        _draw(collection, "B1-0001", (Side.RECTO,))
        bench = TreatedBench(collection)
        for path in view_paths(collection.views_root, bench.view.key):
            Image.fromarray(_faded()).save(path, quality=92)
        yield bench


def _faded() -> np.ndarray:
    """A picture within a yellow border; in its middle a dark that was neutral and has turned."""
    picture = np.full((400, 600, 3), (240, 226, 190), np.uint8)
    picture[40:360, 40:560] = np.array(Image.fromarray(drawn_picture(3)).resize((520, 320)))
    picture[180:220, 270:330] = (90, 45, 40)
    return picture
