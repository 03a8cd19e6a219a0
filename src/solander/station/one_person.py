"""Whether two of the people are one, answered on the page of questions by one press."""

from __future__ import annotations

from collections.abc import Mapping

from fastapi import FastAPI
from fastapi.responses import RedirectResponse

from solander.core.questions import Asks
from solander.station.forms import Fields
from solander.station.workbench import Page, Workbench
from solander.tasks.alike import say_two
from solander.tasks.names import Names
from solander.tasks.same_person import asked_about, join_people

__all__ = ["add_one_person", "pairs_waiting"]

_SEE_OTHER = 303


def add_one_person(app: FastAPI, bench: Workbench, page: Page) -> None:
    """Adds the address that answers: `keep` is the name that stays where they are one, else empty."""
    names = bench.names
    if names is None:
        return

    @app.post("/one-person")
    def answer(form: Fields) -> RedirectResponse:
        one, other, keep = (form.get(field, "") for field in ("one", "other", "keep"))
        if keep:
            act = join_people(names.collection, keep, other if keep == one else one)
        else:
            act = say_two(names.collection, one, other)
        told = "" if act is None else f"?done={names.sitting.noted(act)}"
        return RedirectResponse(f"/questions{told}#answered", _SEE_OTHER)


def pairs_waiting(names: Names | None) -> Mapping[str, tuple[str, str]]:
    """The two headings of each question about two who may be one, by the question's key: the one known before
    first, as the name to keep."""
    waiting = names.collection.catalogue.questions() if names else []
    pairs = {one.key: asked_about(one) for one in waiting if one.asks is Asks.SAME_PERSON}
    return {key: (known, newcomer) for key, (newcomer, known) in pairs.items()}
