"""Where the pictures of prints are served, whole and in small."""

from __future__ import annotations

from pathlib import Path

from fastapi import FastAPI
from fastapi.responses import FileResponse

from solander.core.errors import NotFound
from solander.core.sentence import Sentence
from solander.station.place import KEPT, hex_name
from solander.station.workbench import Page, Workbench

__all__ = ["add_pictures", "view_key"]


def view_key(text: str) -> str:
    """A view's key, or a treatment's; what is none is refused."""
    return hex_name(text, 32)


def add_pictures(app: FastAPI, bench: Workbench, page: Page) -> None:
    """Adds the pictures of views."""

    def picture(path: Path | None, key: str) -> FileResponse:
        if path is None or not path.is_file():
            raise NotFound(
                Sentence("the picture %(key)s is not there", key=key),
                Sentence("its view was not made yet or was deleted"),
            )
        return FileResponse(path, media_type="image/jpeg", headers=KEPT)

    @app.get("/view/{key}.jpg")
    def view(key: str) -> FileResponse:
        return picture(bench.collection.view_path(view_key(key)), key)

    @app.get("/view/{key}/{treatment}.jpg")
    def treated(key: str, treatment: str) -> FileResponse:
        found = bench.collection.treated_path(view_key(key), view_key(treatment), small=False)
        return picture(found, f"{key}/{treatment}")

    @app.get("/thumb/{key}/{treatment}.jpg")
    def treated_thumb(key: str, treatment: str) -> FileResponse:
        found = bench.collection.treated_path(view_key(key), view_key(treatment), small=True)
        return picture(found, f"{key}/{treatment}")

    @app.get("/thumb/{key}.jpg")
    def thumb(key: str) -> FileResponse:
        return picture(bench.collection.thumb_path(view_key(key)), key)
