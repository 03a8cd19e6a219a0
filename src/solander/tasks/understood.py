"""What is made of a name as somebody typed it: who or where is meant, and why; new when nothing is known of it."""

from __future__ import annotations

from typing import Generic, TypeVar

from attrs import frozen

from solander.core.people import Person
from solander.core.phrases.tokens import folded
from solander.core.places import Place
from solander.tasks.collection import Collection

__all__ = ["Understood", "understand_person", "understand_place"]

Meant = TypeVar("Meant", Person, Place)


@frozen
class Understood(Generic[Meant]):
    """Who or what is meant by words, with the reason; `new` when it is not known yet and would be entered.
    `others` are further ones that may be meant."""

    said: str
    meant: Meant
    why: str
    new: bool = False
    others: tuple[Meant, ...] = ()


def understand_person(collection: Collection, said: str) -> Understood[Person]:
    """Who is meant by a name."""
    name = " ".join(said.split())
    found = collection.catalogue.people_called([name])
    if not found:
        return Understood(said, Person(name), "not known yet", new=True)
    by_heading = next((one for one in found if one.name == name), found[0])
    others = tuple(one for one in found if one is not by_heading)
    why = "known by that name" if folded(by_heading.name) == folded(name) else f"called {name}"
    return Understood(said, by_heading, why, others=others)


def understand_place(collection: Collection, said: str) -> Understood[Place]:
    """Which place is meant by a name."""
    name = " ".join(said.split())
    own = [place for place in collection.catalogue.places() if folded(name) in _names(place)]
    if own:
        return Understood(said, own[0], "a place of this collection", others=tuple(own[1:]))
    return Understood(said, Place(name), "not known yet", new=True)


def _names(place: Place) -> set[str]:
    return {folded(name) for name in (place.name, *(one.text for one in place.names))}
