"""Which way is up, answered on a page: one key or one press, then back to where it was asked."""

from __future__ import annotations

from collections.abc import Callable
from typing import Annotated, Literal, Protocol

from fastapi import FastAPI, Path
from fastapi.responses import RedirectResponse

from solander.tasks.redraw import Done

__all__ = ["Turning", "add_turning"]

_SEE_OTHER = 303


class Turning(Protocol):
    """What turns prints; tasks provide it."""

    def turn(self, key: str, quarters: int) -> Done:
        """Turns a view by quarter turns clockwise from how it is shown; 0 says that it is the right way up."""


def add_turning(app: FastAPI, collection: Turning, *, key_in: Callable[[str], str]) -> None:
    """Adds the address that turns; `key_in` refuses what is no key of a view."""

    @app.post("/turn/{key}/{quarters}")
    def turn(
        key: str, quarters: Annotated[int, Path(ge=0, le=3)], back: Literal["questions", "print"] = "print"
    ) -> RedirectResponse:
        done = collection.turn(key_in(key), quarters)
        page, place = ("/questions", "#up") if back == "questions" else (f"/print/{done.accession}", "")
        told = "" if done.act is None else f"?done={done.act}"
        return RedirectResponse(page + told + place, _SEE_OTHER)
