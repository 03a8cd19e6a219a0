"""The made-up box of tests/look as the workbench reads it, and a client that asks for pages without a network."""

from __future__ import annotations

import asyncio
from collections import Counter
from collections.abc import Iterable
from itertools import pairwise
from pathlib import Path

import httpx
from attrs import define, field, frozen
from drawn_box import questions_of

from solander.core.descriptions import DescribedPrint, When
from solander.core.questions import Asks, Question
from solander.core.standing import Arrangement
from solander.station.app import create_app
from solander.station.workbench import Workbench
from solander.tasks.meanwhile import Meanwhile
from solander.tasks.redraw import Done
from solander.tasks.table import Heading, Laid
from solander.tasks.worth_asking import WorthAsking

VAGUE = "So far nothing tells when. Was it before or after “A summer by the water”?"
GAIN = "would narrow 17 prints by 4 years altogether"


@frozen
class LaidBox:
    """The prints of a box laid out in time, all of one heading a year."""

    prints: list[DescribedPrint]

    @property
    def total(self) -> int:
        return len(self.prints)

    @property
    def years(self) -> Counter[int]:
        return Counter(year for one in self.prints if (year := _year_of(one)) is not None)

    @property
    def whens(self) -> list[tuple[str, When]]:
        return [(one.print.accession, one.when) for one in self.prints]

    def first_of_year(self, year: int) -> str:
        of_it = (one.print.accession for one in self.prints if (_year_of(one) or 0) >= year)
        return next(of_it, "")

    def lay(
        self, arrangement: Arrangement, *, start: str = "", after: str = "", before: str = "", limit: int
    ) -> Laid:
        numbers = [one.print.accession for one in self.prints]
        begin = numbers.index(start) if start in numbers else numbers.index(after) + 1 if after in numbers else 0
        here = self.prints[begin : begin + limit]
        names = ["" if _year_of(one) is None else str(_year_of(one)) for one in here]
        headings = [
            Heading(arrangement, name, 1) if name != before else None
            for before, name in pairwise(["none yet", *names])
        ]
        return Laid(here, headings, begin == 0, begin + limit >= len(numbers))

    def run(self, arrangement: Arrangement, first: str, last: str) -> list[str]:
        return [first, last]


def _year_of(one: DescribedPrint) -> int | None:
    return int(one.when.guess[:-6]) if one.when.guess else None


@define
class Box:
    """A collection as the workbench reads it."""

    prints: list[DescribedPrint]
    pictures: dict[str, Path] = field(factory=dict)
    title: str = "The Sollihøgda boxes"
    second_copy: bool = False
    made_up: bool = True
    turned: list[tuple[str, int]] = field(factory=list)

    @property
    def last_change(self) -> int:
        return len(self.turned)

    def done_meanwhile(self, change: int, subjects: Iterable[str]) -> list[Meanwhile]:
        return []

    @property
    def table(self) -> LaidBox:
        return LaidBox(self.prints)

    def settle(self) -> None:
        return None

    @property
    def is_settled(self) -> bool:
        return True

    @property
    def waiting(self) -> int:
        return len(self.questions())

    def described(self) -> list[DescribedPrint]:
        return self.prints

    def questions(self) -> list[Question]:
        return questions_of(self.prints) if self.prints else []

    def mends(self) -> list[str]:
        return (
            ["B2-E5-0007: dated “7 May 1945”. Without this, 2 of the 3 would be settled."] if self.prints else []
        )

    def worth_asking(self) -> list[WorthAsking]:
        """About the print that is known least, and about each occasion."""
        if not self.prints:
            return []
        vague = min(self.prints, key=lambda one: bool(one.when.edtf)).print.accession
        alone = f"Who remembers in which year the picture ({vague}) was taken? {VAGUE}"
        occasions = dict.fromkeys(one.occasion for one in self.prints if one.occasion)
        return [
            WorthAsking(vague, alone, "would narrow 1 print by 63 years", 63.0, 1),
            *(
                WorthAsking(name, f"Who remembers in which year “{name}” was?", GAIN, 4.2, 17)
                for name in occasions
            ),
        ]

    def treated_path(self, key: str, treatment: str, *, small: bool) -> Path | None:
        """No print of it is treated."""

    def view_path(self, key: str) -> Path | None:
        return self.pictures.get(key)

    def thumb_path(self, key: str) -> Path | None:
        return self.pictures.get(key)

    def turn(self, key: str, quarters: int) -> Done:
        self.turned.append((key, quarters))
        accession = next(one.print.accession for one in self.prints for view in one.print.views if view.key == key)
        return Done(7, accession, key)


class Asking(Box):
    """The box where it is asked of two prints which way is up."""

    def questions(self) -> list[Question]:
        return [
            Question(str(number), Asks.UPRIGHT, one.print.accession, "Which way is up?", "2026-01-02T10:00:00Z")
            for number, one in enumerate(self.prints[:2])
        ]


@define
class Client:
    """Asks in this process. Not the client that comes with starlette: it wants a package not locked here."""

    box: Box
    base: str = "http://127.0.0.1"
    _app: object = field(init=False)

    def __attrs_post_init__(self) -> None:
        self._app = create_app(Workbench(self.box))

    def get(self, path: str, **headers: str) -> httpx.Response:
        return asyncio.run(self._ask("GET", path, {"accept": "text/html", **headers}))

    def post(self, path: str, **headers: str) -> httpx.Response:
        """Sends an empty form; no header is added by itself."""
        return asyncio.run(self._ask("POST", path, headers))

    async def _ask(self, method: str, path: str, headers: dict[str, str]) -> httpx.Response:
        transport = httpx.ASGITransport(self._app, raise_app_exceptions=False)
        async with httpx.AsyncClient(transport=transport, base_url=self.base) as client:
            return await client.request(method, path, headers=headers)
