"""A real collection of a school outing nobody has described yet, and a workbench at which it is arranged."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from attrs import define
from named_box import Workbench as NamedWorkbench

from solander.core.people import Person
from solander.core.places import Place
from solander.core.prints import Container, Print, accession_number
from solander.station import workbench
from solander.station.app import create_app
from solander.tasks.arrange_desk import ArrangeDesk
from solander.tasks.collection import Collection
from solander.tasks.names import Names
from solander.tasks.outlines import Outlines
from solander.tasks.print_desk import PrintDesk
from solander.tasks.show import Shown
from solander.tasks.sitting import Sitting

CLASS = ("Ingrid Sollihøgda", "Nils Sollihøgda", "Aksel Lund", "Berit Moe", "Wawrzyniec Brzęczyszczykiewicz")
OUTING = 60


def number(count: int, container: str = "B2/E5") -> str:
    """The accession number of a print of the outing."""
    return accession_number(container, count)


def outing(root: Path, *, prints: int = OUTING) -> Collection:
    """So many prints in one envelope, two in another, nothing said of them; a class and two places are known."""
    collection = Collection.create(root, title="The Sollihøgda boxes")
    with collection.catalogue.act("test", "filled the box") as act, act.work() as work:
        for name in CLASS:
            work.keep_person(Person(name))
        for place in (Place("Vessholm", "NO", 60.4, 5.3, 9000.0), Place("the boathouse")):
            work.keep_place(place)
        for code, many in (("B2/E5", prints), ("B2/E6", 2)):
            work.add_container(Container(code, "Brown envelope" if code == "B2/E5" else ""))
            for count in range(1, many + 1):
                work.add_print(Print(number(count, code), code, count, ()))
        work.commit()
    return collection


@define
class Workbench(NamedWorkbench):
    """The workbench with every desk that arranging needs."""

    def __attrs_post_init__(self) -> None:
        shown, sitting = Shown(self.collection), Sitting(self.collection)
        self.names = Names(shown, sitting)
        desks = {"prints": PrintDesk(shown, sitting), "arranging": ArrangeDesk(shown, sitting)}
        self.app = create_app(
            workbench.Workbench(shown, outlines=Outlines(self.collection, sitting), names=self.names, **desks)
        )


@contextmanager
def arranging(root: Path, *, prints: int = OUTING, empty: bool = False) -> Iterator[Workbench]:
    """A workbench over the outing, or over nothing, in `root`."""
    collection = Collection.create(root, title="An empty box") if empty else outing(root, prints=prints)
    with collection:
        yield Workbench(collection)
