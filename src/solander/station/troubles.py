"""What goes wrong, as a page or as an object, with its status: in this one place."""

from __future__ import annotations

from typing import Any

from fastapi import FastAPI, Request, Response
from fastapi.exceptions import RequestValidationError
from fastapi.responses import JSONResponse
from starlette.exceptions import HTTPException

from solander.core.errors import NotFound, Trouble
from solander.core.language import told
from solander.core.sentence import Sentence
from solander.station.asked import path_of
from solander.station.guard import HEADERS
from solander.station.sealing import Again
from solander.station.workbench import Page, Workbench

__all__ = ["add_troubles"]


def _object(trouble: Trouble) -> dict[str, Any]:
    """The trouble for a program; with what others did meanwhile, where that is the trouble."""
    said: dict[str, Any] = {
        "error": told(trouble.sentence),
        "what": told(trouble.what),
        "why": told(trouble.why),
        "todo": told(trouble.todo),
    }
    others = trouble.others if isinstance(trouble, Again) else ()
    if others:
        said["others"] = [{"at": one.at, "who": one.who, "sentence": told(one.act)} for one in others]
    return said


def add_troubles(app: FastAPI, bench: Workbench, page: Page) -> None:
    """Makes every error a sentence that says what happened, why, and what to do."""

    def answer(request: Request, trouble: Trouble) -> Response:
        if request.url.path.startswith("/api/") or "text/html" not in request.headers.get("accept", ""):
            return JSONResponse(_object(trouble), trouble.status)
        values = {**bench.room(""), "waiting": 0, "trouble": trouble, "action": path_of(request)}
        template = "again.html" if isinstance(trouble, Again) else "trouble.html"
        return page(template, status=trouble.status, **values)

    @app.exception_handler(Trouble)
    def on_trouble(request: Request, trouble: Trouble) -> Response:
        return answer(request, trouble)

    @app.exception_handler(RequestValidationError)
    def on_bad_address(request: Request, error: RequestValidationError) -> Response:
        why = "; ".join(f"{'.'.join(map(str, each['loc'][1:]))}: {each['msg']}" for each in error.errors())
        what = Sentence("What was sent could not be understood")
        return answer(request, Trouble(what, why, Sentence("Look at the address and at what was sent with it")))

    @app.exception_handler(HTTPException)
    def on_unknown_address(request: Request, error: HTTPException) -> Response:
        trouble = NotFound(Sentence("There is nothing at this address"), todo=Sentence("Go back to the table"))
        trouble.status = error.status_code
        return answer(request, trouble)

    @app.exception_handler(Exception)
    def on_fault_of_ours(request: Request, error: Exception) -> Response:
        # The server logs the error itself; it stands outside the guard, so its headers are put on here.
        trouble = Trouble(
            Sentence("Something went wrong in Solander"),
            f"{type(error).__name__}: {error}",
            Sentence("Load the page again"),
        )
        trouble.status = 500
        response = answer(request, trouble)
        response.headers.update(HEADERS)
        return response
