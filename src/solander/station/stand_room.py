"""The stand: what was measured of it last, and pictures of a chart, an edge or a blank sheet taken in."""

from __future__ import annotations

import tempfile
from pathlib import Path

from fastapi import FastAPI, Query, Response
from fastapi.responses import HTMLResponse
from markupsafe import Markup

from solander.core.errors import Trouble
from solander.core.language import marked
from solander.core.sentence import Sentence
from solander.delivery.plots import as_svg
from solander.station.forms import Fields, GivenFile, Parts, onward
from solander.station.workbench import Page, Workbench
from solander.tasks.collection import Collection
from solander.tasks.rig import look_at
from solander.tasks.rig_keep import forget_profile, keep_rig, last_report
from solander.tasks.rig_report import CAUTIONS, day_of, judgement_words, plots_of, rows_of
from solander.tasks.stand_light import kept_profile

__all__ = ["add_stand"]

WHO = "archivist"

PICTURES = (
    ("chart", marked("A chart of 24 patches, turned by about five degrees")),
    ("blank", marked("A blank sheet of matte paper that fills the picture, or the bare stage")),
    ("sheet", marked("The stage sheet")),
)
"""What may be given, each in a field of its own."""


def add_stand(app: FastAPI, bench: Workbench, page: Page) -> None:
    """Adds the page, where the workbench has stations."""
    if bench.stages is None or not bench.sittings:
        return
    sitting = bench.sittings[0]
    collection = sitting.collection

    @app.get("/stand", response_class=HTMLResponse)
    def stand(done: int | None = Query(None, ge=0, lt=2**63)) -> Response:
        told, profile = last_report(collection), kept_profile(collection)
        return page(
            "stand.html",
            **bench.room("Station"),
            told=told,
            profile=profile,
            measured_on=day_of(told.made) if told else "",
            profile_of=day_of(profile.light.made) if profile else "",
            judgements=[judgement_words(one) for one in told.judgements] if told else [],
            rows=rows_of(told) if told else (),
            plots=[(plot.title, Markup(as_svg(plot))) for plot in plots_of(told)] if told else [],
            cautions=CAUTIONS,
            pictures=PICTURES,
            done=done,
            words=bench.done(done),
        )

    @app.post("/stand")
    def measure(sent: Parts) -> Response:
        given = [sent.files[name] for name, _what in PICTURES if name in sent.files]
        if not given:
            raise Trouble(
                Sentence("Nothing was measured"),
                Sentence("no picture was chosen"),
                Sentence("Choose one of those that the page names"),
            )
        return onward(sent.fields, sitting.noted(_measured(collection, given)), "/stand")

    @app.post("/stand/forget")
    def forget(form: Fields) -> Response:
        return onward(form, sitting.noted(forget_profile(collection, who=WHO)), "/stand")


def _file_name(told: str) -> str:
    """A name that any disk takes, as near as may be to what a browser told."""
    name = Path(told.replace("\0", "")).name
    return name[-60:] if name.strip(".") else "picture"


def _measured(collection: Collection, given: list[GivenFile]) -> int | None:
    """Measures the pictures and keeps what they tell."""
    with tempfile.TemporaryDirectory() as folder:
        images = []
        for number, one in enumerate(given):
            path = Path(folder) / str(number) / _file_name(one.name)
            path.parent.mkdir()
            path.write_bytes(one.content)
            images.append(path)
        return keep_rig(collection, images, [look_at(image) for image in images], who=WHO)
