"""How fast occasions, containers, names, how far and what was done answer, and acts on a thousand prints.

    python benchmarks/arrange.py COLLECTION [--acts 100000] [--prints 1000]

COLLECTION is one of `benchmarks/big_collection.py`, whose order was kept before (`solander open` does it); its
catalogue is copied first, and the acts that it lacks are written into the copy's history, each with one change.
Tells of each page the first answer and, of the following, the median and the 95th percentile, of the clock and of
processor time: other work on the machine slows the clock only. No network is between.
"""

from __future__ import annotations

import argparse
import json
import random
import shutil
import sqlite3
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from urllib.parse import quote

from solander.station.app import create_app
from solander.station.workbench import Workbench
from solander.tasks.arrange import lay, pile, put_back, put_into
from solander.tasks.arrange_desk import ArrangeDesk
from solander.tasks.collection import Collection
from solander.tasks.names import Names
from solander.tasks.occasions import part_occasion, remove_from_occasion, rename_occasion, say_of_occasion
from solander.tasks.show import Shown
from solander.tasks.sitting import Sitting
from table import ask, spread

TIMES = 12


def copied(root: Path, target: Path) -> Path:
    """The collection without its pictures, which no page here reads."""
    target.mkdir()
    shutil.copy(root / "solander.db", target)
    return target


def lengthen(root: Path, acts: int) -> None:
    """Writes acts into history until there are so many; they touch occasions only, so no order depends on them."""
    with sqlite3.connect(root / "solander.db") as database:
        there = database.execute("SELECT count(*), coalesce(max(id), 0) FROM acts").fetchone()
        names = [row[0] for row in database.execute("SELECT name FROM occasions LIMIT 500")]
        rows = [(name, json.dumps({"name": name})) for name in names]
        at, first = "2026-05-03T18:00:00.000Z", there[1] + 1
        more = range(first, first + max(0, acts - there[0]))
        database.executemany(
            "INSERT INTO acts (id, at, who, what) VALUES (?, ?, 'archivist', ?)",
            ((i, at, f"looked at “{rows[i % len(rows)][0]}”") for i in more),
        )
        database.executemany(
            "INSERT INTO changes (act, at, action, table_name, row_key, before, after, lasting) "
            "VALUES (?, ?, 'update', 'occasions', ?, ?, ?, 0)",
            ((i, at, name, row, row) for i in more for name, row in rows[i % len(rows) : i % len(rows) + 1]),
        )


def time_pages(bench: Workbench, paths: dict[str, Callable[[], str]]) -> None:
    """Each page once on a fresh workbench, then some times more."""
    app = create_app(bench)
    ask(app, "/containers")
    for name, path in paths.items():
        clock, processor = ask(app, path())
        print(f"{name}, the first: {clock:.0f} ms of the clock, {processor:.0f} ms of processor time")
        spread(name, [ask(app, path()) for _ in range(TIMES)])


def timed(what: str, act: Callable[[], object]) -> None:
    """Writes how long an act takes."""
    clock, processor = time.perf_counter(), time.process_time()
    act()
    clock, processor = time.perf_counter() - clock, time.process_time() - processor
    print(f"{what}: {clock:.2f} s of the clock, {processor:.2f} s of processor time", flush=True)


def time_acts(collection: Collection, count: int) -> None:
    """Acts on many prints at once."""
    every = sorted(collection.catalogue.standings_of(_numbers(collection, count + 2)))
    first, last, prints = every[0], every[-1], every[1:-1]
    for what, act in (
        ("piled", lambda: pile(collection, prints, "Everything at once")),
        (
            "dated and placed",
            lambda: say_of_occasion(collection, "Everything at once", date="May 1936", place="x"),
        ),
        ("renamed", lambda: rename_occasion(collection, "Everything at once", "All of it")),
        ("parted", lambda: part_occasion(collection, "All of it", prints, "The rest")),
        ("laid in order", lambda: lay(collection, prints, after=first, before=last)),
        ("put into another box", lambda: put_into(collection, prints, "X1")),
        ("put back", lambda: put_back(collection, prints)),
        ("taken out of the occasion", lambda: remove_from_occasion(collection, prints)),
        ("that taken back", lambda: collection.catalogue.undo("archivist")),
    ):
        timed(f"{len(prints)} prints {what}", act)


def _numbers(collection: Collection, count: int) -> list[str]:
    return [one.accession for one in collection.catalogue.standings(limit=count)]


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("collection", type=Path)
    parser.add_argument("--acts", type=int, default=100_000)
    parser.add_argument("--prints", type=int, default=1000)
    asked = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        root = copied(asked.collection, Path(folder) / "copy")
        lengthen(root, asked.acts)
        dice = random.Random(1)
        with Collection.open(root) as collection:
            # No order hangs on the acts that were written: the one that is kept holds as of the last of them.
            collection.catalogue.keep_standings([], {}, holds=collection.catalogue.last_change())
            shown, sitting = Shown(collection), Sitting(collection)
            desk = ArrangeDesk(shown, sitting)
            bench = Workbench(shown, names=Names(shown, sitting), arranging=desk)
            names = list(collection.catalogue.occasion_counts())
            people = [quote(name, safe="") for name in collection.catalogue.headings()]
            codes = [one.code for one in collection.catalogue.containers()]
            newest = max((one.number for one in desk.history.page().acts), default=1)
            numbers = _numbers(collection, 1000)
            print(f"{len(names)} occasions, {len(codes)} containers, {newest} acts")
            pages = {
                "the list of occasions": lambda: "/occasions",
                "an occasion": lambda: f"/occasion/{dice.choice(names)}",
                "the list of containers": lambda: "/containers",
                "a container": lambda: f"/container/{dice.choice(codes).replace('/', '-')}",
                "people": lambda: "/people",
                "a person": lambda: f"/person/{dice.choice(people)}",
                "places": lambda: "/places",
                "the map": lambda: "/map",
                "handing over": lambda: "/hand-over",
                "how far": lambda: "/how-far",
                "what was done": lambda: f"/what-was-done?before={dice.randrange(2, newest + 1)}",
                "what was done about a print": lambda: f"/what-was-done?about={dice.choice(numbers)}",
                "one act": lambda: f"/what-was-done/{dice.randrange(newest - 1000, newest)}",
            }
            time_pages(bench, pages)
            time_acts(collection, asked.prints)
            app = create_app(bench)
            clock, processor = ask(app, "/how-far")
            print(f"how far, counted anew: {clock:.0f} ms of the clock, {processor:.0f} ms of processor time")


if __name__ == "__main__":
    main()
