"""Whether two prints that look alike are one print that was captured twice, answered by a person."""

from __future__ import annotations

import re
from collections.abc import Iterable

from attrs import evolve

from solander.core.errors import NotFound
from solander.core.prints import Side
from solander.core.questions import Asks, Question
from solander.core.sentence import Sentence
from solander.core.statements import About, Statement
from solander.tasks.collection import Collection
from solander.tasks.put_in_order import ask_about_contradictions
from solander.tasks.said_anew import say_all
from solander.tasks.voices import FIELD_OF

__all__ = ["one_print", "prints_asked_about"]

_ASKED = re.compile(r"(\S+) looks like (\S+): ")


def prints_asked_about(question: Question) -> tuple[str, ...]:
    """The numbers of the two prints, the one that was there first before the other; none of another question."""
    asked = _ASKED.match(str(question.sentence)) if question.asks is Asks.DUPLICATE else None
    return (asked[2], asked[1]) if asked else ()


def one_print(collection: Collection, key: str, keep: str, *, who: str = "archivist") -> int | None:
    """Makes one print of the two that a question asks about; the act's number.

    The picture of `keep` stays in use, and what was said of the other is said of it. A back that only the other
    has becomes its back. All captures stay, and undo brings the other print back.

    Raises
    ------
    NotFound
        When the question waits no more, or one of the prints is not there.
    """
    catalogue = collection.catalogue
    question = catalogue.question(key)
    pair = prints_asked_about(question) if question else ()
    if keep not in pair:
        raise NotFound(
            Sentence("This question does not wait any more"),
            Sentence("it was answered meanwhile"),
            Sentence("Go on to the next"),
        )
    kept, gone = (catalogue.print(one) for one in sorted(pair, key=lambda one: one != keep))
    brings_back = gone.verso is not None and kept.verso is None
    what = Sentence("said that %(gone)s is %(keep)s, captured twice", gone=gone.accession, keep=keep)
    with catalogue.act(who, what) as act:
        with act.work() as work:
            work.settle(key)
            if not brings_back:
                said = _described(catalogue.statements(subject=gone.accession))
                there = {_claim(one) for one in catalogue.statements(subject=keep)}
                say_all(catalogue, work, [evolve(one, subject=keep) for one in said if _claim(one) not in there])
            for view in gone.views:
                if not (brings_back and view.side is Side.VERSO):
                    work.take_out_view(gone.accession, view)
            if brings_back:
                work.join_back(gone.accession, keep)
            work.commit()
        ask_about_contradictions(collection, act, only_near=True)
    return act.number


def _described(said: Iterable[Statement]) -> list[Statement]:
    """What describes the print, and not where it lies."""
    return [one for one in said if one.about is About.PRINT and one.says in FIELD_OF]


def _claim(said: Statement) -> tuple[str, ...]:
    return said.says, said.value, said.words, said.sure, said.source
