"""The interface for programs: its addresses, and how it describes itself."""

from __future__ import annotations

from typing import Any

from fastapi import FastAPI
from fastapi.openapi.utils import get_openapi
from fastapi.responses import JSONResponse

from solander import __version__
from solander.station.api.arranging import add_arranging_api
from solander.station.api.history import add_history_api
from solander.station.api.naming import add_naming_api
from solander.station.api.prints import add_prints_api
from solander.station.api.shapes import Question, Standing
from solander.station.guard import TOKEN_HEADER
from solander.station.sealing import seal
from solander.station.workbench import Page, Workbench

__all__ = ["add_api"]

_ABOUT = f"""\
What the pages of the workbench do, for programs on this machine. Nothing else answers.

To change something, say the word that `GET /api/token` gives in the header `{TOKEN_HEADER}`: it shows that you may
read here, and is another one each time the workbench is opened. Send `seen`, the `last_change` that you have read,
and nothing is written over what somebody else changed since: the answer is then 409 with what they did.

Whatever goes wrong is told in one sentence, with what happened, why, and what to do.
"""


def add_api(app: FastAPI, bench: Workbench, page: Page) -> None:
    """Adds the interface: what there are desks for."""
    _add_standing(app, bench)
    add_prints_api(app, bench)
    add_arranging_api(app, bench)
    add_naming_api(app, bench)
    add_history_api(app, bench)

    @app.get("/api/openapi.json", include_in_schema=False)
    def description() -> JSONResponse:
        return JSONResponse(_description(app))


def _add_standing(app: FastAPI, bench: Workbench) -> None:
    @app.get("/api/collection", tags=["collection"])
    def collection() -> Standing:
        """The collection as it stands."""
        reading = bench.collection
        return Standing(
            title=reading.title,
            last_change=reading.last_change,
            prints=reading.print_count,
            questions=reading.waiting,
            second_copy=reading.second_copy,
            settled=reading.is_settled,
        )

    @app.get("/api/token", tags=["collection"])
    def token() -> str:
        """The word by which a program may change something, until the workbench is closed."""
        return seal()

    @app.get("/api/questions", tags=["questions"])
    def questions() -> list[Question]:
        """What waits for a person, the most useful first."""
        return Question.all_of(bench.collection.questions())


def _description(app: FastAPI) -> dict[str, Any]:
    """The description of the addresses below `/api` alone."""
    ours = [route for route in app.routes if str(getattr(route, "path", "")).startswith("/api/")]
    told = get_openapi(title="Solander", version=__version__, description=_ABOUT, routes=ours)
    word = {"type": "apiKey", "in": "header", "name": TOKEN_HEADER}
    told["components"]["securitySchemes"] = {"word": word}
    for methods in told["paths"].values():
        for method, operation in methods.items():
            if method != "get":
                operation["security"] = [{"word": []}]
    return told
