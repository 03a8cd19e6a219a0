"""A workbench over the small collection of prints, with drawn pictures where a test looks at them."""

from __future__ import annotations

import hashlib
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from attrs import define, field
from named_box import Workbench as Asking
from PIL import Image

sys.path.insert(0, str(Path(__file__).parents[1] / "tasks"))

from print_box import print_collection

from solander.core.prints import Capture, Outline, Side, View
from solander.station import workbench
from solander.station.app import create_app
from solander.tasks.album import Albums
from solander.tasks.collection import Collection
from solander.tasks.names import Names
from solander.tasks.outlines import Outlines
from solander.tasks.prepare import view_paths
from solander.tasks.print_desk import PrintDesk
from solander.tasks.show import Shown
from solander.tasks.sitting import Sitting

__all__ = ["PrintBench", "opened_bench", "print_collection"]

WIDE, HIGH = 1500, 1000


@define
class PrintBench(Asking):
    """The workbench with the desk of one print."""

    prints: PrintDesk = field(init=False)

    def __attrs_post_init__(self) -> None:
        shown, sitting = Shown(self.collection), Sitting(self.collection)
        self.names, self.prints = Names(shown, sitting), PrintDesk(shown, sitting)
        outlines = Outlines(self.collection, sitting)
        bench = workbench.Workbench(
            shown, outlines=outlines, albums=Albums(self.collection), names=self.names, prints=self.prints
        )
        self.app = create_app(bench)


@contextmanager
def opened_bench(root: Path, *, pictures: bool = False) -> Iterator[PrintBench]:
    """A workbench over a new collection in `root`; with `pictures` its first print has both sides and a detail,
    its second a front alone."""
    with print_collection(root) as collection:
        if pictures:
            _draw(collection, "B1-0001", (Side.RECTO, Side.VERSO, Side.DETAIL))
            _draw(collection, "B1-0002", (Side.RECTO,))
        yield PrintBench(collection)


def _draw(collection: Collection, accession: str, sides: tuple[Side, ...]) -> None:
    with collection.catalogue.act("test", "drew") as act, act.work() as work:
        for number, side in enumerate(sides):
            name = f"{accession} {side}.jpg"
            sha256 = hashlib.sha256(name.encode()).hexdigest()
            work.keep_capture(Capture(sha256, name, "image/jpeg", 1, WIDE, HIGH))
            corners = ((0.0, 0.0), (WIDE - 1.0, 0.0), (WIDE - 1.0, HIGH - 1.0), (0.0, HIGH - 1.0))
            view = View(sha256, 0, Outline(corners, 0.99), side, WIDE, HIGH, ppi=300)
            work.add_view(accession, view)
            full, small = view_paths(collection.views_root, view.key)
            full.parent.mkdir(parents=True, exist_ok=True)
            picture = Image.linear_gradient("L").resize((WIDE, HIGH)).rotate(180 * (number % 2))
            picture.save(full, quality=80)
            picture.resize((WIDE // 4, HIGH // 4)).save(small)
        work.commit()
