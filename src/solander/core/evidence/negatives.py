"""Prints of one negative have one exposure, whenever each paper was made."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from solander.core.chronology import Difference
from solander.core.descriptions import Reason
from solander.core.evidence.records import Evidence, Family, rank_of
from solander.core.prints import Print
from solander.core.sentence import Sentence
from solander.core.statements import About, Says, Statement

__all__ = ["negatives"]


def negatives(prints: Iterable[Print], statements: Iterable[Statement]) -> Iterator[Evidence]:
    """The exposures of two prints of one negative are one; prints that are not there any more bind nothing."""
    known = {print_.accession for print_ in prints}
    for said in statements:
        if said.about is About.PRINT and said.says is Says.NEGATIVE and {said.subject, said.value} <= known:
            sentence = Sentence(
                "%(print)s and %(other)s are prints of one negative", print=said.subject, other=said.value
            )
            yield Evidence(
                Difference(said.id, said.value, said.subject, 0, 0, sentence),
                Reason(sentence, said.source, said.sure),
                rank_of(said.sure, Family.COMPANY),
            )
