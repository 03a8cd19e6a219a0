"""How fast the room of names and places answers: 10,000 people, 5,000 places, 20,000 prints, all made up.

`python benchmarks/names_room.py [--people N] [--places N] [--prints N]` prints, for each kind of page, the median
and the 95th percentile of the processor time of a request, in milliseconds, the first after a change apart.
Processor time, not the clock's: other work may be running on the machine. No network is between.
"""

from __future__ import annotations

import argparse
import asyncio
import random
import tempfile
import time
from collections.abc import Iterator, Sequence
from pathlib import Path
from urllib.parse import quote

import httpx
from fastapi import FastAPI

from solander.core.kin import How, Kin
from solander.core.people import Person
from solander.core.places import Place
from solander.core.prints import Print, accession_number
from solander.core.statements import About, Says, Statement, Sure
from solander.station.app import create_app
from solander.station.workbench import Workbench
from solander.tasks.collection import Collection
from solander.tasks.names import Names
from solander.tasks.show import Shown

GIVEN = [
    *("Anna", "Johan", "Maria", "Karl", "Ingrid", "Nils", "Sofia", "Erik"),
    *("Zofia", "Tadeusz", "Åse", "Øystein", "Łucja", "Émile", "Greta"),
]
SURNAMES = [
    beginning + end
    for beginning in ["Berg", "Holm", "Ny", "Wester", "Öster", "Lund", "Krz", "Wój", "Mac", "Sand"]
    for end in ["gren", "quist", "dal", "wik", "ski", "owski", "ström", "land", "by", "rud"]
]


def make(root: Path, people: int, places: int, prints: int) -> Collection:
    """A collection of that size; every print has a year, a place and two people."""
    dice = random.Random(4)
    collection = Collection.create(root, title="Made up")
    everybody = [_person(dice, number) for number in range(people)]
    everywhere = [_place(dice, number) for number in range(places)]
    with collection.catalogue.act("benchmark", "filled it") as act, act.work() as work:
        work.enter_people([(person, ()) for person in everybody])
        quarter = people // 4
        work.keep_kin(
            *(Kin(everybody[i].name, How.PARENT, everybody[i + quarter].name) for i in range(people - quarter))
        )
        for place in everywhere:
            work.keep_place(place)
        for number in range(1, prints + 1):
            accession = accession_number("B1", number)
            work.add_print(Print(accession, "B1", number, ()))
            for said in _said(dice, accession, everybody, everywhere):
                work.state(said)
        work.commit()
    return collection


def _person(dice: random.Random, number: int) -> Person:
    born = 1870 + dice.randrange(10)  # all live through all prints, so that nothing contradicts
    name, called = f"{dice.choice(GIVEN)} {dice.choice(SURNAMES)} {number}", f"{dice.choice(GIVEN)} the {number}"
    return Person(name, (called,), str(born), "1979", sex=dice.choice(["female", "male"]))


def _place(dice: random.Random, number: int) -> Place:
    at = dice.uniform(-50, 70), dice.uniform(-170, 170), dice.choice([30.0, 500.0, 4000.0, 9000.0])
    return Place(f"{dice.choice(SURNAMES)}holm {number}", "", *at)


def _said(
    dice: random.Random, accession: str, people: Sequence[Person], places: Sequence[Place]
) -> Iterator[Statement]:
    told = [
        (Says.EXPOSURE, str(1880 + dice.randrange(99))),
        (Says.PLACE, dice.choice(places).name),
        (Says.PERSON, dice.choice(people).name),
        (Says.PERSON, dice.choice(people).name),
    ]
    for number, (says, value) in enumerate(told):
        ident, at = f"{accession} {number}", "2026-01-02T10:00:00Z"
        yield Statement(ident, About.PRINT, accession, says, value, value, Sure.CERTAIN, "slip", at)


def paths(names: Names, dice: random.Random) -> Iterator[tuple[str, list[str]]]:
    """The requests of each kind."""
    listed = [one.person.name for one in names.people.page(everybody=True).lines]
    places = [one.place.name for one in names.places.all()]
    shown = [one.person.name for one in names.people.page().lines]
    after = [quote(name) for name in dice.sample(places, 60)]
    yield "people, a page of 100", [f"/people?everybody=true&after={quote(name)}" for name in listed[:60]]
    yield "places, a page of 100", [f"/places?after={name}" for name in after]
    yield "a person", [f"/person/{quote(name)}" for name in shown[:60]]
    yield "a place", [f"/place/{name}" for name in after]
    said = [f"{dice.choice(GIVEN)} {dice.choice(SURNAMES)}" for _ in range(40)]
    yield "finding a person", [f"/people?said={quote(words)}" for words in said]
    yield "finding a place", [f"/places?said={quote(word)}" for word in dice.sample(SURNAMES, 40)]
    yield "a person typed", [f"/understood/person?said={quote(words)}" for words in said]
    yield "a date typed", [f"/understood/date?said={quote(words)}" for words in ["summer 58", "about 1904"] * 20]
    yield "the map with all places", ["/map"] * 10


async def measured(app: FastAPI, asked: Sequence[str]) -> list[float]:
    """Milliseconds of processor time for each request."""
    transport = httpx.ASGITransport(app)
    found = []
    async with httpx.AsyncClient(transport=transport, base_url="http://127.0.0.1") as client:
        for path in asked:
            began = time.process_time()
            answer = await client.get(path, headers={"accept": "text/html"})
            found.append((time.process_time() - began) * 1000)
            assert answer.status_code == 200, path
    return found


def _wait_for_the_order(shown: Shown) -> None:
    """The order of many prints is worked out in a process of its own; pages tell of them as far as it is."""
    shown.settle()
    while not shown.is_settled:
        time.sleep(0.2)


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    for name, count in (("people", 10_000), ("places", 5_000), ("prints", 20_000)):
        parser.add_argument(f"--{name}", type=int, default=count)
    chosen = parser.parse_args()
    with (
        tempfile.TemporaryDirectory() as folder,
        make(Path(folder) / "box", chosen.people, chosen.places, chosen.prints) as collection,
    ):
        shown = Shown(collection)
        names = Names(shown)
        app = create_app(Workbench(shown, names=names))
        _wait_for_the_order(shown)
        (first,) = asyncio.run(measured(app, ["/people"]))
        print(f"first page after a change, everything gathered anew: {first:,.0f} ms", flush=True)
        for what, asked in paths(names, random.Random(5)):
            times = asyncio.run(measured(app, asked))
            ranked = sorted(times[1:])
            middle, late = ranked[len(ranked) // 2], ranked[int(len(ranked) * 0.95)]
            print(
                f"{what}: first {times[0]:.1f}, median {middle:.1f}, p95 {late:.1f} ms ({len(times)} requests)",
                flush=True,
            )


if __name__ == "__main__":
    main()
