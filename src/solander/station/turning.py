"""Which way is up, answered on a page: one key or one press, then back to where it was asked."""

from __future__ import annotations

from typing import Annotated, Literal

from fastapi import FastAPI, Path
from fastapi.responses import RedirectResponse

from solander.station.pictures import view_key
from solander.station.workbench import Page, Workbench

__all__ = ["add_turning"]

_SEE_OTHER = 303


def add_turning(app: FastAPI, bench: Workbench, page: Page) -> None:
    """Adds the address that turns a view by quarters clockwise; 0 says that it is the right way up."""

    @app.post("/turn/{key}/{quarters}")
    def turn(
        key: str, quarters: Annotated[int, Path(ge=0, le=3)], back: Literal["questions", "print"] = "print"
    ) -> RedirectResponse:
        done = bench.collection.turn(view_key(key), quarters)
        room, place = ("/questions", "#up") if back == "questions" else (f"/print/{done.accession}", "")
        told = "" if done.act is None else f"?done={done.act}"
        return RedirectResponse(room + told + place, _SEE_OTHER)
