"""The page of one treatment: its sentences, edited where they stand, and the print beside itself untreated."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any
from urllib.parse import parse_qsl, urlencode

from attrs import frozen
from fastapi import FastAPI, Request, Response
from fastapi.responses import HTMLResponse, RedirectResponse

from solander.core.errors import Trouble
from solander.core.language import _, marked, told
from solander.core.prints import Side, View
from solander.core.questions import Question
from solander.core.treatment_size import treated_size
from solander.core.treatments import Step
from solander.look.words import called_words, side_word
from solander.station.forms import Fields
from solander.station.pictures import view_key
from solander.station.treatment_draft import PICKED, Draft, draft_of, marks_listed
from solander.station.treatment_fields import Field, parts_of, slug
from solander.station.workbench import Page, Workbench
from solander.tasks.propose_treatment import offers_of
from solander.tasks.treat import Treated, prints_in, wishes_of
from solander.tasks.treatment_desk import TreatmentDesk
from solander.tasks.treatment_proposals import waiting_proposals

__all__ = ["add_treatment_room", "treatment_address"]

_OFFERS = (
    ("neutral", marked("paper border made neutral")),
    ("yellowing", marked("yellow stain taken off")),
    ("texture", marked("texture of the paper taken out")),
    ("marks", marked("dust and scratches painted over")),
    ("density", marked("mid-tones lighter or darker")),
    ("crop", marked("cropped to the picture")),
)
"""What most prints need that need anything."""

_MORE = (
    ("detail", marked("shadows opened, highlights held back")),
    ("tone curve", marked("tones by a curve")),
    ("fine turn", marked("turned a little")),
    ("keystone", marked("straightened by its corners")),
    ("quarter turn", marked("turned by quarters")),
    ("two lights", marked("glare taken out with a second capture")),
    ("even light", marked("light evened by a blank sheet")),
    ("output", marked("made smaller, sharpened for it")),
)

_UNSTORED = {"Cache-Control": "no-store"}
"""For what is tried: it is nowhere kept, also not in the browser."""

_OF_PAGE = ("done", "left", "giving")
"""What an address says that is nothing of the list."""

_BEYOND = 0.001
"""Share of the picture from which it is told that it is driven beyond what can be shown: less is a few specks."""


@frozen
class _Listed:
    """A step as the page lists it."""

    step: Step
    parts: list[str | Field]

    @property
    def slug(self) -> str:
        """Its name in names of fields."""
        return slug(self.step.name)

    @property
    def at(self) -> tuple[float, float] | None:
        """The place that tells it, in percent."""
        place = self.step.parameters.get("place")
        return (round(100 * place[0], 1), round(100 * place[1], 1)) if place else None


def treatment_address(view: View) -> str:
    """The address of the page of a view's treatment."""
    return f"/treatment/{view.key}"


def add_treatment_room(app: FastAPI, bench: Workbench, page: Page) -> None:
    """Adds the page; a workbench without its desk has none."""
    desk = bench.treatments
    if desk is None:
        return
    _add_looking(app, bench, desk, page)
    _add_keeping(app, bench, desk, page)


def _add_looking(app: FastAPI, bench: Workbench, desk: TreatmentDesk, page: Page) -> None:
    @app.get("/treatment/{key}", response_class=HTMLResponse)
    def treatment(request: Request, key: str, done: int | None = None) -> Response:
        given = dict(request.query_params)
        if "giving" in given and desk.given:
            done, given["left"] = desk.given.act, "1" if desk.given.refused else ""
        return _page(bench, desk, page, view_key(key), given, done=done)

    @app.get("/treatment/{key}/told", response_class=HTMLResponse)
    def told_here(request: Request, key: str) -> Response:
        draft = draft_of(desk, view_key(key), dict(request.query_params))
        return page("treatment_told.html", told=_told(desk, key, draft))

    @app.get("/treatment/{key}/seen.jpg")
    def seen(request: Request, key: str) -> Response:
        draft = draft_of(desk, view_key(key), dict(request.query_params))
        jpeg = desk.seen(key, draft.treatment).jpeg
        return Response(jpeg, media_type="image/jpeg", headers=_UNSTORED)


