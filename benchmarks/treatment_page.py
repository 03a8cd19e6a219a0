"""How long the page of a treatment works on one change: what is in the fields, read and shown as a JPEG.

    python benchmarks/treatment_page.py

A view of 12 megapixels, opened once; then a field is changed again and again, as typing does. Prints the median
and the worst of the clock and of processor time, in milliseconds, without sending.
"""

from __future__ import annotations

import statistics
import tempfile
import time
from pathlib import Path

import cv2

from solander.core.prints import Capture, Outline, Print, Side, View
from solander.imaging.encode import encode_jpeg
from solander.imaging.simulate import drawn_picture
from solander.station.treatment_draft import draft_of
from solander.tasks.collection import Collection
from solander.tasks.prepare import view_paths
from solander.tasks.sitting import Sitting
from solander.tasks.treatment_desk import TreatmentDesk

WIDE, HIGH = 4000, 3000
TIMES = 30

COLOUR = {"draft": "1", "neutral.here": "1", "neutral.on": "1", "density.here": "1", "density.on": "1"}
FRAMED = {
    **COLOUR,
    **{f"{name}.{each}": "1" for name in ("detail", "fine-turn", "crop") for each in ("here", "on")},
    "detail.highlights": "10",
}


def main() -> None:
    with tempfile.TemporaryDirectory() as folder, Collection.create(Path(folder) / "box") as collection:
        desk = TreatmentDesk(collection, Sitting(collection))
        view = _entered(collection)
        begun = time.perf_counter()
        desk.seen(view.key, draft_of(desk, view.key, {}).treatment)
        print(f"opened the first time: {1000 * (time.perf_counter() - begun):.0f} ms")
        for name, fields in (("colour", COLOUR), ("colour, detail, turn and crop", FRAMED)):
            _tell(name, [_change(desk, view, fields, at) for at in range(TIMES)])


def _entered(collection: Collection) -> View:
    corners = ((0.0, 0.0), (WIDE - 1.0, 0.0), (WIDE - 1.0, HIGH - 1.0), (0.0, HIGH - 1.0))
    view = View("0" * 64, 0, Outline(corners, 1.0), Side.RECTO, WIDE, HIGH)
    picture = cv2.resize(drawn_picture(3), (WIDE - 400, HIGH - 400), interpolation=cv2.INTER_CUBIC)
    bordered = cv2.copyMakeBorder(picture, 200, 200, 200, 200, cv2.BORDER_CONSTANT, value=(240, 226, 190))
    with collection.catalogue.act("benchmark", "began") as act, act.work() as work:
        work.keep_capture(Capture(view.capture, "one.jpg", "image/jpeg", 1, WIDE, HIGH))
        work.add_print(Print("B1-0001", "B1", 1, (view,)))
        work.commit()
    for path in view_paths(collection.views_root, view.key):
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(encode_jpeg(bordered))
    return view


def _change(desk: TreatmentDesk, view: View, fields: dict[str, str], at: int) -> tuple[float, float]:
    given = {**fields, "density.way": "darker", "density.by": f"{0.01 * (at + 1):.2f}"}
    clock, worked = time.perf_counter(), time.process_time()
    desk.seen(view.key, draft_of(desk, view.key, given).treatment)
    return 1000 * (time.perf_counter() - clock), 1000 * (time.process_time() - worked)


def _tell(name: str, times: list[tuple[float, float]]) -> None:
    clock, worked = zip(*times[1:], strict=True)  # the first of a kind measures what its steps need
    print(
        f"{name}: clock {statistics.median(clock):.0f} ms (worst {max(clock):.0f}), "
        f"processor {statistics.median(worked):.0f} ms (worst {max(worked):.0f})"
    )


if __name__ == "__main__":
    main()
