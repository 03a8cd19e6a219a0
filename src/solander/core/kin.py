"""Who is whose parent and whose partner."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from enum import StrEnum

from attrs import frozen

from solander.core.statements import Sure

__all__ = ["Family", "How", "Kin"]


class How(StrEnum):
    """What one person is to another."""

    PARENT = "parent"
    PARTNER = "partner"


@frozen
class Kin:
    """`person` is a parent or a partner of `other`, both by their headings.

    `by` says how a parent came to be one, as the source does: "birth", "adopted", "foster", or empty. `source` is
    who or what says so. Of partners the one whose heading sorts first stands first: see `partners`.
    """

    person: str
    how: How
    other: str
    by: str = ""
    source: str = ""
    sure: Sure = Sure.CERTAIN

    @classmethod
    def partners(cls, one: str, two: str, *, source: str = "", sure: Sure = Sure.CERTAIN) -> Kin:
        """Two partners, the same whichever is named first."""
        first, second = sorted((one, two))
        return cls(first, How.PARTNER, second, source=source, sure=sure)


class Family:
    """The family of each person, from kin in any order; built once, every answer is then a look-up.

    Each answer is a tuple of headings in the order of entry, without the person and without the same one twice.
    """

    def __init__(self, kin: Iterable[Kin]) -> None:
        self._parents: defaultdict[str, dict[str, str]] = defaultdict(dict)
        self._children: defaultdict[str, dict[str, str]] = defaultdict(dict)
        self._partners: defaultdict[str, dict[str, str]] = defaultdict(dict)
        for each in kin:
            if each.how is How.PARENT:
                _note(self._parents[each.other], each.person, each.by)
                _note(self._children[each.person], each.other, each.by)
            else:
                self._partners[each.person][each.other] = self._partners[each.other][each.person] = ""

    def parents(self, person: str) -> tuple[str, ...]:
        """Parents, by birth, adopting and fostering."""
        return _others(self._parents, person)

    def children(self, person: str) -> tuple[str, ...]:
        """Children, born, adopted and fostered."""
        return _others(self._children, person)

    def partners(self, person: str) -> tuple[str, ...]:
        """Partners, those of former years too."""
        return _others(self._partners, person)

    def siblings(self, person: str) -> tuple[str, ...]:
        """Those who share at least one parent, half brothers and sisters too."""
        shared = (child for parent in self.parents(person) for child in self.children(parent))
        return tuple(dict.fromkeys(child for child in shared if child != person))

    def by(self, parent: str, child: str) -> str:
        """How `parent` came to be one of `child`: "birth", "adopted", "foster", or empty when nobody says."""
        return self._parents.get(child, {}).get(parent, "")


def _note(known: dict[str, str], other: str, by: str) -> None:
    known[other] = known.get(other) or by


def _others(known: defaultdict[str, dict[str, str]], person: str) -> tuple[str, ...]:
    return tuple(other for other in known.get(person, ()) if other != person)