def _add_keeping(app: FastAPI, bench: Workbench, desk: TreatmentDesk, page: Page) -> None:
    @app.post("/treatment/{key}")
    def keep(form: Fields, key: str) -> Response:
        # The list is sent as the address of the page tells it, so that no word of a form stands in an address.
        given = dict(parse_qsl(form["said"], keep_blank_values=True)) if "said" in form else form
        draft = draft_of(desk, view_key(key), given)
        if draft.refused:
            return _page(bench, desk, page, key, given, status=422)
        return _back(key, desk.keep(key, draft.treatment))

    @app.post("/treatment/{key}/give")
    def give_others(form: Fields, key: str) -> Response:
        done = desk.give_others(view_key(key), form.get("container", ""))
        if done is None:
            return RedirectResponse(f"/treatment/{key}?giving=1", 303)
        return _back(key, done, left=len(done.refused))


def _back(key: str, done: Treated, *, left: int = 0) -> Response:
    told = {"done": done.act, "left": left or None}
    query = {name: value for name, value in told.items() if value is not None}
    return RedirectResponse(f"/treatment/{key}" + (f"?{urlencode(query)}" if query else ""), 303)


def _page(
    bench: Workbench,
    desk: TreatmentDesk,
    page: Page,
    key: str,
    given: Mapping[str, str],
    *,
    done: int | None = None,
    status: int = 200,
) -> HTMLResponse:
    accession, view = desk.view(key)
    draft = draft_of(desk, key, given)
    values: dict[str, Any] = {
        "view": view,
        "accession": accession,
        "side": called_words(side_word(view.side)),
        "here": f"/treatment/{key}",
        "listed": [_Listed(step, parts_of(step)) for step in draft.treatment],
        "offers": _offers(view, draft),
        "more": _more(view, draft),
        "proposal": _proposal(desk, accession, view),
        "picked": PICKED,
        "draft": draft,
        "told": _told(desk, key, draft),
        "size": treated_size(draft.treatment.without("output"), (view.width, view.height)),
        "query": urlencode({name: value for name, value in given.items() if name not in _OF_PAGE}),
        "marks": marks_listed(desk, key, given) if draft.treatment.step("marks") else [],
        "given": given,
        "is_kept": draft.treatment == view.treatment,
        "others": _others(desk, accession, view),
        "left": given.get("left", ""),
        "giving": desk.giving,
        "done": done,
        "words": bench.done(done),
    }
    return page("treatment.html", status=status, **bench.room("Print"), **values)


def _offers(view: View, draft: Draft) -> list[tuple[str, str, str]]:
    """The steps that most prints need and are not in the list, in words; first those that the view's condition
    speaks for, with why."""
    reasons = {offer.name: told(offer.reason) for offer in offers_of(view.condition)}
    spoken_for = [one for one in (*_OFFERS, *_MORE) if one[0] in reasons]
    offers = [*spoken_for, *(one for one in _OFFERS if one[0] not in reasons)]
    return [
        (name, _(words), reasons.get(name, "")) for name, words in offers if draft.treatment.step(name) is None
    ]


def _more(view: View, draft: Draft) -> list[tuple[str, str]]:
    """The steps that are needed more rarely, in words."""
    shown = {offer.name for offer in offers_of(view.condition)}
    return [(name, _(words)) for name, words in _MORE if name not in shown and draft.treatment.step(name) is None]


def _proposal(desk: TreatmentDesk, accession: str, view: View) -> Question | None:
    """The question about a treatment of this picture that waits."""
    waiting = waiting_proposals(desk.collection) if view.side is Side.RECTO else []
    return next((one for one in waiting if one.subject == accession), None)


def _told(desk: TreatmentDesk, key: str, draft: Draft) -> list[str]:
    """What can't be done, and what is lost at the ends of the scale; sentences."""
    sentences = [told(one) for one in draft.refused]
    try:
        clipped = desk.seen(key, draft.treatment).clipped
    except Trouble as trouble:
        return [*sentences, told(trouble.sentence)]
    if clipped >= _BEYOND:
        percent = f"{100 * clipped:.1f}"
        sentences.append(
            _(
                "%(percent)s %% of the picture is driven beyond what can be shown: detail is lost there.",
                percent=percent,
            )
        )
    return sentences


def _others(desk: TreatmentDesk, accession: str, view: View) -> list[tuple[str, int]]:
    """The containers around the print, with how many prints lie in each beside it."""
    if not wishes_of(view.treatment):
        return []
    code = desk.collection.catalogue.print(accession).container
    around = []
    while code:
        count = len(prints_in(desk.collection, containers=[code]))
        around += [(code, count)] if count > 1 else []
        code = code.rpartition("/")[0]
    return around
