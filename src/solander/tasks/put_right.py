"""After a change: puts what was touched right at once, before the order of all prints is worked out anew.

A print that was touched, and the prints of its occasion, are put in order by themselves with all that they are
tied to. Their dates are right then as far as these ties tell; their places among all others, and what follows
for others, come with the whole order.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from attrs import evolve

from solander.catalogue.touched import Touched
from solander.core.descriptions import DescribedPrint
from solander.core.questions import Asks
from solander.core.standing import LAST, Standing
from solander.tasks.around import MOST_AROUND, around, touched_prints
from solander.tasks.collection import Collection
from solander.tasks.described import described_on
from solander.tasks.described_some import described_some
from solander.tasks.put_in_order import line_of
from solander.tasks.standing import asks_by_subject, standing_of, told_of

__all__ = ["put_right"]


def put_right(collection: Collection, since: int) -> Touched:
    """Puts the standings of all prints right that were touched after the change `since`; says what was touched.

    Where so many were touched that it would take long, nothing is done: all must be worked out anew.
    """
    catalogue = collection.catalogue
    touched = catalogue.touched_since(since)
    those = touched_prints(collection, touched)
    if touched.all or len(those) > MOST_AROUND:
        return evolve(touched, all=True)
    if those:
        described = _dated_anew(collection, those) if touched.order else described_some(collection, those)
        _keep(collection, described, those, touched)
    elif touched.change > since and not touched.order:
        catalogue.keep_standings([], {}, holds=touched.change)
    return touched


def _dated_anew(collection: Collection, those: set[str]) -> list[DescribedPrint]:
    near = around(collection, those)
    questions = collection.catalogue.questions_about(those)
    found = described_on(line_of(collection, near.tied | near.beside), collection, questions)
    return [one for one in found if one.print.accession in those]


def _keep(collection: Collection, described: Sequence[DescribedPrint], those: set[str], touched: Touched) -> None:
    catalogue = collection.catalogue
    known = catalogue.standings_of(those)
    asks = asks_by_subject(catalogue.questions_about(those))
    firsts = _first_ranks(collection, described)
    fresh = [_standing(collection, one, known, asks, firsts, touched.change) for one in described]
    told: Mapping[str, Any] = {one.print.accession: told_of(one.when) for one in described}
    gone = those - {one.accession for one in fresh}
    catalogue.keep_standings(fresh, told, gone=gone, holds=None if touched.order else touched.change)


def _standing(
    collection: Collection,
    one: DescribedPrint,
    known: Mapping[str, Standing],
    asks: Mapping[str, Sequence[Asks]],
    firsts: Mapping[str, int],
    change: int,
) -> Standing:
    accession = one.print.accession
    fresh = standing_of(one, asks.get(accession, ()), occasion_rank=firsts.get(one.occasion, LAST), change=change)
    before = known.get(accession)
    same = before is not None and before.day == fresh.day
    rank = before.rank if before and same else collection.catalogue.rank_on(fresh.day, fresh.year)
    return evolve(fresh, rank=rank, occasion_rank=rank if fresh.occasion_rank == 0 else fresh.occasion_rank)


def _first_ranks(collection: Collection, described: Iterable[DescribedPrint]) -> dict[str, int]:
    """The place of each occasion's first print so far; 0 for an occasion that is new."""
    names = dict.fromkeys(one.occasion for one in described if one.occasion)
    firsts = {}
    for name in names:
        kept = collection.catalogue.standings_of_occasion(name)
        firsts[name] = kept[0].rank if kept else 0
    return firsts
