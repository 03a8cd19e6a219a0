"""Takes in a family tree, an address book or a list, sent or named by its path; the difference is shown first."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from fastapi import FastAPI, Response
from fastapi.responses import HTMLResponse, RedirectResponse

from solander.core.errors import Trouble
from solander.core.language import marked
from solander.core.sentence import Sentence
from solander.station.forms import Parts
from solander.station.workbench import Page
from solander.tasks.given_files import FileInHand
from solander.tasks.names import Names

__all__ = ["add_given_files"]

_SEE_OTHER = 303


def add_given_files(app: FastAPI, names: Names, page: Page, values: Callable[[str], dict[str, Any]]) -> None:
    """Adds the pages that take files in."""

    @app.get("/take-in", response_class=HTMLResponse)
    def ask(of: str = "people") -> Response:
        return page("take_in.html", **values("/places" if of == "places" else "/people"), of=of)

    @app.post("/take-in")
    def give(sent: Parts) -> Response:
        file, said = sent.files.get("file"), sent.fields.get("path", "").strip()
        if file is None and not said:
            raise Trouble(
                Sentence("Nothing was looked at"),
                Sentence("no file was chosen"),
                Sentence("Choose one, or say where it lies"),
            )
        where = names.given.send(file.name, file.content) if file else names.given.named(said)
        in_hand = names.given.look(where, sent.fields.get("of", "people"))
        return RedirectResponse(f"/take-in/{in_hand.token}", _SEE_OTHER)

    @app.get("/take-in/{token}", response_class=HTMLResponse)
    def show(token: str) -> Response:
        in_hand = names.given.in_hand(token)
        if in_hand.is_confirmed:
            return RedirectResponse(f"/take-in/{token}/done", _SEE_OTHER)
        given = in_hand.given
        if given is None:
            return waits(in_hand, marked("Looking what is in"))
        return page("take_in_shown.html", **values(f"/{in_hand.of}"), file=in_hand, given=given)

    @app.post("/take-in/{token}")
    def take(token: str) -> Response:
        names.given.in_hand(token).take_in()
        return RedirectResponse(f"/take-in/{token}/done", _SEE_OTHER)

    @app.get("/take-in/{token}/done", response_class=HTMLResponse)
    def done(token: str) -> Response:
        in_hand = names.given.in_hand(token)
        if not in_hand.is_confirmed:
            return RedirectResponse(f"/take-in/{token}", _SEE_OTHER)
        taken = in_hand.taken
        if taken is None:
            return waits(in_hand, marked("Taking in"))
        told = {"file": in_hand, "taken": taken, "done": names.sitting.noted(taken.act)}
        return page("take_in_done.html", **values(f"/{in_hand.of}"), **told, words=names.sitting.done(taken.act))

    def waits(in_hand: FileInHand, doing: str) -> HTMLResponse:
        return page("take_in_waits.html", **values(f"/{in_hand.of}"), file=in_hand, doing=doing)
