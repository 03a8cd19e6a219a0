"""How long each key takes while somebody types into "Look for", on a collection of any size.

    python benchmarks/find_anything.py COLLECTION [--words 60] [--page]

Words are drawn from the collection's own vocabulary by how often they are said, from its accession numbers, and
from dates; one in ten is misspelt. Each letter of each line is one key: the prints are found and counted by facet
and container. With `--page` the answer that the workbench gives is made as well, its first prints laid out.
Nothing is written, except that a collection of an older form is brought up to date.
"""

from __future__ import annotations

import argparse
import asyncio
import random
import time
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path
from urllib.parse import quote

import httpx
import numpy as np

from solander.station.app import create_app
from solander.station.workbench import Workbench
from solander.tasks.collection import Collection
from solander.tasks.find import Finder
from solander.tasks.show import Shown

DATES = ("summer 58", "1961", "the 1950s", "christmas 1949", "12 May 1957", "between 1948 and 1952", "after 1960")


def lines_typed(collection: Collection, count: int, seed: int = 6) -> Iterator[str]:
    """What somebody may type, one to three words a line."""
    rng = random.Random(seed)
    vocabulary = [(term, n) for term, n in collection.catalogue.vocabulary() if len(term) > 1]
    terms, weights = [term for term, _ in vocabulary], [n for _, n in vocabulary]
    numbers = [accession for _, accession in collection.catalogue.document_numbers()]
    for at in range(count):
        words = rng.choices(terms, weights, k=rng.randint(1, 3))
        if at % 10 == 3:
            words[-1] = words[-1][1:2] + words[-1][:1] + words[-1][2:] + "q"
        if at % 7 == 5:
            words = [rng.choice(numbers)]
        if at % 6 == 2:
            words = [*words[:1], rng.choice(DATES)]
        yield " ".join(words)


def each_key(lines: Sequence[str], ask: Callable[[str], object]) -> list[tuple[float, float]]:
    """Milliseconds of each key, by the clock and of the processor: a busy machine lengthens the first alone."""
    taken = []
    for line in lines:
        for end in range(1, len(line) + 1):
            begun = time.perf_counter(), time.process_time()
            ask(line[:end])
            taken.append(((time.perf_counter() - begun[0]) * 1000, (time.process_time() - begun[1]) * 1000))
    return taken


def page_of(collection: Collection, finder: Finder) -> Callable[[str], object]:
    """Asks the workbench for what changes with a key."""
    app = create_app(Workbench(Shown(collection), finder=finder))
    loop = asyncio.new_event_loop()
    client = httpx.AsyncClient(transport=httpx.ASGITransport(app), base_url="http://127.0.0.1")

    def ask(sought: str) -> object:
        answer = loop.run_until_complete(client.get(f"/find?part=found&look-for={quote(sought)}"))
        assert answer.status_code == 200, answer.text
        return answer

    return ask


def main() -> None:
    """Prints the figures."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("collection", type=Path)
    parser.add_argument("--words", type=int, default=60, help="how many lines are typed")
    parser.add_argument("--page", action="store_true", help="make the page as well")
    args = parser.parse_args()
    with Collection.open(args.collection) as collection:
        lines = list(lines_typed(collection, args.words))
        finder = Finder(collection)
        begun = time.perf_counter()
        finder.make_ready()
        ready = time.perf_counter() - begun
        prints = finder.find(limit=0).total
        ask = page_of(collection, finder) if args.page else lambda sought: finder.find(sought, limit=16)
        ask("")
        taken = each_key(lines, ask)
    print(f"{prints:,} prints, {len(taken):,} keys of {len(lines)} lines; ready after {ready:.1f} s")
    for how, each in zip(("by the clock", "processor"), zip(*taken, strict=True), strict=True):
        middle, p95, p99 = np.percentile(each, [50, 95, 99])
        print(f"{how}: median {middle:.1f} ms, p95 {p95:.1f} ms, p99 {p99:.1f} ms, longest {max(each):.1f} ms")


if __name__ == "__main__":
    main()
