"""Which front a back belongs to, answered by a person."""

from __future__ import annotations

from collections.abc import Sequence

from solander.core.errors import NotFound
from solander.core.prints import Print
from solander.core.questions import Asks, Question
from solander.core.sentence import Sentence
from solander.tasks.collection import Collection

__all__ = ["fronts_for", "join_sides"]

_OFFERED = 3


def fronts_for(collection: Collection, accession: str) -> Sequence[Print]:
    """Prints without a back that lie nearest a back by itself, those before it first: a back mostly comes next."""
    beside = collection.catalogue.prints_beside(accession)
    own = next((one.number for one in beside if one.accession == accession), 0)
    alone = (one for one in beside if one.recto and not one.verso and one.accession != accession)
    return sorted(alone, key=lambda one: (abs(one.number - own), one.number > own))[:_OFFERED]


def join_sides(collection: Collection, key: str, front: str, *, who: str = "archivist") -> int | None:
    """Makes the print that a question asks about the back of another; the act's number.

    Raises
    ------
    NotFound
        When the question waits no more, or one of the prints is not there.
    Trouble
        When the other has a back already.
    """
    question = _waiting(collection, key)
    what = Sentence("%(subject)s is the back of %(front)s", subject=question.subject, front=front)
    with collection.catalogue.act(who, what) as act, act.work() as work:
        work.settle(key)
        work.join_back(question.subject, front)
        work.commit()
    return act.number


def _waiting(collection: Collection, key: str) -> Question:
    question = collection.catalogue.question(key)
    if question is None or question.asks is not Asks.PAIR:
        raise NotFound(
            Sentence("This question does not wait any more"),
            Sentence("it was answered meanwhile"),
            Sentence("Go on to the next"),
        )
    return question
