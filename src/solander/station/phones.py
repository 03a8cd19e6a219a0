"""The page of the workbench that pairs phones, explains the browser's warning, and sends them away."""

from __future__ import annotations

from datetime import datetime

from fastapi import FastAPI, Response
from fastapi.responses import HTMLResponse, JSONResponse, RedirectResponse

from solander.core.errors import NotFound
from solander.core.sentence import Sentence
from solander.look.words import edtf_words
from solander.station.forms import Fields
from solander.station.workbench import Page, Workbench
from solander.tasks.cameras import CODE_LASTS_S, Camera, Cameras

__all__ = ["add_phones"]


def _shown(camera: Camera) -> dict[str, str]:
    return {"key": camera.key, "name": camera.name, "paired": _when(camera.paired), "seen": _when(camera.seen)}


def _when(moment: str) -> str:
    """A moment as a person here writes it: the day and the time of day."""
    here = datetime.fromisoformat(moment).astimezone()
    return f"{edtf_words(here.date().isoformat())}, {here:%H:%M}"


def add_phones(app: FastAPI, bench: Workbench, page: Page) -> None:
    """Adds the page; where phones are not let in it says how to."""
    if bench.stages is None:
        return
    phones, cameras = bench.phones, bench.phones.cameras if bench.phones else Cameras()

    @app.get("/phones", response_class=HTMLResponse)
    def shown() -> Response:
        told = {
            "phones": phones,
            "offered": phones is not None and phones.is_offered,
            "minutes": CODE_LASTS_S // 60,
            "cameras": [_shown(one) for one in cameras.all],
            "ends": edtf_words(phones.certificate.ends.date().isoformat()) if phones else "",
        }
        return page("phones.html", **bench.room(""), **told)

    @app.get("/phones/code.svg")
    def code() -> Response:
        if phones is None or not phones.is_offered:
            raise NotFound(Sentence("No code is shown just now"), todo=Sentence("Ask for one"))
        return Response(phones.drawn(), media_type="image/svg+xml")

    @app.get("/phones/state")
    def state() -> Response:
        seen = [one.key for one in cameras.all]
        return JSONResponse({"offered": phones is not None and phones.is_offered, "cameras": seen})

    @app.post("/phones/offer")
    def offer(form: Fields) -> Response:
        if phones is not None:
            phones.offer(form.get("at", "1"))
        return RedirectResponse("/phones", 303)

    @app.post("/phones/away")
    def away(form: Fields) -> Response:
        cameras.revoke(form.get("key", ""))
        return RedirectResponse("/phones", 303)
