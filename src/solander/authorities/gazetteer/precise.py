"""Which of two places in one phrase is meant: “Charlottenburg, Berlin” is Charlottenburg."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence

from attrs import evolve

from solander.authorities.gazetteer.common_words import is_common
from solander.authorities.gazetteer.distance import km_between
from solander.authorities.gazetteer.qualifiers import areas_named
from solander.authorities.gazetteer.weights import LARGER_ONE, Seen

__all__ = ["NEAR_KM", "smaller_first"]

NEAR_KM = 60.0
"""A town behind a town tells which one is meant when it lies so near."""

_LIKELIEST = 5
"""So many towns of each part are compared."""


def smaller_first(seen: Sequence[Seen]) -> list[Seen]:
    """The candidates, with weight taken from each town that only tells where a smaller one lies.

    That is a town which another part of the phrase lies in, or which stands behind a town near it.
    """
    likeliest = _by_words(seen)
    larger = {
        id(other)
        for ones in likeliest.values()
        for others in likeliest.values()
        for one in ones
        for other in others
        if _tells_where(one, other)
    }
    return [evolve(one, weight=one.weight + LARGER_ONE) if id(one) in larger else one for one in seen]


def _by_words(seen: Sequence[Seen]) -> dict[str, list[Seen]]:
    """Towns that are called as the phrase says, all of which is understood then, by the words taken for them."""
    found: defaultdict[str, list[Seen]] = defaultdict(list)
    for one in sorted(seen, key=lambda one: -one.weight):
        understood = not (one.found.unused or one.found.slips) and one.found.what != "land"
        if understood and len(found[one.said]) < _LIKELIEST:
            found[one.said].append(one)
    return dict(found)


def _tells_where(one: Seen, other: Seen) -> bool:
    """Whether `other` only tells where `one` lies."""
    if one.part == other.part or one.said == other.said or is_common(one.said):
        return False
    apart = km_between((one.found.latitude, one.found.longitude), (other.found.latitude, other.found.longitude))
    if one.part < other.part:
        return apart <= NEAR_KM
    within = 1000 * apart <= other.found.radius_m and one.found.radius_m < other.found.radius_m
    return within and not areas_named(one.said)
