"""Who a face may show: suggestions with their reasons, for a person to say yes to."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from attrs import frozen

from solander.core.dates import Bounds, age_words, parse_edtf
from solander.core.people import Person, life_of
from solander.core.sentence import Counted, Sentence

__all__ = ["MOST", "FaceEvidence", "LikelyPerson", "likely_people"]

MOST = 3
"""Suggestions that are shown: one key each, and no list to read (our own choice)."""


@frozen
class FaceEvidence:
    """What speaks for a person by heading: how many faces named so are in the same group, how many more look like
    this one and how much the likest does (cosine), and whether somebody says that they are in the print."""

    in_group: int = 0
    alike: int = 0
    likest: float = 0.0
    said: bool = False

    @property
    def weight(self) -> tuple[bool, int, float]:
        """For the order: who is said to be there comes first, then the group, then the likest."""
        return self.said and bool(self.in_group or self.alike), self.in_group, self.likest + 0.5 * self.said


@frozen
class LikelyPerson:
    """A person by heading, why, and the age then in words (empty when unknown)."""

    person: str
    reasons: tuple[str, ...]
    age: str = ""


def likely_people(
    evidence: Mapping[str, FaceEvidence], *, people: Mapping[str, Person], on: Bounds
) -> tuple[LikelyPerson, ...]:
    """The likeliest people, at most `MOST`; nobody who was not alive on any of the days of the print."""
    alive = [name for name in evidence if _may_have_lived(people.get(name, Person(name)), on)]
    best = sorted(alive, key=lambda name: (tuple(-float(part) for part in evidence[name].weight), name))
    return tuple(_told(name, evidence[name], people.get(name, Person(name)), on) for name in best[:MOST])


def _told(name: str, evidence: FaceEvidence, person: Person, on: Bounds) -> LikelyPerson:
    age = age_words(parse_edtf(person.born), on) if person.born else ""
    return LikelyPerson(name, tuple(_reasons(evidence)), age)


def _reasons(evidence: FaceEvidence) -> Iterable[str]:
    if evidence.in_group:
        yield Counted(
            "%(num)s face of this group is named so", "%(num)s faces of this group are named so", evidence.in_group
        )
    if evidence.alike and evidence.in_group:
        yield Counted(
            "%(num)s other face named so looks like this one",
            "%(num)s other faces named so look like this one",
            evidence.alike,
        )
    elif evidence.alike:
        yield Counted(
            "%(num)s face named so looks like this one",
            "%(num)s faces named so look like this one",
            evidence.alike,
        )
    if evidence.said:
        yield Sentence("said to be in this print")


def _may_have_lived(person: Person, on: Bounds) -> bool:
    life = life_of(person)
    unborn = life.born_from is not None and on.latest is not None and on.latest < life.born_from
    dead = life.died_to is not None and on.earliest is not None and on.earliest > life.died_to
    return not (unborn or dead)
