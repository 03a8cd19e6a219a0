"""The room of names and places: people, places, the map, and the first words about a collection."""

from __future__ import annotations

from typing import Any

from fastapi import FastAPI

from solander.station.first_words import add_first_words
from solander.station.given_files import add_given_files
from solander.station.people import add_people
from solander.station.places import add_places
from solander.station.where_from import add_where_from
from solander.station.workbench import NAMES_ROOM, Page, Workbench

__all__ = ["add_names"]


def add_names(app: FastAPI, bench: Workbench, page: Page) -> None:
    """Adds the room to `app`."""
    names = bench.names
    if names is None:
        return

    def values(within: str) -> dict[str, Any]:
        return {**bench.room(NAMES_ROOM), "within": within, "has_sounds": bench.sounds is not None}

    add_first_words(app, names, page, values)
    add_given_files(app, names, page, values)
    add_people(app, names, page, values)
    add_places(app, names, page, values)
    add_where_from(app, names, page, values)
