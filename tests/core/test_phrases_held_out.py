"""The held-out examination: phrases written by someone who had not seen the grammar."""

from __future__ import annotations

import csv
import datetime
import re
from collections import Counter
from functools import cache
from pathlib import Path

import pytest

from solander.core.dates import day_text
from solander.core.phrases import read_date

TODAY = datetime.date(2026, 11, 25)

with (Path(__file__).parent / "data" / "held-out-phrases.csv").open(encoding="utf-8", newline="") as table:
    PHRASES = list(csv.DictReader(table))


def is_right(row):
    """The first reading has the days and the qualifier of the row, as in test_phrases.py."""
    readings = read_date(row["phrase"], language=row["language"], today=TODAY).readings
    if not readings:
        return not row["edtf"]
    first = readings[0]
    span = tuple("" if end is None else day_text(end) for end in (first.earliest, first.latest))
    accepted = [(row["earliest"], row["latest"])]
    accepted += [tuple(other.strip().split("/")) for other in row["also"].split("|") if other.strip()]
    return span in accepted and "".join(sorted(set(re.findall("[?~%]", first.edtf)))) == row["qualifier"]


@cache
def shares():
    asked = Counter(row["language"] for row in PHRASES)
    right = Counter(row["language"] for row in PHRASES if is_right(row))
    return {language: (right[language], asked[language]) for language in asked}


@pytest.mark.parametrize("language", sorted({row["language"] for row in PHRASES}))
def test_held_out_phrases_are_read_right(language):
    right, asked = shares()[language]
    assert right >= asked - 1


@pytest.mark.parametrize("row", [row for row in PHRASES if row["unread"]], ids=lambda row: row["phrase"])
def test_what_is_no_date_is_given_back(row):
    unused = " ".join(read_date(row["phrase"], language=row["language"], today=TODAY).unused).split()
    assert set(re.findall(r"[^\W\d_]+", row["unread"])) <= set(unused)
