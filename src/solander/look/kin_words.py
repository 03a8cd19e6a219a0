"""Who is whose what, in words: "daughter of Aksel and Ingeborg", "mother of Jørn"."""

from __future__ import annotations

from attrs import frozen

from solander.core.kin import Family
from solander.core.people import Person
from solander.look.words import joined

__all__ = ["KinTold", "kin_groups", "kin_line"]

_CHILD = {"female": "daughter", "male": "son"}
_PARENT = {"female": "mother", "male": "father"}
_NAMED = 3
"""So many are named in a line; of more their number is told."""


@frozen
class KinTold:
    """Some kin of one person: what they are together, and each by heading with what is special of them."""

    heading: str
    names: tuple[tuple[str, str], ...]


def kin_line(person: Person, family: Family) -> str:
    """The nearest kin of a person in one line; empty where none is known."""
    parts = (
        (_CHILD.get(person.sex, "child"), family.parents(person.name)),
        ("partner", family.partners(person.name)),
        (_PARENT.get(person.sex, "parent"), family.children(person.name)),
    )
    return " · ".join(f"{what} of {_some(names)}" for what, names in parts if names)


def _some(names: tuple[str, ...]) -> str:
    return joined(names) if len(names) <= _NAMED else f"{len(names)}, the first {names[0]}"


def kin_groups(person: Person, family: Family) -> list[KinTold]:
    """Parents, brothers and sisters, partners and children of a person, those of whom any is known."""
    name = person.name
    groups = (
        ("Parents", [(other, _came(family.by(other, name))) for other in family.parents(name)]),
        ("Brothers and sisters", [(other, _half(family, name, other)) for other in family.siblings(name)]),
        ("Partners", [(other, "") for other in family.partners(name)]),
        ("Children", [(other, _came(family.by(name, other))) for other in family.children(name)]),
    )
    return [KinTold(heading, tuple(others)) for heading, others in groups if others]


def _came(by: str) -> str:
    return {"adopted": "by adoption", "foster": "fostered"}.get(by, "")


def _half(family: Family, name: str, other: str) -> str:
    own, theirs = family.parents(name), family.parents(other)
    return "one parent shared" if len(own) > 1 and len(theirs) > 1 and set(own) != set(theirs) else ""
