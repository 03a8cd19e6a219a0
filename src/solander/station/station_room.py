"""The room at the stand: the stage as it is seen now, the slip, the last prints.

The page comes empty and is filled by what the live stage tells (`live_stage`); what is typed or pressed on it goes
back in the same way.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from fastapi import FastAPI, Query, Response
from fastapi.responses import HTMLResponse

from solander.core.errors import NotFound
from solander.core.language import marked
from solander.core.sentence import Sentence
from solander.station.forms import Fields, onward
from solander.station.sealing import seal
from solander.station.workbench import Page, Workbench
from solander.tasks.stand_sounds import keeps_slip_sound, switch_slip_sound

__all__ = ["KEYS", "add_station"]

KEYS: Sequence[tuple[Sequence[str], str]] = (
    ((marked("Page down"), marked("Enter"), marked("Space")), marked("take what lies there now, settled or not")),
    ((marked("Page up"), "B"), marked("the next picture is the back of the last print")),
    (("A",), marked("take the last one again; you then choose between the two")),
    (("O",), marked("what was taken for a back is a print of its own")),
    (("I",), marked("it is the back of the one before, when that is asked")),
    (("U",), marked("undo what was done last")),
    (("1", "…", "5"), marked("open a part of the slip; Enter keeps it, Esc leaves it")),
    (("T",), marked("type what you would say")),
    (("C",), marked("empty the slip; the box stays")),
    (("M",), marked("switch the microphone on; then shut and open it")),
    (("Y", "N"), marked("yes or no, when it asks whether it understood")),
    (("S",), marked("a story begins, and ends")),
    (("K", "L"), marked("keep the new picture, or leave the old one")),
    (("E",), marked("the stage is empty now")),
    (("R",), marked("rest; any key goes on")),
)
"""Every key at the stand and what it does. Page down, Page up, Enter and the volume keys are what foot pedals and
shutter buttons send (common practice, no source)."""

_A_STATION = re.compile(r"[A-Za-z0-9]{1,12}")


def add_station(app: FastAPI, bench: Workbench, page: Page) -> None:
    """Adds the page, where the workbench has stations; `at` names one of them."""
    if bench.stages is None or not bench.sittings:
        return
    sitting, stages = bench.sittings[0], bench.stages

    @app.get("/station", response_class=HTMLResponse)
    def station(at: str = Query("1")) -> Response:
        if not _A_STATION.fullmatch(at):
            raise NotFound(Sentence("There is no station “%(name)s”", name=at[:40]))
        stages.claim(at)
        told = {
            "station": at,
            "token": seal(),
            "collection": sitting.collection.identifier,
            "key_table": KEYS,
            "keeps_sound": keeps_slip_sound(sitting.collection),
        }
        return page("station.html", **bench.room("Station"), **told)

    @app.post("/station/{name}/keeps-sound")
    def keep_sound(name: str, form: Fields) -> Response:
        """Whether the sound of what was not understood is kept, from now on."""
        act = switch_slip_sound(sitting.collection, on=form.get("keeps") == "yes")
        return onward(form, sitting.noted(act), f"/station?at={name}")
