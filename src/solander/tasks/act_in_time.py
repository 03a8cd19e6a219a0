"""One act by which a person changes when prints may have been taken, with the questions that it raises."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from solander.catalogue.store import Act
from solander.catalogue.work import Work
from solander.tasks.collection import Collection
from solander.tasks.put_in_order import ask_about_contradictions

__all__ = ["act_in_time"]


@contextmanager
def act_in_time(collection: Collection, who: str, what: str) -> Iterator[tuple[Act, Work]]:
    """Keeps together what is written within, then asks about what can't be true together any more, and no more
    about what can. Where very many prints are tied to those that it touched, nobody waits for that: they are
    marked when the whole order was worked out.
    """
    with collection.catalogue.act(who, what) as act:
        with act.work() as work:
            yield act, work
            work.commit()
        ask_about_contradictions(collection, act, only_near=True)
