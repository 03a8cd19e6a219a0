"""Who is whose what, in words: "daughter of Aksel and Ingeborg", "mother of Jørn"."""

from __future__ import annotations

from attrs import frozen

from solander.core.kin import Family
from solander.core.language import _, marked
from solander.core.people import Person
from solander.look.words import joined

__all__ = ["KinTold", "kin_groups", "kin_line"]

_CHILD = {"female": marked("daughter of %(names)s"), "male": marked("son of %(names)s")}
_PARENT = {"female": marked("mother of %(names)s"), "male": marked("father of %(names)s")}
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
        (_CHILD.get(person.sex, marked("child of %(names)s")), family.parents(person.name)),
        (marked("partner of %(names)s"), family.partners(person.name)),
        (_PARENT.get(person.sex, marked("parent of %(names)s")), family.children(person.name)),
    )
    return " · ".join(_(what, names=_some(names)) for what, names in parts if names)


def _some(names: tuple[str, ...]) -> str:
    if len(names) <= _NAMED:
        return joined(names)
    return _("%(number)s, the first %(name)s", number=len(names), name=names[0])


def kin_groups(person: Person, family: Family) -> list[KinTold]:
    """Parents, brothers and sisters, partners and children of a person, those of whom any is known."""
    name = person.name
    groups = (
        (_("Parents"), [(other, _came(family.by(other, name))) for other in family.parents(name)]),
        (_("Brothers and sisters"), [(other, _half(family, name, other)) for other in family.siblings(name)]),
        (_("Partners"), [(other, "") for other in family.partners(name)]),
        (_("Children"), [(other, _came(family.by(name, other))) for other in family.children(name)]),
    )
    return [KinTold(heading, tuple(others)) for heading, others in groups if others]


def _came(by: str) -> str:
    return {"adopted": _("by adoption"), "foster": _("fostered")}.get(by, "")


def _half(family: Family, name: str, other: str) -> str:
    own, theirs = family.parents(name), family.parents(other)
    return _("one parent shared") if len(own) > 1 and len(theirs) > 1 and set(own) != set(theirs) else ""
