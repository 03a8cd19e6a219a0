"""People and places for programs."""

from __future__ import annotations

from fastapi import FastAPI

from solander.station.api.answers import FAULTS
from solander.station.api.shapes import Name, People, Person, Place, Places, Statement
from solander.station.workbench import Workbench
from solander.tasks.names import Names
from solander.tasks.people_told import PersonTold
from solander.tasks.places_told import PlaceTold

__all__ = ["add_naming_api"]


def add_naming_api(app: FastAPI, bench: Workbench) -> None:
    """Adds it where there is a desk for it."""
    if bench.names is None:
        return
    _add_people(app, bench.names)
    _add_places(app, bench.names)


def _add_people(app: FastAPI, names: Names) -> None:
    @app.get("/api/people", tags=["people"], responses=FAULTS)
    def people(said: Name = "", after: Name = "", everybody: bool = True) -> People:
        """People by heading, page by page: those of whom some name begins as was `said`."""
        found = names.people.page(said=said, after=after, everybody=everybody)
        return People(people=[_person(one) for one in found.lines], total=found.total, next=found.after or None)

    @app.get("/api/people/{name:path}", tags=["people"], responses=FAULTS)
    def person(name: str) -> Person:
        """One person with what is said of them, and their prints in order of time."""
        alone = names.people.alone(name)
        told = _person(alone.told)
        told.accessions = list(alone.told.prints)
        told.statements = [Statement.of(said) for said in alone.said]
        return told


def _person(told: PersonTold) -> Person:
    one = told.person
    other = dict.fromkeys((*one.also_called, *(name.text for name in one.names)))
    return Person(
        name=one.name,
        also_called=[name for name in other if name != one.name],
        born=one.born,
        died=one.died,
        prints=len(told.prints),
    )


def _add_places(app: FastAPI, names: Names) -> None:
    @app.get("/api/places", tags=["places"], responses=FAULTS)
    def places(said: Name = "", after: Name = "") -> Places:
        """The collection's own places by name, page by page."""
        found = names.places.page(said=said, after=after)
        return Places(places=[_place(one) for one in found.lines], total=found.total, next=found.after or None)

    @app.get("/api/places/{name:path}", tags=["places"], responses=FAULTS)
    def place(name: str) -> Place:
        """One place with its prints in order of time."""
        found = names.places.place(name)
        told = _place(found)
        told.accessions = list(found.prints)
        return told


def _place(told: PlaceTold) -> Place:
    one = told.place
    return Place(
        name=one.name,
        country=one.country,
        latitude=one.latitude,
        longitude=one.longitude,
        radius_m=one.radius_m,
        also_called=[name.text for name in one.names],
        prints=len(told.prints),
    )
