"""Collections of prints without pictures, for what is said of many prints at once."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from solander.core.people import Person
from solander.core.places import Place
from solander.core.prints import Container, Print, accession_number
from solander.core.statements import About, Says, Statement, Sure
from solander.tasks.collection import Collection

_ENTERED = "2026-01-02T10:00:00Z"

__all__ = ["number", "prints_in", "said", "state"]


def number(count: int, container: str = "B2/E5") -> str:
    """The accession number of the print of that count."""
    return accession_number(container, count)


def prints_in(root: Path, counts: dict[str, int], *, title: str = "Many prints") -> Collection:
    """A collection with so many prints in each container, two people and two places."""
    collection = Collection.create(root, title=title)
    with collection.catalogue.act("test", "filled the box") as act, act.work() as work:
        for person in (Person("Ingrid Sollihøgda", (), "1927-04-02"), Person("Nils Sollihøgda", (), "1930")):
            work.keep_person(person)
        for place in (Place("Vessholm", "NO", 60.4, 5.3, 9000.0), Place("the boathouse")):
            work.keep_place(place)
        for code, many in counts.items():
            work.add_container(Container(code, f"Envelope {code}"))
            for count in range(1, many + 1):
                work.add_print(Print(number(count, code), code, count, ()))
        work.commit()
    return collection


def state(collection: Collection, statements: Sequence[tuple[str, Says, str]], *, source: str = "a.csv") -> None:
    """Says those things of prints: accession number, kind, value."""
    with collection.catalogue.act("test", "said something") as act, act.work() as work:
        for i, (accession, says, value) in enumerate(statements):
            ident = f"{source} {accession} {says} {i}"
            one = Statement(ident, About.PRINT, accession, says, value, value, Sure.CERTAIN, source, _ENTERED)
            work.state(one)
        work.commit()


def said(collection: Collection, accession: str, says: Says) -> list[str]:
    """The values that are said of a print in force."""
    return [one.value for one in collection.catalogue.statements(subject=accession) if one.says is says]
