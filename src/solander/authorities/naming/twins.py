"""Brothers and sisters of one birth: "the twins"."""

from __future__ import annotations

from collections import defaultdict

from solander.core.kin import Family
from solander.core.people import Person

__all__ = ["TWINS", "births_of_several"]

_WORDS = """
twins zwillinge zwillingen jumeaux jumelles gemelos gemelas mellizos mellizas gemelli gemelle tweeling tvillingene
tvillingarna tvillingerne tvillinger bliznieta blizniaki bliznetsy dvoynyashki triplets drillinge
"""
TWINS = frozenset(_WORDS.split())
"""In plain letters, from memory."""


def births_of_several(people: dict[str, Person], family: Family) -> list[tuple[str, ...]]:
    """The headings of those who share a parent and the day of birth, each group in the order of the people."""
    born: defaultdict[tuple[str, str], list[str]] = defaultdict(list)
    for person in people.values():
        if person.born.count("-") == 2:
            for parent in family.parents(person.name)[:1]:
                born[parent, person.born].append(person.name)
    return [tuple(group) for group in born.values() if len(group) > 1]
