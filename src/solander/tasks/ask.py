"""Puts a question into the queue, once however often it comes up, and takes out what answered itself."""

from __future__ import annotations

import hashlib

from solander.catalogue.history import utc_now
from solander.catalogue.work import Work
from solander.core.questions import Asks, Question
from solander.tasks.collection import Collection

__all__ = ["ask", "settle"]


def ask(work: Work, asks: Asks, subject: str, sentence: str) -> None:
    """Asks about `subject`; the same sentence about the same subject is one question."""
    key = hashlib.sha256(f"{asks}\n{subject}\n{sentence}".encode()).hexdigest()[:16]
    work.ask(Question(key, asks, subject, sentence, utc_now()))


def settle(collection: Collection, work: Work, asks: Asks, subject: str) -> None:
    """Settles the questions of that kind about `subject`: what arrived since has answered them."""
    for question in collection.catalogue.questions():
        if question.asks is asks and question.subject == subject:
            work.settle(question.key)
