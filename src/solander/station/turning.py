"""Which way is up, answered on a page: one key or one press, then back to where it was asked."""

from __future__ import annotations

from typing import Annotated

from fastapi import FastAPI, Path, Response

from solander.station.forms import Fields, onward
from solander.station.pictures import view_key
from solander.station.workbench import Page, Workbench

__all__ = ["add_turning"]


def add_turning(app: FastAPI, bench: Workbench, page: Page) -> None:
    """Adds the address that turns a view by quarters clockwise; 0 says that it is the right way up."""

    @app.post("/turn/{key}/{quarters}")
    def turn(form: Fields, key: str, quarters: Annotated[int, Path(ge=0, le=3)]) -> Response:
        done = bench.collection.turn(view_key(key), quarters)
        for sitting in bench.sittings[:1]:
            sitting.noted(done.act)
        return onward(form, done.act, otherwise=f"/print/{done.accession}")
