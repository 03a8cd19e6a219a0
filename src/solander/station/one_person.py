"""Whether two of the people are one, answered on the page of questions by one press."""

from __future__ import annotations

from fastapi import FastAPI, Response

from solander.station.forms import Fields, onward
from solander.station.workbench import Page, Workbench
from solander.tasks.alike import say_two
from solander.tasks.same_person import join_people

__all__ = ["add_one_person"]


def add_one_person(app: FastAPI, bench: Workbench, page: Page) -> None:
    """Adds the address that answers: `keep` is the name that stays where they are one, else empty."""
    names = bench.names
    if names is None:
        return

    @app.post("/one-person")
    def answer(form: Fields) -> Response:
        one, other, keep = (form.get(field, "") for field in ("one", "other", "keep"))
        if keep:
            act = join_people(names.collection, keep, other if keep == one else one)
        else:
            act = say_two(names.collection, one, other)
        return onward(form, names.sitting.noted(act), otherwise="/questions")
