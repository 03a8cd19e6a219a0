"""The room of names and places: people, places, the map, and the first words about a collection."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from fastapi import FastAPI
from fastapi.responses import HTMLResponse

from solander.look.shown import PrintShown
from solander.station.first_words import add_first_words
from solander.station.given_files import add_given_files
from solander.station.people import add_people
from solander.station.places import add_places
from solander.tasks.names import Names

__all__ = ["add_names"]

ROOM = "Names & places"


def add_names(
    app: FastAPI,
    names: Names,
    page: Callable[..., HTMLResponse],
    room: Callable[[str], dict[str, Any]],
    laid: Callable[[Sequence[Any]], list[PrintShown]],
) -> None:
    """Adds the room to `app`; `room` gives what every page of a room shows, `laid` lays prints out."""

    def values(within: str) -> dict[str, Any]:
        return {**room(ROOM), "within": within}

    add_first_words(app, names, page, values)
    add_given_files(app, names, page, values)
    add_people(app, names, page, values, laid)
    add_places(app, names, page, values, laid)
