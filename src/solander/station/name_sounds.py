"""How names sound: a page beside the station on which a person sees it, spells it, or says it three times.

Its address lies below the station's, since pages elsewhere may use no microphone (see `guard`).
"""

from __future__ import annotations

from urllib.parse import urlencode

from fastapi import FastAPI, Request, Response
from fastapi.concurrency import run_in_threadpool
from fastapi.responses import HTMLResponse, JSONResponse

from solander.core.errors import InvalidValue
from solander.core.language import marked
from solander.core.sentence import Sentence
from solander.station.forms import Fields, onward
from solander.station.sealing import seal
from solander.station.workbench import STATION_ROOM, Page, Workbench
from solander.tasks.name_sounds import LONGEST_S, Reads

__all__ = ["NAME_SOUNDS", "add_name_sounds"]

NAME_SOUNDS = "/station/how-names-sound"

_READS = {
    Reads.TOLD: marked("told by you"),
    Reads.DICTIONARY: marked("from the dictionary"),
    Reads.LETTERS: marked("worked out from the letters"),
}
_MOST_BYTES = (LONGEST_S + 1) * 2 * 16_000


def add_name_sounds(app: FastAPI, bench: Workbench, page: Page) -> None:
    """Adds the page and its answers, where the workbench has stations."""
    desk = bench.sounds
    if desk is None:
        return

    @app.get(NAME_SOUNDS, response_class=HTMLResponse)
    def sounds(said: str = "", after: str = "", name: str = "", done: int | None = None) -> Response:
        told = {
            "found": desk.page(said, after),
            "said": said,
            "one": desk.one(name) if name.strip() else None,
            "reads": _READS,
            "address": NAME_SOUNDS,
            "longest_s": LONGEST_S,
            "token": seal(),
        }
        words = desk.sitting.done(done)
        return page("name_sounds.html", **bench.room(STATION_ROOM), **told, done=done, words=words)

    @app.post(NAME_SOUNDS)
    def teach(form: Fields) -> Response:
        name, spelt = form.get("name", ""), form.get("sounds", "").replace(";", ",").split(",")
        act = desk.teach(name, () if "forget" in form else spelt)
        return onward(form, act, f"{NAME_SOUNDS}?{urlencode({'name': name})}")

    @app.post(f"{NAME_SOUNDS}/said")
    async def said_aloud(request: Request, name: str) -> Response:
        """The recording is the body; what it sounds like comes back, and nothing is kept."""
        return JSONResponse({"spelling": await run_in_threadpool(desk.heard, name, await _sent(request))})


async def _sent(request: Request) -> bytes:
    pieces, length = [], 0
    async for piece in request.stream():
        length += len(piece)
        if length > _MOST_BYTES:
            why = Sentence("the recording is longer than %(number)s seconds", number=LONGEST_S)
            raise InvalidValue(
                Sentence("Nothing was proposed"), why, Sentence("Say the name three times, no more")
            )
        pieces.append(piece)
    return b"".join(pieces)
