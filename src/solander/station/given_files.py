"""Takes in a family tree, an address book or a list, sent or named by its path; the difference is shown first."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

from fastapi import FastAPI, Response
from fastapi.responses import HTMLResponse, RedirectResponse

from solander.core.errors import Trouble
from solander.station.forms import Parts
from solander.station.workbench import Page
from solander.tasks.names import Names

__all__ = ["add_given_files"]


def add_given_files(app: FastAPI, names: Names, page: Page, values: Callable[[str], dict[str, Any]]) -> None:
    """Adds the page that takes files in."""

    @app.get("/take-in", response_class=HTMLResponse)
    def ask(of: str = "people") -> Response:
        return page("take_in.html", **values("/people" if of == "people" else "/places"), of=of)

    @app.post("/take-in")
    def give(sent: Parts) -> Response:
        file, path = sent.files.get("file"), sent.fields.get("path", "").strip()
        if file is None and not path:
            raise Trouble("Nothing was looked at", "no file was chosen", "Choose one, or say where it lies")
        where = names.given.send(file.name, file.content) if file else Path(path).expanduser()
        given = names.given.look(where, sent.fields.get("of", "people"))
        return RedirectResponse(f"/take-in/{given.token}", 303)

    @app.get("/take-in/{token}", response_class=HTMLResponse)
    def show(token: str) -> Response:
        given = names.given.given(token)
        return page("take_in_shown.html", **values(f"/{given.of}"), given=given)

    @app.post("/take-in/{token}")
    def take(token: str) -> Response:
        given, taken = names.given.given(token), names.given.take_in(token)
        told = {
            "given": given,
            "taken": taken,
            "done": names.sitting.noted(taken.act),
            "words": names.sitting.done(taken.act),
        }
        return page("take_in_done.html", **values(f"/{given.of}"), **told)
