"""How fast the page of one print answers at any size, what is typed on it is understood, and an answer is kept.

    python benchmarks/print_room.py COLLECTION [--prints 60] [--kept 10]

COLLECTION is one of `benchmarks/big_collection.py`, whose order was kept before (`solander open` does it); it is
copied beside itself first (pictures are linked). Tells for prints taken at random the median and the 95th
percentile in milliseconds of the clock and of processor time, the first of each kind apart; no network is between.
Processor time is told because other work on the machine slows the clock only.
"""

from __future__ import annotations

import argparse
import random
import statistics
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

from solander.station.app import create_app
from solander.station.workbench import Workbench
from solander.tasks.collection import Collection
from solander.tasks.print_desk import PrintDesk
from solander.tasks.show import Shown
from solander.tasks.typed import Field, Typed
from table import ask, copied

PAGES = {
    "page": "/print/{}",
    "page, a field open": "/print/{}?say=date",
    "what may be seen": "/print/{}/seen",
    "understood: date": "/print/{}/understood?field=date&said=between+Whitsun+1936+and+the+war",
    "understood: people": "/print/{}/understood?field=people&said=Anna+%2B+Johan+(5)",
    "understood: occasion": "/print/{}/understood?field=occasion&said=regatta",
    "understood: seen": "/print/{}/understood?field=seen&said=deckle+edge",
}


def told(what: str, times: list[tuple[float, float]]) -> None:
    """A line: the first, then median and 95th percentile of the others, of the clock and of the processor."""
    (clock, used), *others = times
    columns = []
    for each in zip(*others, strict=True):
        ordered = sorted(each)
        columns.append(f"{statistics.median(ordered):.0f} / {ordered[int(0.95 * (len(ordered) - 1))]:.0f} ms")
    print(f"{what}: first {clock:.0f} ms ({used:.0f} ms processor); {columns[0]}; processor {columns[1]}")


def timed(act: Callable[[], object]) -> tuple[float, float]:
    """Milliseconds of the clock and of processor time that something takes."""
    clock, used = time.perf_counter(), time.process_time()
    act()
    return (time.perf_counter() - clock) * 1000, (time.process_time() - used) * 1000


def measured(collection: Collection, *, prints: int, kept: int) -> None:
    """Measures everything on prints at random, the same ones each time."""
    shown = Shown(collection)
    desk = PrintDesk(shown)
    app = create_app(Workbench(shown, prints=desk))
    some = random.Random(6).sample([one.accession for one in collection.catalogue.prints()], prints)
    for what, path in PAGES.items():
        told(what, [ask(app, path.format(accession)) for accession in some])
    kept_in, shown_in = [], []
    for accession in some[:kept]:
        typed = Typed(accession, Field.DATE, "summer 58", by="Aunt Vera")
        kept_in.append(timed(lambda typed=typed: desk.say(typed)))
        shown_in.append(ask(app, f"/print/{accession}"))
    told("kept", kept_in)
    told("page after it was kept, its date right", shown_in)


def main() -> None:
    """Copies the collection and measures on the copy."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("collection", type=Path)
    parser.add_argument("--prints", type=int, default=60)
    parser.add_argument("--kept", type=int, default=10)
    given = parser.parse_args()
    with tempfile.TemporaryDirectory(dir=given.collection.resolve().parent) as folder:
        target = Path(folder) / "collection"
        copied(given.collection, target)
        with Collection.open(target) as collection:
            print(f"{collection.catalogue.print_count():,} prints")
            measured(collection, prints=given.prints, kept=given.kept)


if __name__ == "__main__":
    main()
