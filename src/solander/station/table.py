"""The Table: all prints on the rule of time."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from fastapi import FastAPI, Response
from fastapi.responses import HTMLResponse, RedirectResponse
from markupsafe import Markup

from solander.core.descriptions import DescribedPrint
from solander.look.ruler import bar_of, span_of
from solander.look.ruler_figure import ruler_figure
from solander.look.shown import Stretch, stretches
from solander.station.laid import laid, print_address
from solander.station.workbench import Page, Workbench

__all__ = ["PRINTS_ON_A_PAGE", "add_table"]

PRINTS_ON_A_PAGE = 200
"""Prints on one page of the Table; more are a step away, by order number, so that a long collection opens fast."""


def add_table(app: FastAPI, bench: Workbench, page: Page) -> None:
    """Adds the Table, which is also the first page; a collection that nothing is known of asks its first words."""

    @app.get("/", response_class=HTMLResponse)
    def table(after: int = 0) -> Response:
        if bench.names and bench.names.knows_nothing:
            return RedirectResponse("/first-words", 303)
        return page("table.html", **bench.room("Table"), **_table(bench.collection.described(), after))


def _table(described: Sequence[DescribedPrint], after: int) -> dict[str, Any]:
    bars, hrefs = [bar_of(one) for one in described], [print_address(one.print.accession) for one in described]
    here = laid([one for one in described if after < one.order <= after + PRINTS_ON_A_PAGE])
    span = span_of(bars)
    parts = stretches(here)
    return {
        "stretches": parts,
        "span": span,
        "ruler": Markup(ruler_figure(bars, hrefs, span=span, links=_decades(parts))),
        "total": len(described),
        "earlier": max(0, after - PRINTS_ON_A_PAGE) if after > 0 else None,
        "later": after + PRINTS_ON_A_PAGE if after + PRINTS_ON_A_PAGE < len(described) else None,
    }


def _decades(parts: Sequence[Stretch]) -> dict[int, str]:
    return {part.decade: f"#{part.anchor}" for part in parts if part.decade is not None}
