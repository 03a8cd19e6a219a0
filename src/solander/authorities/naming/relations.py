"""Who is what to somebody: the ways of `kinship` walked through a family."""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Iterable, Mapping

from attrs import frozen

from solander.core.kin import Family
from solander.core.people import Person

__all__ = ["Relations"]

_FARTHEST = 8
"""Steps from parent to child, or between partners, beyond which nobody counts as near."""

_SEX = {
    "F": "male",
    "M": "female",
    "B": "male",
    "Z": "female",
    "H": "male",
    "W": "female",
    "S": "male",
    "D": "female",
}


@frozen
class Relations:
    """The family of `people` by their headings."""

    family: Family
    people: Mapping[str, Person]

    def along(self, person: str, ways: Iterable[str]) -> tuple[str, ...]:
        """Everybody to whom one of the ways leads from a person, without the person.

        Who is of unknown sex may be what the way asks for. The partner of a parent who is one's own parent is no
        step-parent, and a parent's sibling never one's own parent.
        """
        found: dict[str, None] = {}
        for way in ways:
            here: tuple[str, ...] = (person,)
            for step in way:
                here = tuple(dict.fromkeys(other for each in here for other in self._step(each, step)))
            nearer = {person, *(self.family.parents(person) if way in ("MH", "FW") else ())}
            found |= dict.fromkeys(each for each in here if each not in nearer)
        return tuple(found)

    def _step(self, person: str, step: str) -> tuple[str, ...]:
        look: Callable[[str], tuple[str, ...]]
        if step in "PFM":
            look = self.family.parents
        elif step in "GBZ":
            look = self.family.siblings
        elif step in "EHW":
            look = self.family.partners
        else:
            look = self.family.children
        others = look(person)
        wanted = _SEX.get(step)
        if wanted is None:
            return others
        return tuple(other for other in others if self._may_be(other, wanted))

    def _may_be(self, person: str, sex: str) -> bool:
        known = self.people[person].sex if person in self.people else ""
        return known in ("", sex)

    def near(self, person: str) -> dict[str, int]:
        """Everybody within `_FARTHEST` steps of a person, with the number of steps."""
        steps = {person: 0}
        waiting = deque([person])
        while waiting:
            here = waiting.popleft()
            if steps[here] == _FARTHEST:
                continue
            look = self.family
            for other in (*look.parents(here), *look.children(here), *look.partners(here)):
                if other not in steps:
                    steps[other] = steps[here] + 1
                    waiting.append(other)
        return steps
