"""What was done: every act in words, by whom and when, what it changed, and taking it back."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from itertools import groupby
from typing import Annotated, Any
from urllib.parse import urlencode

from attrs import frozen
from fastapi import FastAPI, Path, Query, Response
from fastapi.responses import HTMLResponse, RedirectResponse

from solander.core.language import told
from solander.look.words import edtf_words
from solander.station.forms import NUMBERS
from solander.station.laid import print_address
from solander.station.workbench import Page, Workbench
from solander.tasks.history import ActKept

__all__ = ["add_what_was_done"]


_Said = Annotated[int, Query(ge=0, lt=NUMBERS)]
_Act = Annotated[int, Path(ge=0, lt=NUMBERS)]


@frozen
class ActLine:
    """An act as a line of the list; times are local."""

    act: ActKept

    @property
    def at(self) -> datetime:
        """When it was done, local time."""
        return datetime.fromisoformat(self.act.at).astimezone()

    @property
    def clock(self) -> str:
        """The time of day."""
        return self.at.strftime("%H:%M")

    @property
    def day(self) -> str:
        """The day in words."""
        return edtf_words(self.at.date().isoformat())

    @property
    def sentence(self) -> str:
        """What was done, with a capital letter."""
        said: str = told(self.act.what)
        return said[:1].upper() + said[1:]


def add_what_was_done(app: FastAPI, bench: Workbench, page: Page) -> None:
    """Adds the pages of history."""
    desk = bench.arranging
    if desk is None:
        return

    @app.get("/what-was-done", response_class=HTMLResponse)
    def what_was_done(
        before: _Said | None = None, who: str = "", about: str = "", took: _Said | None = None
    ) -> Response:
        found = desk.history.page(before=before, who=who, about=about)
        took_back = desk.collection.catalogue.act_kept(took) if took is not None else None
        values: dict[str, Any] = {
            "days": _by_day([ActLine(one) for one in found.acts]),
            "found": found,
            "who": who,
            "about": about,
            "further": _address(found.earlier, who, about) if found.earlier else "",
            "newest": _address(None, who, about) if before is not None else "",
            "address": _address,
            "print_address": print_address,
            "took": took_back if took_back and took_back.undone_by else None,
            "zone": datetime.now().astimezone().tzname(),
        }
        return page("what_was_done.html", **bench.room("What was done"), **values)

    @app.get("/what-was-done/{act}", response_class=HTMLResponse)
    def one_act(act: _Act, after: _Said = 0) -> Response:
        alone = desk.history.act(act, after=after)
        values = {
            "alone": alone,
            "line": ActLine(alone.act),
            "undone": ActLine(alone.undone) if alone.undone else None,
            "print_address": print_address,
            "after": after,
        }
        return page("act.html", **bench.room("What was done"), **values)

    @app.post("/what-was-done/{act}/take-back")
    def take_back(act: _Act) -> Response:
        desk.history.take_back(act)
        return RedirectResponse(f"/what-was-done?took={act}", 303)


def _by_day(lines: Sequence[ActLine]) -> list[tuple[str, list[ActLine]]]:
    return [(day, list(those)) for day, those in groupby(lines, key=lambda one: one.day)]


def _address(before: int | None, who: str, about: str) -> str:
    asked = {name: value for name, value in (("before", before), ("who", who), ("about", about)) if value}
    return "/what-was-done" + (f"?{urlencode(asked)}" if asked else "")
