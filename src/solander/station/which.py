"""Which place a name means, answered on the page of questions by one press."""

from __future__ import annotations

from fastapi import FastAPI, Response

from solander.station.forms import Fields, onward
from solander.station.workbench import Page, Workbench
from solander.tasks.places import mean_place
from solander.tasks.which_place import none_of_these

__all__ = ["add_which"]


def add_which(app: FastAPI, bench: Workbench, page: Page) -> None:
    """Adds the address that answers; the field `place` is the key of a choice, or empty for none of them."""
    names = bench.names
    if names is None:
        return

    @app.post("/which")
    def answer(form: Fields) -> Response:
        name, place = form.get("name", ""), form.get("place", "")
        act = mean_place(names.collection, name, place) if place else none_of_these(names.collection, name)
        return onward(form, names.sitting.noted(act), otherwise="/questions")
