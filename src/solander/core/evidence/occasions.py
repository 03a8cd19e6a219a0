"""Prints of an occasion share its date, and lie as a rule within its length of each other."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence

from solander.core.chronology import Difference
from solander.core.dates import parse_edtf
from solander.core.descriptions import Reason
from solander.core.evidence.records import Evidence, Family, occasion_thing, rank_of, soft_rank, weaker
from solander.core.evidence.stated import allowed
from solander.core.language import marked
from solander.core.sentence import Sentence
from solander.core.statements import About, Says, Statement, Sure

__all__ = ["OCCASION_DAYS", "OCCASION_TRUST", "occasions"]

OCCASION_DAYS = 31
"""An occasion lasts so many days at most, a long holiday, if its own date does not say longer (our choice, no
source)."""

OCCASION_TRUST = 0.8
"""How far its length is believed: a summer at the cottage is an occasion too (our choice, no source)."""


_LONGEST_DAYS = 366
"""A date that spans more tells how little is known and not how long it lasted (our choice, no source)."""


def occasions(statements: Sequence[Statement]) -> Iterator[Evidence]:
    """What belonging to an occasion says of a print: its date, and that the others are not far."""
    dates = defaultdict(list)
    for said in statements:
        if said.about is About.OCCASION and said.says is Says.EXPOSURE:
            dates[said.subject].append(said)
    lengths = {name: _days(told) for name, told in dates.items()}
    for said in statements:
        if said.about is not About.PRINT or said.says is not Says.OCCASION:
            continue
        for date in dates[said.value]:
            yield from _dated_by_occasion(said, date)
        yield _near_the_others(said, lengths.get(said.value, OCCASION_DAYS))


def _days(dates: Iterable[Statement]) -> int:
    """How many days the occasion may have lasted: as many as its date spans, and never less than the usual."""
    spans = [OCCASION_DAYS]
    for date in dates:
        bounds = parse_edtf(date.value).bounds()
        if bounds.earliest is not None and bounds.latest is not None:
            spans.append(bounds.latest - bounds.earliest + 1)
    return max(span for span in spans if span <= _LONGEST_DAYS)


def _near_the_others(said: Statement, days: int) -> Evidence:
    message = (
        marked("belongs to “%(occasion)s”; an occasion lasts %(days)s days at most, as a rule")
        if days == OCCASION_DAYS
        else marked("belongs to “%(occasion)s”, which lasted %(days)s days at most")
    )
    sentence = Sentence(message, occasion=said.value, days=days)
    trust = OCCASION_TRUST / 2 if said.sure is Sure.GUESS else OCCASION_TRUST
    # The first and the last of 31 days lie 30 days apart.
    return Evidence(
        Difference(said.id, occasion_thing(said.value), said.subject, 0, days - 1, sentence),
        Reason(sentence, said.source, Sure.GUESS),
        soft_rank(trust, Family.COMPANY),
        soft=True,
    )


def _dated_by_occasion(said: Statement, date: Statement) -> Iterator[Evidence]:
    sentence = Sentence("belongs to “%(occasion)s”, dated “%(date)s”", occasion=said.value, date=date.words)
    constraint = allowed(f"{said.id} {date.id}", said.subject, date.value, sentence)
    if constraint is not None:
        sure = weaker(said.sure, date.sure)
        yield Evidence(
            constraint, Reason(sentence, date.source, sure), rank_of(sure, Family.OCCASION), shared=date.id
        )
