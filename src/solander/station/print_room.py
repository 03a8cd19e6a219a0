"""The room of one print: both its sides, what is known of it, and who says so."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from fastapi import FastAPI, Request, Response
from fastapi.responses import HTMLResponse, RedirectResponse
from markupsafe import Markup

from solander.core.descriptions import DescribedPrint
from solander.core.errors import NotFound
from solander.look.ruler import bar_of, ruler_svg, span_of
from solander.look.shown import PrintShown
from solander.station.album import page_beside
from solander.station.laid import laid_one, print_address
from solander.station.workbench import Page, Workbench

__all__ = ["LAST_PRINT", "add_print_room", "remember_print"]

LAST_PRINT = "print"
"""The cookie that holds the number of the print last looked at in this browser."""


def add_print_room(app: FastAPI, bench: Workbench, page: Page) -> None:
    """Adds the page of each print, and the room's own address, which leads to the one last looked at."""

    @app.get("/print", response_class=HTMLResponse)
    def last_print(request: Request) -> Response:
        described = bench.collection.described()
        known = [one.print.accession for one in described]
        last = request.cookies.get(LAST_PRINT, "")
        if not known:
            return page("no_print.html", **bench.room("Print"))
        return RedirectResponse(print_address(last if last in known else known[0]), 303)

    @app.get("/print/{accession}", response_class=HTMLResponse)
    def one_print(accession: str, done: int | None = None) -> Response:
        told = _print(bench.collection.described(), accession)
        beside = {
            "redraw": "/outline/" if bench.outlines else "",
            "done": done,
            "words": bench.done(done),
            "album_page": page_beside(bench.albums, accession) if bench.albums else None,
            "faces_on": bench.faces is not None and bench.faces.is_on,
        }
        return remember_print(page("print.html", **bench.room("Print"), **told, **beside), accession)


def remember_print(answer: HTMLResponse, accession: str) -> HTMLResponse:
    """The page of a print, by which the browser remembers it as the one last looked at."""
    answer.set_cookie(LAST_PRINT, accession, httponly=True, samesite="strict")
    return answer


def _print(described: Sequence[DescribedPrint], accession: str) -> dict[str, Any]:
    place = next((i for i, one in enumerate(described) if one.print.accession == accession), None)
    if place is None:
        raise NotFound(f"No print has the number “{accession}”", todo="Look for it on the table")
    span = span_of([bar_of(one) for one in described])
    return {
        "shown": laid_one(described[place]),
        "total": len(described),
        "span": span,
        "ruler": Markup(ruler_svg([bar_of(described[place])], span=span)),
        "before": _neighbour(described, place - 1),
        "after": _neighbour(described, place + 1),
    }


def _neighbour(described: Sequence[DescribedPrint], place: int) -> PrintShown | None:
    return laid_one(described[place]) if 0 <= place < len(described) else None
