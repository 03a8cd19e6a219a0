"""Changes how the people of a collection write dates, and reads again what was read otherwise."""

from __future__ import annotations

import json
from collections.abc import Iterator

from attrs import asdict, evolve

from solander.catalogue.history import utc_now
from solander.core.customs import Customs
from solander.core.phrases import Reading
from solander.core.statements import Says, Statement
from solander.tasks.collection import Collection
from solander.tasks.date import CUSTOMS_KEY, DateReader, date_reader
from solander.tasks.identity import statement_identity
from solander.tasks.put_in_order import ask_about_contradictions

__all__ = ["change_customs"]


def change_customs(collection: Collection, customs: Customs, *, who: str = "archivist") -> list[str]:
    """Goes by new customs from now on, and reads again what was read by the old ones.

    Gives a sentence for each date that changed. A date that was not read from words, or was corrected since,
    stays as it is; all of it is one act that undo takes back.
    """
    before = date_reader(collection.catalogue)
    with collection.catalogue.act(who, "changed how dates are read") as act:
        with act.work() as work:
            work.set(CUSTOMS_KEY, json.dumps(asdict(customs)))
            work.commit()
        changed = list(_read_otherwise(collection, before, date_reader(collection.catalogue)))
        with act.work() as work:
            for old, reading in changed:
                work.withdraw(old.id)
                work.state(_restated(collection, old, reading))
            work.commit()
        ask_about_contradictions(collection, act)
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
