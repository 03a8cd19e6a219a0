"""Dates as archives write them (EDTF, ISO 8601-2), the days that they allow, and their words."""

from __future__ import annotations

from solander.core.dates.edtf import Bounds, Edtf, End, Form, Moment, Span
from solander.core.dates.forms import edtf_of_range, truncated
from solander.core.dates.gedcom import GedcomDate, read_gedcom_date
from solander.core.dates.gedcom_writing import GedcomPayload, gedcom_date_of
from solander.core.dates.parse import parse_edtf
from solander.core.dates.told import Dated, Days
from solander.core.dates.words import age_words, range_words, words
from solander.core.days import day, day_text, from_day

__all__ = [
    "Bounds",
    "Dated",
    "Days",
    "Edtf",
    "End",
    "Form",
    "GedcomDate",
    "GedcomPayload",
    "Moment",
    "Span",
    "age_words",
    "day",
    "day_text",
    "edtf_of_range",
    "from_day",
    "gedcom_date_of",
    "parse_edtf",
    "range_words",
    "read_gedcom_date",
    "truncated",
    "words",
]
