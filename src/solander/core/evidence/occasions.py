"""Prints of an occasion share its date, and lie within its length of each other."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence

from solander.core.chronology import Difference
from solander.core.descriptions import Reason
from solander.core.evidence.records import Evidence, Family, occasion_thing, rank_of
from solander.core.evidence.stated import allowed
from solander.core.statements import About, Says, Statement

__all__ = ["OCCASION_DAYS", "occasions"]

OCCASION_DAYS = 31
"""An occasion lasts at most this long, a long holiday, so its prints lie within it (our choice, no source)."""


def occasions(statements: Sequence[Statement]) -> Iterator[Evidence]:
    """What belonging to an occasion says of a print."""
    dates = defaultdict(list)
    for said in statements:
        if said.about is About.OCCASION and said.says is Says.EXPOSURE:
            dates[said.subject].append(said)
    for said in statements:
        if said.about is not About.PRINT or said.says is not Says.OCCASION:
            continue
        for date in dates[said.value]:
            yield from _dated_by_occasion(said, date)
        sentence = f"belongs to “{said.value}”, which lasted {OCCASION_DAYS} days at most"
        yield Evidence(
            Difference(said.id, occasion_thing(said.value), said.subject, 0, OCCASION_DAYS, sentence),
            Reason(sentence, said.source, said.sure),
            rank_of(said.sure, Family.COMPANY),
        )


def _dated_by_occasion(said: Statement, date: Statement) -> Iterator[Evidence]:
    sentence = f"belongs to “{said.value}”, dated “{date.words}”"
    constraint = allowed(f"{said.id} {date.id}", said.subject, date.value, sentence)
    if constraint is not None:
        reason, rank = Reason(sentence, date.source, date.sure), rank_of(date.sure, Family.OCCASION)
        yield Evidence(constraint, reason, rank, shared=date.id)
