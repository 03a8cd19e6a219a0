"""Takes an act of this sitting back, whichever desk did it."""

from __future__ import annotations

from fastapi import FastAPI, Response
from fastapi.responses import RedirectResponse

from solander.core.errors import Trouble
from solander.core.sentence import Sentence
from solander.station.forms import Fields, own_address
from solander.station.workbench import Page, Workbench

__all__ = ["add_undo"]


def add_undo(app: FastAPI, bench: Workbench, page: Page) -> None:
    """Adds the address that takes back; a workbench that only reads has none."""
    if not bench.sittings:
        return

    @app.post("/undo")
    def undo(form: Fields) -> Response:
        act = form.get("act", "")
        if not act.isdecimal():
            raise Trouble(
                Sentence("Nothing was taken back"),
                Sentence("it was not said what"),
                Sentence("Load the page again"),
            )
        sittings = bench.sittings
        next((one for one in sittings if one.done(int(act))), sittings[0]).undo(int(act))
        return RedirectResponse(own_address(form.get("then", "")), 303)
