"""How long the room of questions takes, on a collection of any size.

    python benchmarks/questions.py COLLECTION [--waiting 20000]

Questions are added to a copy of the catalogue until so many wait; then the room is opened, and the first of each
kind is asked, in process, no network between. Clock and processor time: a busy machine lengthens the first alone.
"""

from __future__ import annotations

import argparse
import asyncio
import random
import shutil
import tempfile
import time
from collections.abc import Sequence
from pathlib import Path

import httpx
import numpy as np

from solander.catalogue.schema import questions
from solander.core.questions import Asks
from solander.station.app import create_app
from solander.station.workbench import Workbench
from solander.tasks.collection import Collection

ASKED = (
    (Asks.UPRIGHT, "Which way is up in {}?"),
    (Asks.WORDS, "“near the lindens” on the slip of {} was not understood."),
    (Asks.PAIR, "{} is a back without its front: which print does it belong to?"),
    (Asks.CONTRADICTION, "{}: these can't all be true, they are 3 years apart. Which gives way?"),
    (Asks.WHO, "“Anna” on the slip of {}: who is it?"),
)


def add_questions(collection: Collection, until: int) -> None:
    """Questions about prints at random, until so many wait."""
    rng = random.Random(3)
    numbers = [accession for _, accession in collection.catalogue.document_numbers()]
    rows = []
    for at in range(until - collection.catalogue.question_count()):
        (asks, sentence), subject = ASKED[at % len(ASKED)], rng.choice(numbers)
        row = {"key": f"{at:016x}", "asks": asks, "subject": subject, "sentence": sentence.format(subject)}
        rows.append({**row, "raised": "2026-01-01T00:00:00Z", "settled": None})
    if rows:
        with collection.catalogue._engine.begin() as connection:
            connection.execute(questions.insert(), rows)


def timed(app: object, addresses: Sequence[str], times: int) -> None:
    """Prints the first and the median time of each address."""
    loop = asyncio.new_event_loop()
    client = httpx.AsyncClient(transport=httpx.ASGITransport(app), base_url="http://127.0.0.1")  # type: ignore[arg-type]
    for address in addresses:
        clock, processor = [], []
        for _ in range(times):
            begun = time.perf_counter(), time.process_time()
            answer = loop.run_until_complete(client.get(address))
            assert answer.status_code == 200, answer.text
            clock.append((time.perf_counter() - begun[0]) * 1000)
            processor.append((time.process_time() - begun[1]) * 1000)
        told = f"first {clock[0]:.0f} ({processor[0]:.0f}) ms"
        print(f"{address}: {told}, then {np.median(clock[1:]):.0f} ({np.median(processor[1:]):.0f}) ms")


def main() -> None:
    """Prints clock (processor) time of each page."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("collection", type=Path)
    parser.add_argument("--waiting", type=int, default=20_000)
    args = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        shutil.copy(args.collection / "solander.db", folder)
        with Collection.open(Path(folder)) as collection:
            add_questions(collection, args.waiting)
            bench = Workbench.over(collection)
            assert bench.queue is not None
            kinds = [one.kind.name for one in bench.queue.kinds()]
            time.sleep(10)  # what is made ready beside the pages is not what is measured
            addresses = ["/questions", "/questions/one", *(f"/questions/one?kind={kind}" for kind in kinds)]
            timed(create_app(bench), addresses, 8)


if __name__ == "__main__":
    main()
