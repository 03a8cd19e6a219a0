"""Which prints lie beside each other, and in which order: albums, envelopes and rolls as chains for guessing."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping, Sequence
from itertools import pairwise

from solander.core.chronology.guess import Chain
from solander.core.evidence.orders import runs
from solander.core.prints import Print
from solander.core.statements import Says, Statement

__all__ = ["chains_of"]


def chains_of(
    prints: Sequence[Print], statements: Sequence[Statement], *, precedes: Collection[tuple[str, str]]
) -> list[Chain]:
    """One chain a roll whose frames are numbered, and one a container for the prints that are on none.

    Prints without a container lie nowhere together and are in none. In a container prints follow as they were
    taken in; those that are numbered stand by their numbers, in the
    places that they take among the others. Two that stand beside each other are known to be in order when
    `precedes` has them; otherwise they are only neighbours.
    """
    on_rolls = {said.subject for said in statements if said.says is Says.ROLL}
    rows = [row for row in runs(prints, statements) if len(row) > 1]
    rolls = [row for row in rows if row[0] in on_rolls]
    boxes = _boxes(
        prints, [row for row in rows if row[0] not in on_rolls], apart={x for row in rolls for x in row}
    )
    known = set(precedes)
    return [Chain(tuple(row), tuple(pair in known for pair in pairwise(row))) for row in (*rolls, *boxes)]


def _boxes(prints: Iterable[Print], rows: Iterable[Sequence[str]], *, apart: Collection[str]) -> list[list[str]]:
    """The prints of each container in their sequence, without those that lie `apart`."""
    boxes: dict[str, list[str]] = defaultdict(list)
    for print_ in prints:
        if print_.container is not None and print_.accession not in apart:
            boxes[print_.container].append(print_.accession)
    row_of = {accession: row for row in rows for accession in row}
    return [_by_numbers(box, row_of) for box in boxes.values()]


def _by_numbers(box: Sequence[str], row_of: Mapping[str, Sequence[str]]) -> list[str]:
    """The box with its numbered prints in the order of their numbers, in the places that they take together."""
    rows = {id(row): iter(row) for accession in box if (row := row_of.get(accession))}
    return [next(rows[id(row)]) if (row := row_of.get(accession)) else accession for accession in box]
