"""Which place a name means, answered on the page of questions by one press."""

from __future__ import annotations

from collections.abc import Mapping

from fastapi import FastAPI
from fastapi.responses import RedirectResponse

from solander.station.forms import Fields
from solander.station.workbench import Page, Workbench
from solander.tasks.names import Names
from solander.tasks.places import mean_place
from solander.tasks.which_place import PlaceAsked, none_of_these, places_asked

__all__ = ["add_which", "which_waits"]

_SEE_OTHER = 303


def add_which(app: FastAPI, bench: Workbench, page: Page) -> None:
    """Adds the address that answers; the field `place` is the key of a choice, or empty for none of them."""
    names = bench.names
    if names is None:
        return

    @app.post("/which")
    def answer(form: Fields) -> RedirectResponse:
        name, place = form.get("name", ""), form.get("place", "")
        act = mean_place(names.collection, name, place) if place else none_of_these(names.collection, name)
        told = "" if act is None else f"?done={names.sitting.noted(act)}"
        return RedirectResponse(f"/questions{told}#answered", _SEE_OTHER)


def which_waits(names: Names | None) -> Mapping[str, PlaceAsked]:
    """The questions about names of places by their keys."""
    return places_asked(names.collection, names.understanding.candidates) if names else {}
