"""The frame of the room where the collection is handed over: what there is, for whom, and how it is done."""

from __future__ import annotations

from attrs import frozen
from fastapi import FastAPI, Response
from fastapi.responses import HTMLResponse

from solander.core.language import marked
from solander.station.workbench import Page, Workbench

__all__ = ["add_hand_over"]


@frozen
class Audience:
    """For whom a release is made: what they get, what is withheld from them (messages), and the word by which the
    command calls them; empty where there is none yet."""

    name: str
    gets: str
    withheld: str
    command: str = ""


AUDIENCES = (
    Audience(
        marked("An archive"),
        marked(
            "Every capture as it arrived, the straightened pictures, a table of all prints, every statement with "
            "who said it, and checksums by which the whole can be proven in fifty years."
        ),
        marked("The measurements of faces, and nothing else. Dates stay as exact as they are known, no more."),
        "archive",
    ),
    Audience(
        marked("The family"),
        marked(
            "A site that opens from disk without any program, in order of time, both sides of each print, with "
            "the reason for every date. The files sort by name in any viewer."
        ),
        marked(
            "The captures, who said what in which file, and the measurements of faces. Places can be told by "
            "their town alone."
        ),
        "family",
    ),
    Audience(
        marked("Everybody"),
        marked("Nothing yet."),
        marked(
            "Everything: it cannot be told yet who in the prints may still be living, and they must be asked "
            "first."
        ),
    ),
)


def add_hand_over(app: FastAPI, bench: Workbench, page: Page) -> None:
    """Adds the page."""

    @app.get("/hand-over", response_class=HTMLResponse)
    def hand_over() -> Response:
        told = {"prints": bench.collection.print_count, "audiences": AUDIENCES}
        return page("hand_over.html", **bench.room("Hand over"), **told)
