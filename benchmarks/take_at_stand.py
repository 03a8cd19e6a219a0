"""How long a station takes to take a picture: from its bytes to the print with all that the slip says.

Run: `.venv/bin/python benchmarks/take_at_stand.py [--prints 20000] [--takes 10] [--megapixels 12]`

Pictures are simulated: a print on a grey stage, as a telephone in a stand sees it. What flushes the disk is timed
apart (`fsync`), for that is the disk's own time; work that waits (`after`) is timed after all pictures.
"""

from __future__ import annotations

import argparse
import io
import os
import statistics
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

from attrs import frozen
from PIL import Image

from solander.core.people import Person
from solander.core.prints import Container, Print, accession_number
from solander.imaging.simulate import Camera, Paper, Placement, Shadow, Stage, drawn_picture, simulate_capture
from solander.tasks.at_stand import AtStand
from solander.tasks.collection import Collection

SLIP = "box two, envelope five, summer nineteen fifty-eight, Bergen, with Ingrid and Nils"


def picture(number: int, size: tuple[int, int]) -> bytes:
    """One print on the stage, as JPEG."""
    scale = size[0] / 160
    paper = Paper(drawn_picture(number, (900, 620)), (100, 72), border_mm=4, seed=number)
    at = Placement((size[0] / 2, size[1] / 2), 2.0 + number % 3, scale)
    seen = simulate_capture(
        [paper], [at], Stage("grey"), size=size, seed=number, camera=Camera(blur_px=0.8, noise=1.2),
        shadow=Shadow((4, 5), 6),
    )  # fmt: skip
    content = io.BytesIO()
    Image.fromarray(seen.rgb).save(content, "jpeg", quality=91)
    return content.getvalue()


def filled(root: Path, prints: int) -> Collection:
    """A collection with so many prints, without pictures."""
    collection = Collection.create(root, title="A big box")
    with collection.catalogue.act("benchmark", "filled the box") as act, act.work() as work:
        work.keep_person(Person("Ingrid Sollihøgda", (), "1927-04-02"))
        work.keep_person(Person("Nils Sollihøgda", (), "1930"))
        work.add_container(Container("B1"))
        for number in range(1, prints + 1):
            work.add_print(Print(accession_number("B1", number), "B1", number, ()))
        work.commit()
    return collection


class Flushes:
    """Times every flush to the disk."""

    def __init__(self) -> None:
        self.seconds, self._fsync = 0.0, os.fsync

    def __enter__(self) -> Flushes:
        os.fsync = self._timed
        return self

    def __exit__(self, *_: object) -> None:
        os.fsync = self._fsync

    def _timed(self, descriptor: int) -> None:
        began = time.perf_counter()
        self._fsync(descriptor)
        self.seconds += time.perf_counter() - began


@frozen
class Took:
    """Seconds: by the clock without flushes, within flushes, and of processor time, which other work on the
    machine hardly changes."""

    rest: float
    flush: float
    cpu: float


def timed(doing: Callable[[], object]) -> Took:
    """How long it takes."""
    with Flushes() as flushes:
        began, cpu = time.perf_counter(), time.process_time()
        doing()
        return Took(time.perf_counter() - began - flushes.seconds, flushes.seconds, time.process_time() - cpu)


def main() -> None:
    """Prints the figures."""
    options = argparse.ArgumentParser()
    options.add_argument("--prints", type=int, default=0)
    options.add_argument("--takes", type=int, default=10)
    options.add_argument("--megapixels", type=float, default=12)
    given = options.parse_args()
    width = round((given.megapixels * 1e6 * 4 / 3) ** 0.5)
    pictures = [picture(number, (width, width * 3 // 4)) for number in range(given.takes)]
    with tempfile.TemporaryDirectory() as folder, filled(Path(folder) / "box", given.prints) as collection:
        stand = AtStand(collection)
        first, said = timed(lambda: stand.say(SLIP)), timed(lambda: stand.say("no, nineteen sixty, with Ingrid"))
        takes = [timed(lambda n=n, one=one: stand.take(one, f"{n}.jpg")) for n, one in enumerate(pictures)]
        shown = timed(lambda: stand.last(12))
        after = timed(stand.finish)
        rest, cpu = [one.rest for one in takes], [one.cpu for one in takes]
        print(f"{given.prints} prints before, {given.takes} pictures of {width} × {width * 3 // 4}")
        print(f"take   median {statistics.median(rest):.2f} s, slowest {max(rest):.2f} s, first {rest[0]:.2f} s")
        print(f"       processor time median {statistics.median(cpu):.2f} s, most {max(cpu):.2f} s")
        print(f"fsync  median {statistics.median(one.flush for one in takes):.3f} s (besides)")
        print(f"say    first {first.cpu:.2f} s, then {said.cpu:.2f} s of processor time")
        print(f"last   {shown.cpu:.3f} s; what waits {after.cpu / given.takes:.2f} s a print, of processor time")


if __name__ == "__main__":
    main()
