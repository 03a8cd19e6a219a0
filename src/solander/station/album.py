"""Where pages of albums are looked at: whole, beside each of their prints."""

from __future__ import annotations

from fastapi import FastAPI
from fastapi.responses import FileResponse

from solander.look.album import PageShown, show_page
from solander.station.place import KEPT, hex_name
from solander.station.workbench import Page, Workbench
from solander.tasks.album import Albums

__all__ = ["add_album_pages", "page_beside"]


def page_beside(albums: Albums, accession: str) -> PageShown | None:
    """The album page that a print was cut out of; None for a print from elsewhere."""
    page = albums.page(accession)
    if page is None:
        return None
    return show_page(
        page, accession, f"/album-page/{page.capture}/{page.turn}.jpg", lambda other: f"/print/{other}"
    )


def add_album_pages(app: FastAPI, bench: Workbench, page: Page) -> None:
    """Adds the pictures of whole pages."""
    albums = bench.albums
    if albums is None:
        return

    @app.get("/album-page/{sha256}/{turn}.jpg")
    def album_page(sha256: str, turn: int) -> FileResponse:
        path = albums.picture(hex_name(sha256, 64), turn)
        return FileResponse(path, media_type="image/jpeg", headers=KEPT)
