"""Times what uses people in a collection that knows 100,000 of them; one core.

    .venv/bin/python benchmarks/make_tree.py 100000 /tmp/tree.ged
    .venv/bin/python benchmarks/many_people.py /tmp/tree.ged

Takes the tree in, takes it in again, then opens the collection and does what describing a print does. Processor
time is told beside the time on the clock, because other work on the machine slows the clock only. Names are those
of the invented tree.
"""

from __future__ import annotations

import argparse
import resource
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from solander.tasks.collection import Collection
from solander.tasks.date import date_reader
from solander.tasks.known_people import known_people
from solander.tasks.people import difference, take_in_people
from solander.tasks.put_in_order import timeline


@contextmanager
def timed(what: str) -> Iterator[None]:
    """Writes how long it took, and how much memory the process has used at most so far."""
    clock, processor = time.perf_counter(), time.process_time()
    yield
    clock, processor = time.perf_counter() - clock, time.process_time() - processor
    memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(f"{what}: {clock:.2f} s on the clock, {processor:.2f} s of processor time, {memory:.0f} MB", flush=True)


def main() -> None:
    """Runs all of it in a collection of its own."""
    asked = argparse.ArgumentParser(description=__doc__.partition("\n")[0])
    asked.add_argument("tree", type=Path)
    tree = asked.parse_args().tree
    with tempfile.TemporaryDirectory() as folder:
        root = Path(folder) / "collection"
        Collection.create(root).catalogue.close()
        with Collection.open(root) as collection:
            with timed("taking the tree in"):
                done = take_in_people(collection, tree)
            print(f"  {done.count} people, {len(done.difference.plan.kin_new)} ties of kin")
        with Collection.open(root) as collection:
            with timed("the difference when it is taken in again"):
                found = difference(collection, tree)
            print(f"  {found.as_before} as before, {len(found.plan.changed)} changed")
        _uses(root)


def _uses(root: Path) -> None:
    with timed("opening the collection"):
        collection = Collection.open(root)
    some = collection.catalogue.people()[:2]
    with collection:
        with timed("a reader of dates"):
            read = date_reader(collection.catalogue)
        for phrase in ("summer 1952", f"when {some[0].name} was six", f"before {some[1].name.split()[0]} died"):
            with timed(f"reading “{phrase}”"):
                read(phrase)
        with timed("the order of its prints"):
            timeline(collection)
        with timed("everybody, for the finder"):
            known = known_people(collection.catalogue)
        with timed("finding one by name, the first time"):
            known.find(some[0].name)
        with timed("finding one by name, from then on"):
            known.find(some[1].name)


if __name__ == "__main__":
    main()
