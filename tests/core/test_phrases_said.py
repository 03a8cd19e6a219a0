"""Phrases of our own in twelve languages, with and without a date; our reading is common practice, no source."""

from __future__ import annotations

import csv
import datetime
from pathlib import Path

import pytest

from solander.core.phrases import read_date
from solander.core.phrases.languages import LANGUAGES

TODAY = datetime.date(2026, 11, 25)

with (Path(__file__).parent / "data" / "said-phrases.csv").open(encoding="utf-8", newline="") as table:
    PHRASES = list(csv.DictReader(table))


def understood(row):
    found = read_date(row["phrase"], language=row["language"], today=TODAY)
    if not found.readings:
        return "", "", " ".join(found.unused)
    first = found.readings[0]
    return first.edtf, "printing" if first.bounds == "printing" else "", " ".join(found.unused)


@pytest.mark.parametrize("code", sorted({table.code for table in LANGUAGES.values()}))
def test_phrases(code):
    rows = [row for row in PHRASES if row["language"] == code]
    expected = {row["phrase"]: (row["edtf"], row["bounds"], row["unused"]) for row in rows}
    assert {row["phrase"]: understood(row) for row in rows} == expected


def test_untold_the_language_is_mostly_found():
    """Nine in ten; "durante la guerra" is Spanish as well as Italian, and 12/5/36 anybody's."""
    same = [
        read_date(row["phrase"], today=TODAY).readings
        == read_date(row["phrase"], language=row["language"], today=TODAY).readings
        for row in PHRASES
    ]
    assert sum(same) >= 0.9 * len(same)


@pytest.mark.parametrize(
    ("phrase", "language", "readings"),
    [
        # Another war than the family's.
        ("after the Korean War", "en", ["[1953-07-28..]"]),
        ("guerre d'Algérie", "fr", ["[1954-11-01..1962-03-19]"]),
        ("cold war", "en", []),
        ("the coronation, 1937", "en", ["1937-05-12"]),
        ("the war, 1943", "en", ["1943"]),
        ("the 1800s", "en", ["18XX", "180X"]),
        ("post-war", "en", ["[1945-05-09..]", "[1918-11-12..]"]),
        # A weekday before a feast is no feast.
        ("Sunday before Christmas 1950", "en", ["[1950-12-18..1950-12-24]"]),
        # Words that only an accent tells apart.
        ("dès 1950", "fr", ["[1950..]"]),
        ("photo des années 50", "fr", ["195X"]),
        ("vår 1952", "sv", ["1952-21"]),
        ("det var 1952", "sv", ["1952"]),
        # An age is no decade.
        ("in her twenties", "en", []),
        ("the twenties", "en", ["192X"]),
        # Christmas and July have one name, unless a stamp or a day tells.
        ("jul 1950", "no", ["1950-12-25~"]),
        ("3. jul 1950", "no", ["1950-07-03"]),
        ("JUL 63", "no", ["1963-07"]),
        # Before or after a feast of no year is any time.
        ("after summer", "en", []),
        # Several dates, the last of which is a range.
        ("1948 or 1950 to 1952", "en", ["[1948..1952]"]),
    ],
)
def test_traps(phrase, language, readings):
    found = read_date(phrase, language=language, today=TODAY)
    assert [reading.edtf for reading in found.readings] == readings
