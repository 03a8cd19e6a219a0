"""Takes lists of people and places in; taking the same list in again updates it."""

from __future__ import annotations

from pathlib import Path

from solander.authorities.lists import read_people, read_places
from solander.tasks.collection import Collection

__all__ = ["take_in_people", "take_in_places"]


def take_in_people(collection: Collection, path: Path, *, who: str = "archivist") -> tuple[int, tuple[str, ...]]:
    """How many people were taken in, and a sentence for each row that was set aside."""
    people = read_people(path)
    with collection.catalogue.act(who, f"took in people from {path.name}") as act, act.work() as work:
        for person in people.records:
            work.keep_person(person)
        work.commit()
    return len(people.records), people.set_aside


def take_in_places(collection: Collection, path: Path, *, who: str = "archivist") -> tuple[int, tuple[str, ...]]:
    """How many places were taken in, and a sentence for each row that was set aside."""
    places = read_places(path)
    with collection.catalogue.act(who, f"took in places from {path.name}") as act, act.work() as work:
        for place in places.records:
            work.keep_place(place)
        work.commit()
    return len(places.records), places.set_aside
