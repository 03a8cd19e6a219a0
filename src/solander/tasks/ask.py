"""Puts a question into the queue, once however often it comes up."""

from __future__ import annotations

import hashlib

from solander.catalogue.history import utc_now
from solander.catalogue.work import Work
from solander.core.questions import Asks, Question

__all__ = ["ask"]


def ask(work: Work, asks: Asks, subject: str, sentence: str) -> None:
    """Asks about `subject`; the same sentence about the same subject is one question."""
    key = hashlib.sha256(f"{asks}\n{subject}\n{sentence}".encode()).hexdigest()[:16]
    work.ask(Question(key, asks, subject, sentence, utc_now()))
