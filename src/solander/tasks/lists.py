"""Takes lists of places in; taking the same list in again updates it."""

from __future__ import annotations

from pathlib import Path

from attrs import frozen

from solander.authorities.lists import read_places, updated
from solander.tasks.collection import Collection

__all__ = ["TakenIn", "take_in_places"]


@frozen
class TakenIn:
    """How many rows were taken in, and a sentence for each that was set aside."""

    count: int
    set_aside: tuple[str, ...]


def take_in_places(collection: Collection, path: Path, *, who: str = "archivist") -> TakenIn:
    """Takes in places."""
    places = read_places(path)
    known = {one.name: one for one in collection.catalogue.places()}
    with collection.catalogue.act(who, f"took in places from {path.name}") as act, act.work() as work:
        for told in places.records:
            work.keep_place(updated(known[told.name], told, places.columns) if told.name in known else told)
        work.commit()
    return TakenIn(len(places.records), (*places.passed_over, *places.set_aside))
