"""Takes lists of people and places in; taking the same list in again updates it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from pathlib import Path

from attrs import evolve, frozen

from solander.authorities.lists import ListRead, check_life, read_people, read_places, updated
from solander.core.errors import InvalidValue
from solander.core.people import Person
from solander.tasks.collection import Collection
from solander.tasks.date import DateReader, date_reader
from solander.tasks.put_in_order import ask_about_contradictions, people_by_name
from solander.tasks.read_again import read_again

__all__ = ["TakenIn", "take_in_people", "take_in_places"]


@frozen
class TakenIn:
    """How many rows were taken in, a sentence for each that was set aside, and one for each date that changed."""

    count: int
    set_aside: tuple[str, ...]
    changed: tuple[str, ...] = ()


def take_in_people(collection: Collection, path: Path, *, who: str = "archivist") -> TakenIn:
    """Takes in people; dates that were told by their lives are read again."""
    people = read_people(path)
    before = date_reader(collection.catalogue)
    records, impossible = _with_what_is_known(people, {one.name: one for one in collection.catalogue.people()})
    with collection.catalogue.act(who, f"took in people from {path.name}") as act:
        with act.work() as work:
            for person in records:
                work.keep_person(person)
            # Dates such as “when Nan was six” follow her birth, and lives bound the prints that show them.
            changed = read_again(collection, work, before=before, now=_knowing(before, collection, records))
            work.commit()
        ask_about_contradictions(collection, act)
    set_aside = (*people.passed_over, *people.set_aside, *impossible)
    return TakenIn(len(records), set_aside, tuple(changed))


def _with_what_is_known(people: ListRead[Person], known: Mapping[str, Person]) -> tuple[list[Person], list[str]]:
    """The people of a list with what it does not tell of them, and a sentence for each life that can't be."""
    records: list[Person] = []
    impossible: list[str] = []
    for told in people.records:
        person = updated(known[told.name], told, people.columns) if told.name in known else told
        try:
            check_life(person)
        except InvalidValue as trouble:
            impossible.append(trouble.sentence)
        else:
            records.append(person)
    return records, impossible


def _knowing(before: DateReader, collection: Collection, records: Iterable[Person]) -> DateReader:
    """The reader that also knows what was just taken in."""
    people = {person.name: person for person in (*collection.catalogue.people(), *records)}
    return evolve(before, people=people_by_name(people.values()))


def take_in_places(collection: Collection, path: Path, *, who: str = "archivist") -> TakenIn:
    """Takes in places."""
    places = read_places(path)
    known = {one.name: one for one in collection.catalogue.places()}
    with collection.catalogue.act(who, f"took in places from {path.name}") as act, act.work() as work:
        for told in places.records:
            work.keep_place(updated(known[told.name], told, places.columns) if told.name in known else told)
        work.commit()
    return TakenIn(len(places.records), (*places.passed_over, *places.set_aside))
