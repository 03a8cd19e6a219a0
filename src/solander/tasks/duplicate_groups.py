"""Pairs of prints of one photograph, gathered into groups, with what was said of them and which is better."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from attrs import frozen

from solander.core.negatives import of_one_negative
from solander.core.sentence import Sentence
from solander.tasks.better_copy import better_copy
from solander.tasks.collection import Collection
from solander.tasks.duplicates import Pair, sentence_of

__all__ = ["Group", "PairTold", "groups_of"]


@frozen
class PairTold:
    """A pair with what is asked about it, what a person said (`one negative` or nothing), what speaks for each
    print, and the number of the better one, empty where as much speaks for either."""

    pair: Pair
    sentence: Sentence
    said: str
    better: Mapping[str, Sequence[str]]
    best: str


@frozen
class Group:
    """Prints that show one photograph, in the order of the shelf, and the pairs that tie them."""

    prints: Sequence[str]
    pairs: Sequence[PairTold]


def groups_of(collection: Collection, pairs: Sequence[Pair]) -> list[Group]:
    """The pairs in groups; prints that only a third one ties are in one group."""
    group: dict[str, dict[str, None]] = {}
    for pair in pairs:
        both = group.get(pair.earlier, {pair.earlier: None}) | group.get(pair.later, {pair.later: None})
        group |= dict.fromkeys(both, both)
    said = of_one_negative(collection.catalogue.of_one_negative())
    told = [_told(collection, pair, said) for pair in pairs]
    each_once = {id(those): those for those in group.values()}
    return [
        Group(tuple(those), tuple(one for one in told if one.pair.earlier in those))
        for those in each_once.values()
    ]


def _told(collection: Collection, pair: Pair, said: Mapping[str, Sequence[str]]) -> PairTold:
    by_number = {one.accession: one for one in collection.catalogue.prints_of([pair.earlier, pair.later])}
    both = by_number[pair.earlier], by_number[pair.later]
    better = better_copy(*both, pair.likeness)
    return PairTold(
        pair,
        sentence_of(pair),
        "one negative" if pair.later in said.get(pair.earlier, ()) else "",
        {pair.earlier: better.reasons[0], pair.later: better.reasons[1]},
        "" if better.best is None else (pair.earlier, pair.later)[better.best],
    )
