"""Dates as people say and write them, read into EDTF by a grammar with one table a language."""

from __future__ import annotations

from solander.core.phrases.read import read_date
from solander.core.phrases.records import DatePhrase, Reading

__all__ = ["DatePhrase", "Reading", "read_date"]
