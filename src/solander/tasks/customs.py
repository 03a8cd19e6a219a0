"""Changes how the people of a collection write dates."""

from __future__ import annotations

import json

from attrs import asdict, evolve

from solander.core.customs import Customs
from solander.core.sentence import Sentence
from solander.tasks.collection import Collection
from solander.tasks.date import CUSTOMS_KEY, date_reader
from solander.tasks.put_in_order import ask_about_contradictions
from solander.tasks.read_again import read_again

__all__ = ["change_customs"]


def change_customs(collection: Collection, customs: Customs, *, who: str = "archivist") -> list[str]:
    """Goes by new customs from now on, and reads again what was read by the old ones.

    Gives a sentence for each date that changed; all of it is one act that undo takes back.
    """
    before = date_reader(collection.catalogue)
    with collection.catalogue.act(who, Sentence("changed how dates are read")) as act:
        with act.work() as work:
            work.set(CUSTOMS_KEY, json.dumps(asdict(customs)))
            changed = read_again(collection, work, before=before, now=evolve(before, customs=customs))
            work.commit()
        ask_about_contradictions(collection, act)
    return changed
