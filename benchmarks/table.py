"""How fast the Table answers at any size, and how soon an edit is right, on its own print and on all.

    python benchmarks/table.py COLLECTION [--edits 20]

COLLECTION is one of `benchmarks/big_collection.py`, whose order was kept before (`solander open` does it); it is
copied beside itself first (pictures are linked). Tells of each kind of page the median and the 95th percentile in
milliseconds of the clock and of processor time, the first page of a fresh workbench apart; no network is between.
Then edits: until the request that shows the print is answered with its own date right, and until the whole order
is right. Processor time is told because other work on the machine slows the clock only.
"""

from __future__ import annotations

import argparse
import asyncio
import os
import random
import resource
import shutil
import statistics
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

import httpx
from fastapi import FastAPI

from solander.core.standing import Arrangement
from solander.core.statements import About, Says, Statement, Sure
from solander.station.app import create_app
from solander.station.workbench import Workbench
from solander.tasks.collection import Collection
from solander.tasks.show import Shown
from solander.tasks.standing import holds

PAGES = 60


def copied(root: Path, target: Path) -> None:
    """The collection again: its catalogue copied, its pictures linked."""
    for path in root.rglob("*"):
        place = target / path.relative_to(root)
        if path.is_dir():
            place.mkdir(parents=True, exist_ok=True)
        elif path.name.startswith("solander.db"):
            place.parent.mkdir(parents=True, exist_ok=True)
            shutil.copy(path, place)
        else:
            place.parent.mkdir(parents=True, exist_ok=True)
            os.link(path, place)


def ask(app: FastAPI, path: str) -> tuple[float, float]:
    """Milliseconds of the clock and of processor time that a request takes."""

    async def asked() -> httpx.Response:
        transport = httpx.ASGITransport(app)
        async with httpx.AsyncClient(transport=transport, base_url="http://127.0.0.1") as client:
            return await client.get(path, headers={"accept": "text/html"})

    clock, processor = time.perf_counter(), time.process_time()
    answer = asyncio.run(asked())
    clock, processor = time.perf_counter() - clock, time.process_time() - processor
    assert answer.status_code == 200, (path, answer.status_code, answer.text[:300])
    return clock * 1e3, processor * 1e3


def spread(what: str, times: list[tuple[float, float]]) -> None:
    """Writes median and 95th percentile."""
    for place, name in enumerate(("clock", "processor")):
        taken = sorted(each[place] for each in times)
        p95 = taken[min(len(taken) - 1, round(0.95 * len(taken)))]
        print(f"{what}, {name}: median {statistics.median(taken):.0f} ms, p95 {p95:.0f} ms", flush=True)


def time_pages(app: FastAPI, shown: Shown, dice: random.Random) -> None:
    """Pages and parts of the Table at random places."""
    numbers = [one.accession for one in shown.collection.catalogue.standings(limit=10**9)]
    for arrangement in Arrangement:
        some = dice.sample(numbers, min(PAGES, len(numbers)))
        laid = f"laid={arrangement}"
        spread(f"part {laid}", [ask(app, f"/table/part?{laid}&after={one}") for one in some])
    some = dice.sample(numbers, min(PAGES, len(numbers)))
    spread("whole page", [ask(app, f"/?start={one}") for one in some])
    years = dice.choices(list(shown.table.years), k=PAGES)
    spread("part at a year", [ask(app, f"/table/part?year={year}") for year in years])


def time_edits(app: FastAPI, shown: Shown, dice: random.Random, edits: int) -> None:
    """Dates said of prints: until the print's own part is right, and until all are."""
    collection = shown.collection
    undated = [one.accession for one in collection.catalogue.standings(limit=10**9) if one.undated]
    times = []
    start = time.perf_counter()
    for number, accession in enumerate(dice.sample(undated, edits)):
        said = Statement(
            f"edit {number} {time.time_ns()}",
            About.PRINT,
            accession,
            Says.EXPOSURE,
            "1957",
            "1957",
            Sure.LIKELY,
            "benchmark",
            "2026-03-01T10:00:00Z",
        )
        with collection.catalogue.act("benchmark", f"dated {accession}") as act, act.work() as work:
            work.state(said)
            work.commit()
        times.append(ask(app, f"/table/part?start={accession}"))
        (right,) = shown.some([accession])
        assert any("1957" in reason.sentence for reason in right.when.reasons) or right.when.contradicts
    spread("page after an edit, its own print right", times)
    wait_for(lambda: holds(collection), shown)
    print(f"all right {time.perf_counter() - start:.0f} s after the first of {edits} edits", flush=True)
    shown.behind.wait(60)
    child = resource.getrusage(resource.RUSAGE_CHILDREN)
    used = child.ru_utime + child.ru_stime
    print(f"the process behind: {used:.0f} s of processor time, {child.ru_maxrss / 1024:.0f} MB", flush=True)


def wait_for(done: Callable[[], bool], shown: Shown) -> None:
    """Waits as an open page does: it asks from time to time, which has the next order worked out."""
    while not done():
        shown.behind.wait(1)
        shown.settle()


def main() -> None:
    """Runs all of it on a copy."""
    asked = argparse.ArgumentParser(description=__doc__.partition("\n")[0])
    asked.add_argument("collection", type=Path)
    asked.add_argument("--edits", type=int, default=20)
    given = asked.parse_args()
    dice = random.Random(3)
    with tempfile.TemporaryDirectory(dir=given.collection.parent) as folder:
        copied(given.collection, Path(folder) / "copy")
        with Collection.open(Path(folder) / "copy") as collection:
            bench = Workbench.over(collection)
            app, shown = create_app(bench), bench.collection
            assert isinstance(shown, Shown)
            first = ask(app, "/")
            print(f"first page of the Table: {first[0]:.0f} ms of the clock, {first[1]:.0f} ms of processor time")
            if bench.finder:
                bench.finder.settle()
            time_pages(app, shown, dice)
            memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
            print(f"memory of the workbench: {memory:.0f} MB", flush=True)
            time_edits(app, shown, dice, given.edits)


if __name__ == "__main__":
    main()
