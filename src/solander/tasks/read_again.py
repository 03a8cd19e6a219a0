"""Reads dates again when what they were read by has changed: customs, lives of people, dates of occasions."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from attrs import evolve

from solander.catalogue.history import utc_now
from solander.catalogue.work import Work
from solander.core.dates import Dated
from solander.core.language import marked
from solander.core.phrases import Reading
from solander.core.questions import Asks
from solander.core.sentence import Sentence
from solander.core.statements import Says, Statement
from solander.tasks.collection import Collection
from solander.tasks.date import DateReader
from solander.tasks.identity import statement_identity

__all__ = ["read_again"]

_DATES = (Says.UNREAD_DATE, Says.EXPOSURE, Says.PRINTING)


def read_again(
    collection: Collection,
    work: Work,
    *,
    before: DateReader,
    now: DateReader,
    said: Sequence[Statement] | None = None,
) -> list[str]:
    """Restates every date that `before` gave and that is read otherwise `now`, and every one that waited to be
    understood and is; gives a sentence for each.

    `said` are the only statements that can be read otherwise, where that is known; else all are gone through.
    A date that was not read from its words, or was corrected since, stays as it is. What changes the reader is
    written in the same `work`, so that no crash can leave dates behind that were read by what holds no more.
    """
    changed = list(_read_otherwise(collection, before, now, said)) if now != before else []
    known = {each.id for each in collection.catalogue.statements(withdrawn=True)} if changed else set()
    for old, reading in changed:
        work.withdraw(old.id)
        new = _restated(old, reading)
        work.state(evolve(new, id=statement_identity(new, taken=known)))
        _settle_waiting(collection, work, old)
    return [_told(old, reading) for old, reading in changed]


def _read_otherwise(
    collection: Collection, before: DateReader, now: DateReader, among: Sequence[Statement] | None
) -> Iterator[tuple[Statement, Reading]]:
    for said in collection.catalogue.statements() if among is None else among:
        if said.says not in _DATES or not now.may_read_otherwise(said.words, before):
            continue
        if said.says is Says.UNREAD_DATE:
            new = now(said.words).readings
            if new:
                yield said, new[0]
        else:
            old, new = before(said.words).readings, now(said.words).readings
            if old and new and old[0].edtf == said.value != new[0].edtf:
                yield said, new[0]


def _restated(old: Statement, reading: Reading) -> Statement:
    says = Says.PRINTING if reading.bounds == "printing" else Says.EXPOSURE
    return evolve(old, says=says, value=reading.edtf, sure=reading.sure, entered=utc_now())


def _settle_waiting(collection: Collection, work: Work, old: Statement) -> None:
    """Asks no more about words that are understood now."""
    if old.says is Says.UNREAD_DATE:
        for question in collection.catalogue.questions():
            about_it = question.subject == old.subject and f"“{old.words}”" in question.sentence
            if question.asks is Asks.WORDS and about_it:
                work.settle(question.key)


def _told(old: Statement, reading: Reading) -> str:
    message = (
        marked("%(print)s: “%(words)s” was read as %(before)s, now %(now)s")
        if old.value
        else marked("%(print)s: “%(words)s” was not understood, now it is %(now)s")
    )
    before = Dated(old.value) if old.value else ""
    return Sentence(message, print=old.subject, words=old.words, before=before, now=Dated(reading.edtf))
