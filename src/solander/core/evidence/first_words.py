"""What the owner says of the whole collection: between about which years its photographs are from."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from solander.core.chronology import Between
from solander.core.dates import Dated
from solander.core.descriptions import Reason
from solander.core.evidence.records import Evidence, Family, soft_rank
from solander.core.evidence.years import first_day, last_day
from solander.core.prints import Print
from solander.core.sentence import Sentence
from solander.core.statements import Sure

__all__ = ["collection_years"]

TRUST = 0.05
"""The weakest of all rules of thumb: whoever says it speaks of most of the prints and of none (our choice)."""


def collection_years(prints: Iterable[Print], years: str) -> Iterator[Evidence]:
    """That a print is from the years of its collection, as a rule of thumb that gives way to anything."""
    first, last = first_day(years), last_day(years)
    if first is None and last is None:
        return
    reason = Reason(
        Sentence("the collection is from about these years: %(years)s", years=Dated(years)),
        Sentence("first words"),
        Sure.GUESS,
    )
    rank = soft_rank(TRUST, Family.SIZE)
    for print_ in prints:
        bound = Between(f"years {print_.accession}", print_.accession, first, last)
        yield Evidence(bound, reason, rank, soft=True, shared="first words")
