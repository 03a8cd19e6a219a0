"""All evidence about the prints of a collection, most believed first."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from solander.core.chronology import Difference
from solander.core.evidence.album_pages import pages
from solander.core.evidence.first_words import collection_years
from solander.core.evidence.laid import laid
from solander.core.evidence.lives import ages, lifespans, lives
from solander.core.evidence.negatives import negatives
from solander.core.evidence.occasions import occasions
from solander.core.evidence.orders import numbered, rolls
from solander.core.evidence.paper import DatingFact, paper
from solander.core.evidence.place_names import FormerName, place_names
from solander.core.evidence.print_sizes import print_sizes
from solander.core.evidence.records import Evidence, printing_of
from solander.core.evidence.stated import own_dates, taken_before_printed
from solander.core.people import Person
from solander.core.prints import Print
from solander.core.statements import Statement

__all__ = ["evidence_of", "things_of"]


def evidence_of(
    prints: Sequence[Print],
    statements: Sequence[Statement],
    people: Mapping[str, Person],
    *,
    facts: Mapping[str, DatingFact] | None = None,
    former_names: Sequence[FormerName] = (),
    years: str = "",
    today: int | None = None,
) -> list[Evidence]:
    """All evidence about the prints, most believed first; what is soft comes last.

    `statements` are the live ones in order of entry; `people` are found by any name they are called. `facts` by
    their id and `former_names` are the tables to go by; without them paper, sizes and names of places tell
    nothing. `years` is what the owner says of the whole collection, as EDTF; without `today`, a day
    ordinal, how long people live tells nothing. Occasions, rolls and pages are things of their own, so the network
    must be of `things_of`.
    """
    facts = facts or {}
    found = [
        *own_dates(statements),
        *(taken_before_printed(print_.accession) for print_ in prints),
        *lives(statements, people),
        *ages(statements, people),
        *(lifespans(statements, people, today) if today is not None else ()),
        *occasions(statements),
        *paper(statements, facts),
        *print_sizes(prints, facts),
        *place_names(statements, former_names),
        *negatives(prints, statements),
        *laid(prints, statements),
        *numbered(prints, statements),
        *rolls(prints, statements),
        *pages(prints, statements),
        *collection_years(prints, years),
    ]
    return sorted(found, key=lambda evidence: evidence.rank)


def things_of(prints: Iterable[Print], evidence: Iterable[Evidence]) -> list[str]:
    """Everything in time that the evidence speaks of: each print's exposure and printing, then whatever else
    it ties them to (occasions, rolls, pages)."""
    found = {thing: None for print_ in prints for thing in (print_.accession, printing_of(print_.accession))}
    for one in evidence:
        said = one.constraint
        found |= dict.fromkeys((said.a, said.b) if isinstance(said, Difference) else (said.x,))
    return list(found)
