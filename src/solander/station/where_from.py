"""Where places are looked up: on this computer, in landmarks of a country, and by a service on the net or none."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from fastapi import FastAPI, Response
from fastapi.responses import HTMLResponse, RedirectResponse

from solander.core.errors import InvalidValue
from solander.core.language import _, _n
from solander.core.sentence import Sentence
from solander.station.forms import Fields
from solander.station.workbench import Page
from solander.tasks.names import Names

__all__ = ["add_where_from"]

_SEE_OTHER = 303


def add_where_from(app: FastAPI, names: Names, page: Page, values: Callable[[str], dict[str, Any]]) -> None:
    """Adds the page and its answers to `app`."""
    desk = names.where_from

    def shown(done: int | None, told: str = "") -> HTMLResponse:
        words = names.sitting.done(done)
        credits = {"credit_words": names.credit, "told": told}
        return page("where_from.html", **values("/places"), **credits, desk=desk, done=done, words=words)

    def back(act: int | None) -> Response:
        return RedirectResponse("/where-from" + ("" if act is None else f"?done={act}"), _SEE_OTHER)

    @app.get("/where-from", response_class=HTMLResponse)
    def where_from(done: int | None = None) -> Response:
        return shown(done)

    @app.post("/where-from/service")
    def service(form: Fields) -> Response:
        url = "" if "off" in form else form.get("url", "").strip()
        if not url and "off" not in form:
            raise InvalidValue(
                Sentence("No service was named"),
                Sentence("the field is empty"),
                Sentence("Give its whole address"),
            )
        return back(desk.name_service(url, form.get("credit", "").strip()))

    @app.post("/where-from/look-up", response_class=HTMLResponse)
    def look_up() -> Response:
        found = desk.look_up()
        places = _n("%(num)s place found", "%(num)s places found", len(found.found))
        asked = _n("%(num)s question to answer", "%(num)s questions to answer", len(found.asked))
        return shown(found.act, f"{places}; {asked}")

    @app.post("/where-from/landmarks", response_class=HTMLResponse)
    def landmarks(form: Fields) -> Response:
        count = desk.take_in_landmarks(names.given.named(form.get("path", "")))
        if count is None:
            return shown(None, _("They are being taken in; look again in a minute"))
        return shown(None, _n("%(num)s place taken in", "%(num)s places taken in", count))
