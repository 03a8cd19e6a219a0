"""Small real collections with people, kin, places and prints without pictures, and a client for their pages."""

from __future__ import annotations

import asyncio
import atexit
import shutil
import tempfile
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from functools import cache
from pathlib import Path
from urllib.parse import urlencode

import httpx
from attrs import define, field

from solander.core.kin import How, Kin
from solander.core.people import Name, NameKind, Person
from solander.core.places import Place, PlaceName
from solander.core.prints import Print, accession_number
from solander.core.statements import About, Says, Statement, Sure
from solander.station import workbench
from solander.station.app import create_app
from solander.station.guard import TOKEN_HEADER
from solander.station.sealing import seal
from solander.tasks.collection import Collection
from solander.tasks.names import Names
from solander.tasks.outlines import Outlines
from solander.tasks.queue import Queue
from solander.tasks.show import Shown

OURS = {"sec-fetch-site": "same-origin", TOKEN_HEADER: seal()}
"""What a request from a page of ours carries."""

LONG = "Wawrzyniec Brzęczyszczykiewicz-Chrząszczyżewoszycki"
PEOPLE = (
    Person("Ingrid Sollihøgda", ("Mormor",), "1927-04-02", sex="female"),
    Person("Nils Sollihøgda", (), "1930", "1994", sex="male"),
    Person("Signe Sollihøgda", ("Aunt Signe",), "1901~", "1988", (Name("Signe Dahl", NameKind.BIRTH),), "female"),
    Person("Olav Sollihøgda", (), "1899", "1971", sex="male"),
    Person(LONG, ("Wawrzek",), "1899", "1971-11"),
    Person("Anna Weber, 1881–1950", ("Anna Weber",), "1881", "1950"),
    Person("Anna Weber, 1884–1960", ("Anna Weber",), "[1879..1884]", "1960"),
)
KIN = (
    Kin("Olav Sollihøgda", How.PARENT, "Ingrid Sollihøgda"),
    Kin("Signe Sollihøgda", How.PARENT, "Ingrid Sollihøgda"),
    Kin("Olav Sollihøgda", How.PARENT, "Nils Sollihøgda"),
    Kin("Signe Sollihøgda", How.PARENT, "Nils Sollihøgda"),
    Kin.partners("Olav Sollihøgda", "Signe Sollihøgda"),
)
PLACES = (
    Place("Vessholm", "NO", 60.4, 5.3, 9000.0),
    Place("the boathouse", "", 60.41, 5.31, 30.0, what="house"),
    Place("Trzcianna pod Wzgórzem", "PL", 51.2, 20.1, 4000.0, names=(PlaceName("Rohrbach", "", "1945"),)),
    Place("the far farm"),
)
# year, place, people by number, age said
PRINTS = (
    ("1908~", "Trzcianna pod Wzgórzem", (4,)),
    ("1931", "Vessholm", (0, 2)),
    ("1936", "Vessholm", (0, 1, 2)),
    ("1945-05-07", "Vessholm", (0, 1)),
    ("1951-22", "the boathouse", (0,)),
    ("1958-22", "Vessholm", (0, 1)),
    ("1959-12-25", "the far farm", (0, 1, 2, 3)),
    ("", "", ()),
)


@cache
def _once(title: str, *, empty: bool) -> Path:
    """Where a collection lies that was made once a run, to be copied."""
    folder = Path(tempfile.mkdtemp(prefix="solander-named-"))
    atexit.register(shutil.rmtree, folder, ignore_errors=True)
    with Collection.create(folder / "box", title=title) as collection:
        if not empty:
            _fill(collection)
    return folder / "box"


def named_collection(root: Path, *, title: str = "The Sollihøgda boxes", empty: bool = False) -> Collection:
    """Seven people, four places and eight prints, the last without date, place and people; or an empty one."""
    shutil.copytree(_once(title, empty=empty), root)
    return Collection.open(root)


def _fill(collection: Collection) -> None:
    with collection.catalogue.act("test", "filled the box") as act, act.work() as work:
        work.enter_people([(person, ()) for person in PEOPLE])
        work.keep_kin(*KIN)
        for place in PLACES:
            work.keep_place(place)
        for number, (date, place, people) in enumerate(PRINTS, 1):
            accession = accession_number("B2/E5", number)
            work.add_print(Print(accession, "B2/E5", number, ()))
            told = [(Says.EXPOSURE, date), (Says.PLACE, place), *((Says.PERSON, PEOPLE[i].name) for i in people)]
            for i, (says, value) in enumerate(told):
                if value:
                    work.state(_said(f"{accession} {i}", accession, says, value))
        work.commit()


def _said(ident: str, accession: str, says: Says, value: str) -> Statement:
    entered = "2026-01-02T10:00:00Z"
    return Statement(ident, About.PRINT, accession, says, value, value, Sure.CERTAIN, "slip file a.csv", entered)


@define
class Workbench:
    """The workbench over a collection, asked in this process; every answer to a form is followed."""

    collection: Collection
    app: object = field(init=False)
    names: Names = field(init=False)

    def __attrs_post_init__(self) -> None:
        shown = Shown(self.collection)
        self.names = Names(shown)
        queue = Queue(self.collection, self.names.sitting)
        desks = {"outlines": Outlines(self.collection), "names": self.names, "queue": queue}
        self.app = create_app(workbench.Workbench(shown, **desks))

    def get(self, path: str, **headers: str) -> httpx.Response:
        return asyncio.run(self._ask("GET", path, headers, None))

    def post(self, path: str, /, **fields: str) -> httpx.Response:
        """Sends a form from a page of ours."""
        headers = {"content-type": "application/x-www-form-urlencoded", **OURS}
        return asyncio.run(self._ask("POST", path, headers, urlencode(fields).encode()))

    def send(self, path: str, fields: Mapping[str, str], headers: Mapping[str, str]) -> httpx.Response:
        """Sends a form with these headers alone."""
        form = {"content-type": "application/x-www-form-urlencoded", **headers}
        return asyncio.run(self._ask("POST", path, form, urlencode(fields).encode()))

    def send_file(self, path: str, name: str, content: bytes, /, **fields: str) -> httpx.Response:
        """Sends a form with a file in its field `file`."""
        headers = dict(OURS)
        return asyncio.run(self._ask("POST", path, headers, None, files={"file": (name, content)}, data=fields))

    async def _ask(
        self, method: str, path: str, headers: Mapping[str, str], content: bytes | None, **parts: object
    ) -> httpx.Response:
        transport = httpx.ASGITransport(self.app, raise_app_exceptions=False)
        asked = {"accept": "text/html", **headers}
        async with httpx.AsyncClient(transport=transport, base_url="http://127.0.0.1") as client:
            given = {"content": content} if content is not None else {}
            return await client.request(method, path, headers=asked, follow_redirects=True, **given, **parts)


@contextmanager
def opened(root: Path, *, empty: bool = False) -> Iterator[Workbench]:
    """A workbench over a new collection in `root`."""
    collection = named_collection(root, title="An empty box", empty=True) if empty else named_collection(root)
    with collection:
        yield Workbench(collection)
