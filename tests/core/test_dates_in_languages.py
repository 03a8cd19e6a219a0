"""Dates in German and French: as they are written, and understood again by the grammar that reads dates.

That grammar was written apart from the writer and shares none of its tables.
"""

from __future__ import annotations

from datetime import date

import pytest
from babel import Locale
from hypothesis import given, settings
from hypothesis import strategies as st

from solander.core.dates import parse_edtf, range_words, words
from solander.core.dates.tongues import TONGUES
from solander.core.days import day
from solander.core.errors import InvalidValue
from solander.core.phrases import read_date

TODAY = date(2026, 11, 26)


@pytest.mark.parametrize("code", TONGUES)
def test_months_are_those_of_the_unicode_locale_data(code):
    """CLDR, by way of Babel."""
    months = Locale(code).months["format"]["wide"]
    assert TONGUES[code].months == tuple(months[number] for number in range(1, 13))


@pytest.mark.parametrize(
    ("edtf", "german", "french"),
    [
        ("1948-03-01", "1. März 1948", "1er mars 1948"),
        ("1958-22", "Sommer 1958", "été 1958"),
        ("1932-24", "Winter 1932–33", "hiver 1932–33"),
        ("195X", "die 1950er Jahre", "les années 1950"),
        ("1963~", "etwa 1963", "vers 1963"),
        ("1941?", "vielleicht 1941", "peut-être 1941"),
        (
            "[1948-03-07..1948-05-03]",
            "zwischen dem 7. März und dem 3. Mai 1948",
            "entre le 7 mars et le 3 mai 1948",
        ),
        ("[..1950]", "vor 1951", "avant 1951"),
        ("[1950-04-02..]", "nach dem 1. April 1950", "après le 1er avril 1950"),
        ("[195X..1962]", "zwischen den 1950er Jahren und 1962", "entre les années 1950 et 1962"),
        ("1948-04-07/..", "vom 7. April 1948 an", "à partir du 7 avril 1948"),
        ("1958-22/1960-23", "vom Sommer 1958 bis zum Herbst 1960", "de l’été 1958 à l’automne 1960"),
        ("1948-04/1950", "von April 1948 bis 1950", "d’avril 1948 à 1950"),
        ("-0043-03-15", "15. März 44 v. Chr.", "15 mars 44 av. J.-C."),
        ("{1948-03-07,1948-03-09}", "7. und 9. März 1948", "7 et 9 mars 1948"),
    ],
)  # fmt: skip
def test_dates_are_written_as_german_and_french_grammars_ask(edtf, german, french):
    """Articles and cases from memory."""
    assert (words(edtf, "de"), words(edtf, "fr")) == (german, french)


SIMPLE = st.one_of(
    st.builds("{:04d}".format, st.integers(1840, 2020)),
    st.builds("{:04d}-{:02d}".format, st.integers(1840, 2020), st.integers(1, 12)),
    st.builds("{:04d}-{:02d}-{:02d}".format, st.integers(1840, 2020), st.integers(1, 12), st.integers(1, 28)),
    st.builds("{:04d}-{:02d}".format, st.integers(1840, 2020), st.integers(21, 24)),
    st.builds("{:03d}X".format, st.integers(184, 201).filter(lambda decade: decade % 10)),
)
RANGE = st.lists(SIMPLE, min_size=2, max_size=2).map(sorted).filter(lambda pair: pair[0][:4] < pair[1][:4])
VALUE = st.one_of(
    SIMPLE, SIMPLE.map("{}~".format), SIMPLE.map("{}?".format), RANGE.map(lambda two: f"[{two[0]}..{two[1]}]")
)


@pytest.mark.parametrize("code", ["de", "fr"])
@settings(deadline=None, max_examples=60)
@given(value=VALUE)
def test_what_is_written_is_understood_again(code, value):
    found = read_date(words(value, code), language=code, today=TODAY)
    assert found.unused == ()
    assert parse_edtf(found.readings[0].edtf).bounds() == parse_edtf(value).bounds()


def test_worked_out_ranges_are_told_in_the_language_too():
    assert range_words(day(1948, 1, 1), day(1952, 12, 31), "de") == "zwischen 1948 und 1952"
    assert range_words(None, day(1950, 12, 31), "fr") == "avant 1951"


def test_a_language_that_is_not_there_is_refused():
    with pytest.raises(InvalidValue, match="tlh"):
        words("1948", "tlh")
