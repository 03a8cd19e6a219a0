"""A proposed treatment as a question: untreated and treated side by side; one key accepts it, alone or for all."""

from __future__ import annotations

from typing import Any
from urllib.parse import urlencode

from fastapi import FastAPI, Response

from solander.core.errors import InvalidValue, NotFound
from solander.core.prints import View
from solander.core.questions import Question
from solander.core.sentence import Sentence
from solander.core.treatment_size import treated_size
from solander.core.treatments import Treatment
from solander.station.forms import Fields, onward
from solander.station.pictures import view_key
from solander.station.treatment_fields import place_in, slug
from solander.station.workbench import Page, Workbench
from solander.tasks.treatment_desk import TreatmentDesk
from solander.tasks.treatment_proposals import alike, proposed_for, with_proposed

__all__ = ["add_treatment_asked", "proposed_address", "treatment_asked"]

LAID_SMALL = 12
"""Prints that lie small beside the one that is asked about: two rows on a 13-inch screen (looked at)."""

_UNSTORED = {"Cache-Control": "no-store"}


def proposed_address(view: View) -> str:
    """The address of a front as it would look with what is proposed for it."""
    return f"/treatment/{view.key}/proposed.jpg"


def treatment_asked(desk: TreatmentDesk, question: Question) -> dict[str, Any] | None:
    """What the question shows; None where nothing is proposed any more, or the print can't have it beside what was
    done to it since."""
    own = proposed_for(desk.collection, question.subject)
    try:
        whole = with_proposed(own.view, own) if own else None
    except InvalidValue:
        whole = None
    if own is None or whole is None:
        return None
    together = [one for one in alike(desk.collection, question) if one.accession != own.accession]
    return {
        "proposed": own,
        "view": own.view,
        "to_change": _to_change(own.view, whole),
        "size": treated_size(whole, (own.view.width, own.view.height)),
        "together": together,
        "laid_small": together[:LAID_SMALL],
        "given": {},
    }


def add_treatment_asked(app: FastAPI, bench: Workbench, page: Page) -> None:
    """Adds the pictures as proposed, and the answers; a workbench without the desk has none."""
    desk = bench.treatments
    if desk is None:
        return

    @app.get("/treatment/{key}/proposed.jpg")
    def proposed(key: str) -> Response:
        jpeg = desk.seen(key, _proposed(desk, view_key(key))).jpeg
        return Response(jpeg, media_type="image/jpeg", headers=_UNSTORED)

    @app.get("/treatment/{key}/proposed-small.jpg")
    def proposed_small(key: str) -> Response:
        jpeg = desk.seen_small(key, _proposed(desk, view_key(key)))
        return Response(jpeg, media_type="image/jpeg", headers=_UNSTORED)

    @app.post("/treatments/look")
    def look(form: Fields) -> Response:
        desk.look()
        return onward(form, None, otherwise="/questions")

    @app.post("/questions/treat")
    def treat(form: Fields) -> Response:
        question = desk.collection.catalogue.question(form.get("key", ""))
        own = proposed_for(desk.collection, question.subject) if question else None
        if question is None or own is None:
            raise _answered()
        if form.get("treat") == "dark":
            return onward(form, desk.accept_dark(own, place_in(form)).act)
        return onward(
            form, desk.accept(alike(desk.collection, question) if form.get("treat") == "all" else [own]).act
        )


def _to_change(view: View, treatment: Treatment) -> str:
    """The address of the page of a view's treatment with that list in it, not kept yet."""
    fields = {"draft": "1"}
    for step in treatment:
        fields[f"{slug(step.name)}.here"] = "1"
        if step.on:
            fields[f"{slug(step.name)}.on"] = "1"
        for axis, share in zip("xy", step.parameters.get("place", ()), strict=False):
            fields[f"{slug(step.name)}.at.{axis}"] = f"{100 * share:.1f}"
    return f"/treatment/{view.key}?{urlencode(fields)}"


def _proposed(desk: TreatmentDesk, key: str) -> Treatment:
    """All that is done to the view when the proposal is taken."""
    found = proposed_for(desk.collection, desk.view(key)[0])
    if found is None or found.view.key != key:
        raise NotFound(Sentence("Nothing is proposed for this picture"))
    return with_proposed(found.view, found)


def _answered() -> NotFound:
    return NotFound(
        Sentence("This question does not wait any more"),
        Sentence("it was answered meanwhile"),
        Sentence("Go on to the next"),
    )
