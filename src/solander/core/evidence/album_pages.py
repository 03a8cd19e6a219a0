"""What the pages of an album tell: most albums were filled from front to back.

Pages are containers whose last level is a P with its number: A1/P2 comes before A1/P3. It is a rule of thumb, and
no print counts for it that is known to lie against it: dated before a print of an earlier page, or numbered on a
roll the other way round. One such print would push all undated ones of the pages around it.
"""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import accumulate, pairwise, permutations
from math import inf

from attrs import frozen

from solander.core.chronology import Difference
from solander.core.dates import parse_edtf
from solander.core.descriptions import Reason
from solander.core.evidence.orders import runs
from solander.core.evidence.records import Evidence, Family, page_thing, soft_rank
from solander.core.prints import Print
from solander.core.sentence import Sentence
from solander.core.statements import About, Says, Statement, Sure

__all__ = ["pages"]

_TRUST = 0.5
"""How far the rule is believed: many albums are mixed (our choice, no source)."""

_PAGE = re.compile(r"(?P<album>.+)/P(?P<page>[0-9]+)")


_Known = tuple[int, float, float, str]
"""Page, first and last day or frame, and accession number of a print."""


@frozen
class _Place:
    album: str
    page: int

    @property
    def code(self) -> str:
        return f"{self.album}/P{self.page}"


def pages(prints: Sequence[Print], statements: Sequence[Statement]) -> Iterator[Evidence]:
    """Prints of an earlier page are not later than those of the pages after it.

    Between two pages that hold prints stands one moment, when the earlier was full, so that an album needs two
    bounds a print.
    """
    places = {print_.accession: place for print_ in prints if (place := _place(print_.container))}
    against = _dated_against(places, statements) | _rolled_against(places, runs(prints, statements))
    albums: dict[str, dict[_Place, list[str]]] = defaultdict(lambda: defaultdict(list))
    for accession, place in places.items():
        if accession not in against:
            albums[place.album][place].append(accession)
    for filled in albums.values():
        for place, following in pairwise(sorted(filled, key=lambda each: each.page)):
            sentence = Sentence(
                "page %(page)s comes before page %(following)s, and albums are mostly filled in order",
                page=place.code,
                following=following.code,
            )
            full = page_thing(place.code)
            for accession in filled[place]:
                yield _evidence(Difference(f"{accession} until {full}", full, accession, None, 0, sentence))
            for accession in filled[following]:
                yield _evidence(Difference(f"{accession} since {full}", full, accession, 0, None, sentence))


def _place(container: str | None) -> _Place | None:
    found = _PAGE.fullmatch(container or "")
    return _Place(found["album"], int(found["page"])) if found else None


def _dated_against(places: Mapping[str, _Place], statements: Iterable[Statement]) -> set[str]:
    """The prints that are dated after one of a later page, or before one of an earlier page."""
    albums: dict[str, list[_Known]] = defaultdict(list)
    for said in statements:
        place = places.get(said.subject) if said.about is About.PRINT and said.says is Says.EXPOSURE else None
        if place is not None and said.sure is not Sure.GUESS:
            bounds = parse_edtf(said.value).bounds()
            first = -inf if bounds.earliest is None else bounds.earliest
            last = inf if bounds.latest is None else bounds.latest
            albums[place.album].append((place.page, first, last, said.subject))
    return {accession for dated in albums.values() for accession in _out_of_order(dated)}


def _rolled_against(places: Mapping[str, _Place], rolls: Iterable[Sequence[str]]) -> set[str]:
    """The prints whose frame lies before that of a print on an earlier page of the same album."""
    found: set[str] = set()
    for roll in rolls:
        albums: dict[str, list[_Known]] = defaultdict(list)
        for frame, accession in enumerate(roll):
            if (place := places.get(accession)) is not None:
                albums[place.album].append((place.page, frame, frame, accession))
        found.update(accession for numbered in albums.values() for accession in _out_of_order(numbered))
    return found


def _out_of_order(known: Sequence[_Known]) -> Iterator[str]:
    """Those that must be left out for the rest to be in order of pages: again and again the one that lies against
    most others."""
    against: dict[str, set[str]] = defaultdict(set)
    for (page, _, last, name), (other_page, first, _, other) in permutations(_lying_against(known), 2):
        if page > other_page and last < first:
            against[name].add(other)
            against[other].add(name)
    while any(against.values()):
        worst = max(against, key=lambda name: len(against[name]))
        yield worst
        for other in against.pop(worst):
            against[other].discard(worst)


def _lying_against(known: Iterable[_Known]) -> list[_Known]:
    """Those that end before one of an earlier page begins, and those that begin after one of a later page ends."""
    ordered = sorted(known)
    begun = list(accumulate((first for _, first, _, _ in ordered), max, initial=-inf))
    ended = list(accumulate((last for _, _, last, _ in reversed(ordered)), min, initial=inf))
    return [
        each
        for number, each in enumerate(ordered)
        if each[2] < begun[number] or each[1] > ended[len(ordered) - 1 - number]
    ]


def _evidence(difference: Difference) -> Evidence:
    reason = Reason(difference.why, Sentence("common practice, no source"), Sure.GUESS)
    return Evidence(difference, reason, soft_rank(_TRUST, Family.ORDER), soft=True)
