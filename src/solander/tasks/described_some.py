"""Some prints with all that is known of them, without the order of all prints being worked out.

What is said of them, who and where, and their pictures are read as they are now; when they were taken, with the
reasons, is what was kept with their standing (`solander.tasks.standing`), until then what is said of it.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from attrs import evolve

from solander.core.dates import Bounds, parse_edtf
from solander.core.descriptions import DescribedPrint
from solander.core.errors import NotFound
from solander.core.prints import Print
from solander.core.sentence import Sentence
from solander.core.standing import Standing
from solander.core.statements import Says
from solander.tasks.around import others_of_negatives
from solander.tasks.collection import Collection
from solander.tasks.described import Sayings, as_said
from solander.tasks.put_in_order import people_shown
from solander.tasks.standing import when_of

__all__ = ["described_kept", "described_one", "described_some"]


def described_one(collection: Collection, accession: str) -> DescribedPrint:
    """One print with all that is known of it, its reasons too.

    Raises
    ------
    NotFound
        When no print is listed under that number.
    """
    collection.catalogue.print(accession)  # says what became of it where it is not listed
    found = described_some(collection, [accession])
    if not found:
        raise NotFound(
            Sentence("No print has the number “%(accession)s”", accession=accession),
            todo=Sentence("Look for it on the table"),
        )
    return found[0]


def described_some(
    collection: Collection, accessions: Iterable[str], known: Mapping[str, Standing] | None = None
) -> list[DescribedPrint]:
    """These prints in the order given; those that are not listed are left out. `known` are their standings, where
    they were read already."""
    catalogue = collection.catalogue
    some = list(dict.fromkeys(accessions))
    prints = {print_.accession: print_ for print_ in catalogue.prints_of(some)}
    standings = catalogue.standings_of(prints) if known is None else known
    told = catalogue.standing_told(prints)
    sayings = _sayings(collection, list(prints))
    return [
        _described(sayings, prints[accession], standings.get(accession), told.get(accession, {}))
        for accession in some
        if accession in prints
    ]


def described_kept(collection: Collection) -> list[DescribedPrint]:
    """All prints in order of time, as it was worked out last; those that came since are left out."""
    catalogue = collection.catalogue
    prints = {print_.accession: print_ for print_ in catalogue.prints()}
    statements = catalogue.statements()
    people, places = people_shown(catalogue, statements), catalogue.places()
    sayings = Sayings.of(statements, people, places, catalogue.questions())
    standings = [one for one in catalogue.standings(limit=len(prints) + 1) if one.accession in prints]
    told = catalogue.standing_told(prints)
    return [
        _described(sayings, prints[one.accession], evolve(one, rank=order), told.get(one.accession, {}))
        for order, one in enumerate(standings, start=1)
    ]


def _described(
    sayings: Sayings, print_: Print, standing: Standing | None, told: dict[str, object]
) -> DescribedPrint:
    if not told:
        when = as_said(sayings.of_print_and_occasion(print_.accession))
        at = parse_edtf(when.edtf).bounds() if when.edtf else Bounds(None, None)
        return sayings.describe(print_, standing.rank if standing else 0, when, at)
    at = Bounds(standing.earliest, standing.latest) if standing else Bounds(None, None)
    return sayings.describe(print_, standing.rank if standing else 0, when_of(told), at)


def _sayings(collection: Collection, accessions: Sequence[str]) -> Sayings:
    catalogue = collection.catalogue
    others = others_of_negatives(catalogue, accessions)
    statements = catalogue.statements_about([*accessions, *others])
    occasions = {said.value for said in statements if said.says is Says.OCCASION}
    statements += catalogue.statements_about(occasions) if occasions else []
    places = {said.value for said in statements if said.says is Says.PLACE}
    return Sayings.of(
        statements,
        people_shown(catalogue, statements),
        catalogue.places_named(places),
        catalogue.questions_about(accessions),
    )
