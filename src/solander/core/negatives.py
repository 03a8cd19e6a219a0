"""Prints of one negative: the picture was taken once, each paper made for itself.

What is said of the picture (who is shown, where, when, the occasion, a caption) is said of all of them; what is
said of the paper (writing on it, when it was made, where it lies) of the one alone.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from solander.core.statements import About, Says, Statement

__all__ = ["OF_THE_PICTURE", "of_one_negative", "ties_to"]

OF_THE_PICTURE = frozenset({Says.EXPOSURE, Says.PLACE, Says.PERSON, Says.AGE, Says.OCCASION, Says.CAPTION})
"""What prints of one negative share."""


def of_one_negative(statements: Iterable[Statement]) -> Mapping[str, tuple[str, ...]]:
    """By the number of each print that has any, the others of its negative, sorted; what is said of two of three
    ties all three."""
    group: dict[str, set[str]] = {}
    for said in statements:
        if _ties(said):
            both = group.get(said.subject, {said.subject}) | group.get(said.value, {said.value})
            group |= dict.fromkeys(both, both)
    return {one: tuple(sorted(those - {one})) for one, those in group.items()}


def ties_to(statements: Iterable[Statement], one: str, *, leaving: str) -> list[Statement]:
    """What ties `leaving` to `one` and to each print that others tie to that; what only `leaving` ties to it stays
    with `leaving`."""
    ties = [said for said in statements if _ties(said)]
    without = of_one_negative(said for said in ties if leaving not in (said.subject, said.value))
    those = {one, *without.get(one, ())}
    return [said for said in ties if leaving in (said.subject, said.value) and {said.subject, said.value} & those]


def _ties(said: Statement) -> bool:
    return said.about is About.PRINT and said.says is Says.NEGATIVE and said.subject != said.value
