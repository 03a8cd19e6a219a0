"""The station's addresses at the workbench: sockets, stills, what a person presses or types."""

from __future__ import annotations

from fastapi import FastAPI, Response
from fastapi.responses import HTMLResponse
from starlette.requests import HTTPConnection

from solander.core.errors import Trouble
from solander.core.sentence import Sentence
from solander.station.camera_page import camera_page
from solander.station.guard import TOKEN_HEADER
from solander.station.sealing import is_seal, seal
from solander.station.stage_answers import StageAnswers, StillAnswers
from solander.station.stage_sockets import Guest, StageSockets
from solander.station.stages import station_name
from solander.station.workbench import Page, Workbench

__all__ = ["add_camera"]


def add_camera(app: FastAPI, bench: Workbench, page: Page) -> None:
    """Adds them, where the workbench has stations.

    They stand outside what goes before every page: settling the order of all prints would hold up a live picture.
    """
    stages = bench.stages
    if stages is None:
        return

    @app.get("/station/{name}/camera", response_class=HTMLResponse)
    def shown(name: str) -> Response:
        return camera_page(page, station_name(name), collection=stages.collection, token=seal())

    parts = (StageSockets(stages, own_page), StillAnswers(stages, own_page), StageAnswers(stages, own_page))
    for part in parts:
        app.router.routes.extend(part.routes)


def own_page(connection: HTTPConnection) -> Guest:
    """Lets in the pages of this sitting: `Guard` has looked where a socket comes from; what is sent bears the word
    that only they know (see `sealing`)."""
    sent = connection.scope["type"] == "http"
    if sent and not is_seal(connection.headers.get(TOKEN_HEADER, "")):
        trouble = Trouble(
            Sentence("Nothing was done"),
            Sentence("the workbench was started anew since this page was loaded"),
            Sentence("Load the page again"),
        )
        trouble.status = 409
        raise trouble
    return Guest()
