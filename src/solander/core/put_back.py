"""In which order the paper of a container lay, so that it can be put back so."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from solander.core.statements import About, Says, Statement

__all__ = ["as_they_lay"]


def as_they_lay(accessions: Sequence[str], statements: Iterable[Statement]) -> list[str]:
    """The prints of one container as they lay in it.

    `accessions` are in the order in which they were taken in. Prints of which somebody told the number in the
    container stand by that number, in the places that they take among the others; a number that counts on a roll
    of film tells nothing of the container. The first that was told of a print counts.
    """
    numbers: dict[str, int] = {}
    on_rolls: set[str] = set()
    for said in statements:
        if said.about is About.PRINT and said.says is Says.ROLL:
            on_rolls.add(said.subject)
        elif said.about is About.PRINT and said.says is Says.ORDER:
            numbers.setdefault(said.subject, int(said.value))
    counted = dict.fromkeys(one for one in accessions if one in numbers and one not in on_rolls)
    in_order = iter(sorted(counted, key=lambda one: numbers[one]))
    return [next(in_order) if one in counted else one for one in accessions]
