"""What two prints that look alike are, answered by a person: one print captured twice, or two of one negative."""

from __future__ import annotations

import re

from attrs import evolve

from solander.core.errors import NotFound
from solander.core.negatives import ties_to
from solander.core.questions import Asks, Question
from solander.core.sentence import Sentence
from solander.core.statements import About, Says, Statement, Sure
from solander.tasks.collection import Collection
from solander.tasks.put_in_order import ask_about_contradictions
from solander.tasks.said_anew import say_all

__all__ = [
    "duplicate_sentence",
    "not_one_negative",
    "one_negative",
    "prints_asked_about",
    "still_asked",
    "tied",
]

_ASKED = re.compile(
    r"(\S+) (?:looks like|seems to (?:be another print of|show a part of|be)) (\S+?)(?::| the wrong)"
)


def duplicate_sentence(later: str, earlier: str) -> Sentence:
    """What is asked about two pictures that seem to be of one print."""
    return Sentence(
        "%(later)s looks like %(earlier)s: is it one print, captured twice?", later=later, earlier=earlier
    )


def prints_asked_about(question: Question) -> tuple[str, ...]:
    """The numbers of the two prints, the one that was there first before the other; none of another question."""
    asked = _ASKED.match(str(question.sentence)) if question.asks is Asks.DUPLICATE else None
    if asked is None:
        return ()
    return (asked[2], asked[1]) if asked[1] == question.subject else (asked[1], asked[2])


def one_negative(collection: Collection, key: str, *, who: str = "archivist") -> int | None:
    """Says that the two prints that a question asks about are of one negative; the act's number.

    Both stay prints of their own, each with its paper and its printing; the picture was taken once, and what is
    said of it on the one is said of it on the other.

    Raises
    ------
    NotFound
        When the question waits no more, or one of the prints is not there.
    """
    catalogue = collection.catalogue
    pair = still_asked(collection, key)
    earlier, later = (catalogue.print(one).accession for one in pair)
    what = Sentence("said that %(later)s and %(earlier)s are prints of one negative", later=later, earlier=earlier)
    with catalogue.act(who, what) as act:
        with act.work() as work:
            work.settle(key)
            said = Statement("", About.PRINT, later, Says.NEGATIVE, earlier, "", Sure.CERTAIN, who, "")
            say_all(catalogue, work, [tied(said, later, earlier)])
            work.commit()
        ask_about_contradictions(collection, act, only_near=True)
    return act.number


def not_one_negative(collection: Collection, one: str, other: str, *, who: str = "archivist") -> int | None:
    """Takes back that `other` is of the negative of `one`, also where a third print ties them: it leaves `one` and
    all that are tied to it without it; the act's number.

    Raises
    ------
    NotFound
        When nobody says so.
    """
    catalogue = collection.catalogue
    said = ties_to(catalogue.of_one_negative(), one, leaving=other)
    if not said:
        raise NotFound(
            Sentence("Nothing was taken back"),
            Sentence("nobody says that %(one)s and %(other)s are of one negative", one=one, other=other),
            Sentence("Look at the print again"),
        )
    what = Sentence("said that %(one)s and %(other)s are not of one negative", one=one, other=other)
    with catalogue.act(who, what) as act:
        with act.work() as work:
            work.withdraw_all(each.id for each in said)
            work.commit()
        ask_about_contradictions(collection, act, only_near=True)
    return act.number


def still_asked(collection: Collection, key: str, keep: str | None = None) -> tuple[str, ...]:
    """The prints that a question asks about.

    Raises
    ------
    NotFound
        When it waits no more, asks about no such thing, or not about `keep`.
    """
    question = collection.catalogue.question(key)
    pair = prints_asked_about(question) if question else ()
    if not pair or keep not in (None, *pair):
        raise NotFound(
            Sentence("This question does not wait any more"),
            Sentence("it was answered meanwhile"),
            Sentence("Go on to the next"),
        )
    return pair


def tied(said: Statement, one: str, other: str) -> Statement:
    """The same tie of one negative, of these two prints."""
    return evolve(said, subject=one, value=other, words=f"of one negative with {other}")
