"""Reads dates again when what they were read by has changed: customs, lives of people, dates of occasions."""

from __future__ import annotations

from collections.abc import Iterator

from attrs import evolve

from solander.catalogue.history import utc_now
from solander.catalogue.store import Act
from solander.core.phrases import Reading
from solander.core.statements import Says, Statement
from solander.tasks.collection import Collection
from solander.tasks.date import DateReader, date_reader
from solander.tasks.identity import statement_identity

__all__ = ["read_again"]


def read_again(collection: Collection, act: Act, before: DateReader) -> list[str]:
    """Restates every date that `before` gave and that is read otherwise now; gives a sentence for each.

    A date that was not read from its words, or was corrected since, stays as it is.
    """
    now = date_reader(collection.catalogue)
    if now == before:
        return []
    changed = list(_read_otherwise(collection, before, now))
    with act.work() as work:
        for old, reading in changed:
            work.withdraw(old.id)
            work.state(_restated(collection, old, reading))
        work.commit()
    return [f"{old.subject}: “{old.words}” was read as {old.value}, now {new.edtf}" for old, new in changed]


def _read_otherwise(
    collection: Collection, before: DateReader, now: DateReader
) -> Iterator[tuple[Statement, Reading]]:
    for said in collection.catalogue.statements():
        if said.says not in (Says.EXPOSURE, Says.PRINTING):
            continue
        old, new = before(said.words).readings, now(said.words).readings
        if old and new and old[0].edtf == said.value != new[0].edtf:
            yield said, new[0]


def _restated(collection: Collection, old: Statement, reading: Reading) -> Statement:
    says = Says.PRINTING if reading.bounds == "printing" else Says.EXPOSURE
    said = evolve(old, says=says, value=reading.edtf, sure=reading.sure, entered=utc_now())
    known = {each.id for each in collection.catalogue.statements(withdrawn=True)}
    return evolve(said, id=statement_identity(said, taken=known))
