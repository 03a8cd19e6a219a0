"""What two prints that look alike are, answered by a person: one print captured twice, or two of one negative."""

from __future__ import annotations

import re
from collections.abc import Iterable

from attrs import evolve

from solander.catalogue.queries import Reading
from solander.catalogue.work import Work
from solander.core.errors import NotFound
from solander.core.prints import Side
from solander.core.questions import Asks, Question
from solander.core.sentence import Sentence
from solander.core.statements import About, Says, Statement, Sure
from solander.tasks.collection import Collection
from solander.tasks.put_in_order import ask_about_contradictions
from solander.tasks.said_anew import say_all, say_instead
from solander.tasks.voices import FIELD_OF

__all__ = ["duplicate_sentence", "not_one_negative", "one_negative", "one_print", "prints_asked_about"]

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
    pair = _still_asked(collection, key)
    earlier, later = (catalogue.print(one).accession for one in pair)
    what = Sentence("said that %(later)s and %(earlier)s are prints of one negative", later=later, earlier=earlier)
    with catalogue.act(who, what) as act:
        with act.work() as work:
            work.settle(key)
            said = Statement("", About.PRINT, later, Says.NEGATIVE, earlier, "", Sure.CERTAIN, who, "")
            say_all(catalogue, work, [_tie(said, later, earlier)])
            work.commit()
        ask_about_contradictions(collection, act, only_near=True)
    return act.number


def not_one_negative(collection: Collection, one: str, other: str, *, who: str = "archivist") -> int | None:
    """Takes back that two prints are of one negative; the act's number.

    Raises
    ------
    NotFound
        When nobody says so.
    """
    catalogue = collection.catalogue
    both = {one, other}
    said = [each for each in catalogue.of_one_negative() if {each.subject, each.value} == both]
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


def _still_asked(collection: Collection, key: str, keep: str | None = None) -> tuple[str, ...]:
    """The prints that a question asks about; where it asks about no such thing, or not about `keep`, says so."""
    question = collection.catalogue.question(key)
    pair = prints_asked_about(question) if question else ()
    if not pair or keep not in (None, *pair):
        raise NotFound(
            Sentence("This question does not wait any more"),
            Sentence("it was answered meanwhile"),
            Sentence("Go on to the next"),
        )
    return pair


def one_print(collection: Collection, key: str, keep: str, *, who: str = "archivist") -> int | None:
    """Makes one print of the two that a question asks about; the act's number.

    The picture of `keep` stays in use, and what was said of the other is said of it, stories too; prints of the
    other's negative are prints of its negative. A back that only the other has becomes its back. All captures
    stay, and undo brings the other print back.

    Raises
    ------
    NotFound
        When the question waits no more, or one of the prints is not there.
    """
    catalogue = collection.catalogue
    pair = _still_asked(collection, key, keep)
    kept, gone = (catalogue.print(one) for one in sorted(pair, key=lambda one: one != keep))
    brings_back = gone.verso is not None and kept.verso is None
    what = Sentence("said that %(gone)s is %(keep)s, captured twice", gone=gone.accession, keep=keep)
    with catalogue.act(who, what) as act:
        with act.work() as work:
            work.settle(key)
            _tie_to(catalogue, work, gone.accession, keep)
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


def _tie(said: Statement, one: str, other: str) -> Statement:
    """The same tie, of these two prints."""
    return evolve(said, subject=one, value=other, words=f"of one negative with {other}")


def _tie_to(catalogue: Reading, work: Work, gone: str, keep: str) -> None:
    """Lets what ties other prints to the negative of `gone` tie them to `keep`."""
    ties = [one for one in catalogue.of_one_negative() if gone in (one.subject, one.value)]
    there = {frozenset((one.subject, one.value)) for one in catalogue.of_one_negative()}
    moved = [_tie(one, *(keep if each == gone else each for each in (one.subject, one.value))) for one in ties]
    new = {frozenset((one.subject, one.value)): one for one in moved if one.subject != one.value}
    say_instead(catalogue, work, ties, [one for both, one in new.items() if both not in there])


def _described(said: Iterable[Statement]) -> list[Statement]:
    """What describes the print, the stories told about it among it, and not where it lies."""
    return [one for one in said if one.about is About.PRINT and (one.says in FIELD_OF or one.says is Says.ACCOUNT)]


def _claim(said: Statement) -> tuple[str, ...]:
    return said.says, said.value, said.words, said.sure, said.source
