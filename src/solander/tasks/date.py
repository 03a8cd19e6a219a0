"""Dates out of phrases and EDTF values, for the command line and the pages."""

from __future__ import annotations

from datetime import UTC, datetime

from solander.core.phrases import DatePhrase, read_date

__all__ = ["read_today"]


def read_today(phrase: str, *, language: str | None = None) -> DatePhrase:
    """The readings of a phrase, best first, as of today."""
    return read_date(phrase, language=language, today=datetime.now(UTC).date())
