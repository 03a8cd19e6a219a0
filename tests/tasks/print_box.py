"""A small collection for the room of one print: a family, a few prints without pictures, one that is dated."""

from __future__ import annotations

from pathlib import Path

from solander.core.people import Person
from solander.core.places import Place
from solander.core.prints import Print, accession_number
from solander.core.statements import About, Says, Statement, Sure
from solander.tasks.collection import Collection
from solander.tasks.print_desk import PrintDesk
from solander.tasks.show import Shown
from solander.tasks.typed import Field, Typed

FIRST, DATED = accession_number("B1", 1), accession_number("B1", 2)
"""One of which nothing is known, and one whose slip says 1952."""

LONG = "Wawrzyniec Brzęczyszczykiewicz-Chrząszczyżewoszycki"

PEOPLE = (
    Person("Ingrid Sollihøgda", ("Nan",), "1927-04-02", sex="female"),
    Person("Joseph Weber", ("Uncle Joe",), "1905", "1981", sex="male"),
    Person("Anna Weber, 1881–1950", ("Anna Weber",), "1881", "1950"),
    Person("Anna Weber, 1884–1960", ("Anna Weber",), "1884", "1960"),
    Person(LONG, ("Wawrzek",), "1899", "1971-11"),
)


def print_collection(root: Path, *, prints: int = 3) -> Collection:
    """The collection; its second print is said to be of 1952 by a slip file."""
    collection = Collection.create(root, title="A box of prints")
    with collection.catalogue.act("test", "filled the box") as act, act.work() as work:
        work.enter_people([(person, ()) for person in PEOPLE])
        work.keep_place(Place("the boathouse", "", 60.41, 5.31, 30.0, what="house"))
        for number in range(1, prints + 1):
            work.add_print(Print(accession_number("B1", number), "B1", number, ()))
        work.state(_said("slip", DATED, Says.EXPOSURE, "1952", "1952"))
        work.commit()
    return collection


def _said(ident: str, accession: str, says: Says, value: str, words: str) -> Statement:
    entered = "2026-01-02T10:00:00Z"
    return Statement(ident, About.PRINT, accession, says, value, words, Sure.CERTAIN, "slip file a.csv", entered)


def desk_of(collection: Collection) -> PrintDesk:
    return PrintDesk(Shown(collection))


def typed(field: Field, words: str, accession: str = FIRST, **more: object) -> Typed:
    return Typed(accession, field, words, **more)  # type: ignore[arg-type]
