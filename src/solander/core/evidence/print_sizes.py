"""What the size of the paper tells, where the scale of its picture is known."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from solander.core.evidence.paper import DatingFact, evidence_of_fact
from solander.core.evidence.records import Evidence, Family
from solander.core.prints import Print
from solander.core.sentence import Sentence
from solander.core.statements import About, Says, Statement, Sure

__all__ = ["SIZE_TOLERANCE_MM", "SIZE_TRUST", "print_sizes"]

SIZE_TOLERANCE_MM = 1.5
"""Paper was cut by hand and shrinks; sizes of neighbouring formats lie 6 mm apart (our choice, no source)."""

SIZE_TRUST = 0.3
"""How far a size alone is believed: the same sizes were cut in other years too (our choice, no source)."""


def print_sizes(prints: Iterable[Print], facts: Mapping[str, DatingFact]) -> Iterator[Evidence]:
    """What the formats of the table say of prints of their size; always a rule of thumb.

    A scale that the picture file does not tell believably is None in `View.ppi`, and gives nothing. A size that
    fits several formats tells nothing either.
    """
    sized = [fact for fact in facts.values() if fact.sizes_mm]
    for print_ in prints if sized else ():
        size = _size_mm(print_)
        fitting = [fact for fact in sized if size and any(_fits(size, known) for known in fact.sizes_mm)]
        if size and len(fitting) == 1:
            yield from evidence_of_fact(fitting[0], _measured(print_, size), trust=SIZE_TRUST, family=Family.SIZE)


def _size_mm(print_: Print) -> tuple[float, float] | None:
    """Shorter and longer side of the front, else of the back."""
    view = print_.recto or print_.verso
    if view is None or view.size_mm is None:
        return None
    shorter, longer = sorted(view.size_mm)
    return shorter, longer


def _fits(size: tuple[float, float], known: tuple[float, float]) -> bool:
    return all(abs(side - other) <= SIZE_TOLERANCE_MM for side, other in zip(size, known, strict=True))


def _measured(print_: Print, size: tuple[float, float]) -> Statement:
    """The measurement as a statement: nobody said it, so it is made anew each time and never kept."""
    told = f"{size[0]:.0f} × {size[1]:.0f} mm"
    return Statement(
        f"size {print_.accession}",
        About.PRINT,
        print_.accession,
        Says.EVIDENCE,
        told,
        told,
        Sure.LIKELY,
        Sentence("the picture measures %(size)s", size=told),
        "",
    )
