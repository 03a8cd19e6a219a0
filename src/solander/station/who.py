"""Who was meant by a name, answered on the page of questions: one key or one press, or a name that is typed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from fastapi import FastAPI
from fastapi.responses import RedirectResponse

from solander.core.dates import parse_edtf
from solander.core.descriptions import DescribedPrint
from solander.station.forms import Fields
from solander.station.place import hex_name
from solander.station.workbench import Page, Workbench
from solander.tasks.who_is_it import WhoAsked, WhoDesk

__all__ = ["add_who", "who_waits"]

_SEE_OTHER = 303
_KEY = 16


def add_who(app: FastAPI, bench: Workbench, page: Page) -> None:
    """Adds the address that answers; the field `who` holds headings, one a line, and is empty for somebody new."""
    desk = bench.who
    if desk is None:
        return

    @app.post("/who/{key}")
    def answer(key: str, form: Fields) -> RedirectResponse:
        headings = [line.strip() for line in form.get("who", "").splitlines() if line.strip()]
        done = desk.answer(hex_name(key, _KEY), headings)
        return RedirectResponse(f"/questions?done={done.act}#answered", _SEE_OTHER)


def who_waits(desk: WhoDesk | None, described: Sequence[DescribedPrint]) -> Mapping[str, WhoAsked]:
    """The questions about names by their keys, each with who may be meant at the date of its print."""
    if desk is None:
        return {}
    dated = {one.print.accession: one.when.edtf for one in described if one.when.edtf}
    return desk.asked({accession: parse_edtf(edtf).bounds() for accession, edtf in dated.items()})
