"""Who counts as living: nobody of them is told of in public unless the archivist says otherwise."""

from __future__ import annotations

from datetime import date

from solander.core.people import Person, life_of

__all__ = ["LONGEST_LIFE", "counts_as_living"]

LONGEST_LIFE = 110
"""Years after which somebody of unknown death is taken for dead (the project's own rule, design.md section 4)."""


def counts_as_living(person: Person, today: date) -> bool:
    """Whether somebody is not known to be dead, and was born less than `LONGEST_LIFE` years ago or nobody knows
    when."""
    life = life_of(person)
    dies_later = life.died_from is not None and life.died_from > today.toordinal()  # a slip, or a wish
    if person.died and not dies_later:
        return False
    if life.born_to is None:
        return True
    born = date.fromordinal(max(1, life.born_to))
    return today.year - born.year - ((today.month, today.day) < (born.month, born.day)) < LONGEST_LIFE
