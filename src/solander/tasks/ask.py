"""Puts a question into the queue, once however often it comes up, and takes out what answered itself."""

from __future__ import annotations

import hashlib
from collections.abc import Callable
from collections.abc import Collection as Several

from solander.catalogue.history import utc_now
from solander.catalogue.work import Work
from solander.core.questions import Asks, Question
from solander.tasks.collection import Collection

__all__ = ["ask", "question_key", "settle", "settle_others"]


def ask(work: Work, asks: Asks, subject: str, sentence: str) -> str:
    """Asks about `subject`, and gives the question's key; the same sentence about it is one question."""
    key = question_key(asks, subject, sentence)
    work.ask(Question(key, asks, subject, sentence, utc_now()))
    return key


def question_key(asks: Asks, subject: str, sentence: str) -> str:
    """The key of the question that asks this."""
    return hashlib.sha256(f"{asks}\n{subject}\n{sentence}".encode()).hexdigest()[:16]


def settle(collection: Collection, work: Work, asks: Asks, subject: str) -> None:
    """Settles the questions of that kind about `subject`: what arrived since has answered them."""
    for question in collection.catalogue.questions():
        if question.asks is asks and question.subject == subject:
            work.settle(question.key)


def settle_others(
    collection: Collection,
    work: Work,
    kinds: Several[Asks],
    *,
    asked: Several[str],
    about: Callable[[str], bool] = lambda _: True,
) -> None:
    """Settles the waiting questions of these kinds that were not asked again: a correction has answered them.

    `asked` holds the keys of those that were; `about` tells which subjects were looked at again.
    """
    for question in collection.catalogue.questions():
        if question.asks in kinds and question.key not in asked and about(question.subject):
            work.settle(question.key)
