"""Who was meant by a name, answered on the page of questions: one key or one press, or a name that is typed."""

from __future__ import annotations

from fastapi import FastAPI, Response

from solander.station.forms import Fields, onward
from solander.station.place import hex_name
from solander.station.workbench import Page, Workbench

__all__ = ["add_who"]

_KEY = 16


def add_who(app: FastAPI, bench: Workbench, page: Page) -> None:
    """Adds the address that answers; the field `who` holds headings, one a line, and is empty for somebody new."""
    desk = bench.who
    if desk is None:
        return

    @app.post("/who/{key}")
    def answer(key: str, form: Fields) -> Response:
        headings = [line.strip() for line in form.get("who", "").splitlines() if line.strip()]
        done = desk.answer(hex_name(key, _KEY), headings)
        return onward(form, done.act, otherwise="/questions")
