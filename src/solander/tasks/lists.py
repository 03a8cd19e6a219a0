"""Takes lists of people and places in; taking the same list in again updates it."""

from __future__ import annotations

from pathlib import Path

from solander.authorities.lists import read_people, read_places
from solander.tasks.collection import Collection
from solander.tasks.date import date_reader
from solander.tasks.put_in_order import ask_about_contradictions
from solander.tasks.read_again import read_again

__all__ = ["take_in_people", "take_in_places"]


def take_in_people(collection: Collection, path: Path, *, who: str = "archivist") -> tuple[int, tuple[str, ...]]:
    """How many people were taken in, and a sentence for each row that was set aside."""
    people = read_people(path)
    before = date_reader(collection.catalogue)
    with collection.catalogue.act(who, f"took in people from {path.name}") as act:
        with act.work() as work:
            for person in people.records:
                work.keep_person(person)
            work.commit()
        # Dates such as “when Nan was six” follow her birth, and lives bound the prints that show them.
        read_again(collection, act, before)
        ask_about_contradictions(collection, act)
    return len(people.records), people.set_aside


def take_in_places(collection: Collection, path: Path, *, who: str = "archivist") -> tuple[int, tuple[str, ...]]:
    """How many places were taken in, and a sentence for each row that was set aside."""
    places = read_places(path)
    with collection.catalogue.act(who, f"took in places from {path.name}") as act, act.work() as work:
        for place in places.records:
            work.keep_place(place)
        work.commit()
    return len(places.records), places.set_aside
