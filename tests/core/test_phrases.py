"""Phrases against the table of examples, feasts against published days, and what must never happen."""

from __future__ import annotations

import csv
import datetime
import re
import unicodedata
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from solander.core.dates import day_text, parse_edtf
from solander.core.days import day, weekday
from solander.core.errors import InvalidValue
from solander.core.phrases import read_date
from solander.core.phrases.feasts import FEASTS, easter, feast_day, orthodox_easter
from solander.core.phrases.languages import LANGUAGES
from solander.core.phrases.lexicon import lexicon
from solander.core.statements import Sure

TODAY = datetime.date(2026, 11, 25)

# From shared/standards/date-phrases.csv, unchanged.
with (Path(__file__).parent / "data" / "date-phrases.csv").open(encoding="utf-8", newline="") as table:
    PHRASES = list(csv.DictReader(table))


def read(phrase, **how):
    return read_date(phrase, today=TODAY, **how)


def edtf_of(phrase, **how):
    return [reading.edtf for reading in read(phrase, **how).readings]


def span(reading):
    return tuple("" if end is None else day_text(end) for end in (reading.earliest, reading.latest))


@pytest.mark.parametrize("told", [True, False], ids=["told", "untold"])
@pytest.mark.parametrize("row", PHRASES, ids=[row["phrase"] for row in PHRASES])
def test_example(row, told):
    first = read(row["phrase"], language=row["language"] if told else None).readings[0]
    accepted = [(row["earliest"], row["latest"])]
    accepted += [tuple(other.strip().split("/")) for other in row["also"].split("|") if other.strip()]
    assert span(first) in accepted
    assert "".join(sorted(set(re.findall("[?~%]", first.edtf)))) == row["qualifier"]
    assert parse_edtf(first.edtf) == parse_edtf(row["edtf"])


@pytest.mark.parametrize(
    ("phrase", "edtf"),
    [
        ("nineteen fifty-two", "1952"),
        ("nineteen oh five", "1905"),
        ("Twenty-first of June nineteen fifty", "1950-06-21"),
        ("summer fifty-eight", "1958-22"),
        ("seventy-two, no, seventy-three", "1973"),
        ("summer seventy-two, no, seventy-three", "1973-22"),
        ("July 1950, no, August", "1950-08"),
        ("er, about, um, nineteen sixty-one I think", "1961%"),
        ("June or July 1950", "[1950-06,1950-07]"),
        ("between March and May 1948", "[1948-03..1948-05]"),
        ("3 or 4 July 1948", "[1948-07-03,1948-07-04]"),
        ("Aug 12 or 13 1950", "[1950-08-12,1950-08-13]"),
        ("3-4 July 1950", "[1950-07-03..1950-07-04]"),
        ("Xmas 1950 or 1951", "[1950-12-25~,1951-12-25~]"),
        ("1948-52", "[1948..1952]"),
        ("1914-18", "[1914..1918]"),
        ("from 1948 to 1952", "[1948..1952]"),
        ("between 48 and 52", "[1948..1952]"),
        ("62", "1962"),
        ("July", "XXXX-07"),
        ("3 July", "XXXX-07-03"),
        ("Boxing Day", "XXXX-12-26"),
        ("the nineteen-fifties", "195X"),
        ("early fifties", "[1950..1953]"),
        ("19th century", "18XX"),
        ("c. 1963?", "1963%"),
        ("1963 or earlier", "[..1963]"),
        ("winter 62/63", "1962-24"),
        ("Sunday 3rd July 1948", "1948-07-03"),
        ("1948-07-03", "1948-07-03"),
        ("7/1948", "1948-07"),
        ("3.VII.1948", "1948-07-03"),
        ("early June 1950", "[1950-06-01..1950-06-10]"),
        ("late summer 1958", "1958-08"),
        ("the winter of 1962 to 63", "1962-24"),
        ("winter of 1946/47", "1946-24"),
        ("first half of 1950", "[1950-01..1950-06]"),
        ("second half of the fifties", "[1955..1959]"),
        ("Labor Day weekend 1955", "1955-09-05~"),
        ("from 1950 onwards", "[1950..]"),
        ("on or about 3 July 1948", "1948-07-03~"),
        ("week ending Aug 14 1954", "[1954-08-08..1954-08-14]"),
        ("14-Aug-49", "1949-08-14"),
        ("anni '50", "195X"),
        ("początek lat 50.", "[1950..1953]"),
        ("przed wojną", "[..1939-08]"),
        ("до войны", "[..1941-06-21]"),
        ("voor 1920", "[..1919]"),
        ("mellan 1948 och 1952", "[1948..1952]"),
        ("2nd week of July 1950", "[1950-07-08..1950-07-14]"),
        ("neunzehnhundertzweiundfünfzig", "1952"),
        ("Anfang der 50er Jahre", "[1950..1953]"),
        ("bis 1945", "[..1945]"),
        ("mille neuf cent cinquante-deux", "1952"),
        ("début des années 50", "[1950..1953]"),
        ("verano de 1958", "1958-22"),
        ("Natale 1955", "1955-12-25~"),
        ("Páscoa 1950", "1950-04-09~"),
        ("jaren vijftig", "195X"),
        ("på 50-talet", "195X"),
        ("i slutten av 1940-årene", "[1947..1949]"),
        ("1950'erne", "195X"),
        ("12 maja 1936", "1936-05-12"),
        ("в 1950-х годах", "195X"),
        ("12 мая 1936 г.", "1936-05-12"),
        ("[1948..1952]", "[1948..1952]"),
    ],
)
def test_ours(phrase, edtf):
    """Phrases of our own, common practice without a source."""
    found = read(phrase)
    assert found.readings[0].edtf == edtf
    assert found.unused == ()


@pytest.mark.parametrize(
    "phrase",
    [
        *("", "Nan", "Aunt May", "May and Bill", "when Nan was about six", "aged about 30", "about 25 years ago"),
        *("between 20 and 30 people", "Kodachrome 1234 5678", "31 June 1950", "31/2/50", "30 Feb 1950", "Easter"),
        *("house no. 12", "1/2", "💐", "2999", "1700"),
    ],
)
def test_no_date_is_invented(phrase):
    assert read(phrase).readings == ()


def test_unread_words_are_returned():
    assert read("Nan and Bill, Blackpool 1952").unused == ("Nan", "and", "Bill", "Blackpool")
    assert read("Nan? 1952").readings[0].edtf == "1952"


def test_both_orders_of_a_numeric_date():
    assert edtf_of("3/7/48") == ["[1948-03-07,1948-07-03]", "1948-03-07", "1948-07-03"]
    assert edtf_of("3/7/48", day_first=True) == ["1948-07-03"]
    assert edtf_of("3/7/48", day_first=False) == ["1948-03-07"]
    assert edtf_of("3/7/48", language="de") == ["1948-07-03"]
    assert edtf_of("3/3/48") == ["1948-03-03"]


def test_the_other_war():
    assert edtf_of("before the war") == ["[..1939-08]", "[..1914-07]"]


def test_two_digit_years_follow_the_era_of_the_collection():
    assert edtf_of("summer 58") == ["1958-22"]
    assert edtf_of("summer 58", first_year=1850) == ["1858-22"]
    assert edtf_of("summer 26", first_year=1950) == ["2026-22"]
    assert edtf_of("Dec. '26", first_year=1950) == ["1926-12"]
    assert edtf_of("summer 27", first_year=1950) == ["1927-22"]


@pytest.mark.parametrize(
    ("phrase", "bounds"),
    [
        ("WEEK OF JUL 12 1965", "printing"),
        ("AUG 67", "printing"),
        ("JUL . 63", "printing"),
        ("• MAY • 66", "printing"),
        ("DEVELOPED SEP 1959", "printing"),
        ("developed sept 1959", "printing"),
        ("PROCESSED BY A.B. LTD JUN 1965", "printing"),
        ("65 JUN", "printing"),
        ("JUN-65", "printing"),
        ("Aug 67", "exposure"),
        ("SUMMER 1958", "exposure"),
        ("NAN AND BILL AUG 67", "exposure"),
    ],
)
def test_stamps_bound_the_printing(phrase, bounds):
    assert read(phrase).readings[0].bounds == bounds


@pytest.mark.parametrize(
    ("phrase", "edtf"),
    [
        ("postmarked 12 July 1931", "[..1931-07-12]"),
        ("posted 1931", "[..1931]"),
        ("Poststempel 3.8.1916", "[..1916-08-03]"),
        ("gelaufen 1912", "[..1912]"),
        ("cachet de la poste 14 juillet 1908", "[..1908-07-14]"),
        ("timbro postale 1915", "[..1915]"),
        ("poststämplat 1905", "[..1905]"),
        ("datownik 3 maja 1933", "[..1933-05-03]"),
    ],
)
def test_a_postmark_is_not_earlier_than_its_picture(phrase, edtf):
    """A card was photographed and printed before it was posted (common practice, no source)."""
    found = read(phrase)
    assert (found.readings[0].edtf, found.unused) == (edtf, ())


def test_said_doubt_is_kept():
    assert [read(phrase).readings[0].sure for phrase in ("1952", "c. 1952", "1952?", "before the war")] == [
        Sure.CERTAIN,
        Sure.LIKELY,
        Sure.GUESS,
        Sure.LIKELY,
    ]


def test_unknown_language_is_refused():
    with pytest.raises(InvalidValue, match="xx"):
        read("1952", language="xx")
    assert edtf_of("17. mai 1950", language="nb-NO") == ["1950-05-17"]


# -- what must never happen ---------------------------------------------------------------------------------

words = st.sampled_from(
    [
        *("about", "ca", "?", "1952", "'52", "52", "3", "3rd", "July", "summer", "winter", "Easter", "Xmas"),
        *("or", "and", "to", "-", "between", "before", "after", "not later than", "early", "late", "1950s"),
        *("fifties", "no", "Nan", "the", "of", "3/7/48", "12.5.36", "1962-63", "AUG", "WEEK OF", "DEVELOPED"),
        *("war", "Ostern", "um", "été", "(", ")", "~", "31", "February", "XII", "III", "29", "2nd", "week of"),
        *("turn of the century", "seventy", "two", "nineteen", "0", "00", "9999", "99999", "AUG 12", "1908-12"),
    ]
)


@given(
    st.text(max_size=60) | st.lists(words, max_size=9).map(" ".join),
    st.sampled_from([None, *LANGUAGES]),
    st.integers(1830, 1980),
)
def test_any_text(phrase, language, first_year):
    found = read(phrase, language=language, first_year=first_year)
    for reading in found.readings:
        bounds = parse_edtf(reading.edtf).bounds()
        assert (bounds.earliest, bounds.latest) == (reading.earliest, reading.latest)
    for word in found.unused:
        assert word in unicodedata.normalize("NFC", phrase)


@given(
    st.integers(0, 99),
    st.sampled_from(["summer {:02d}", "Xmas '{:02d}", "AUG {:02d}", "31/12/{:02d}", "c. '{:02d}", "{:02d}"]),
    st.integers(1830, 2026),
    st.dates(datetime.date(2026, 1, 1), datetime.date(2060, 12, 31)),
)
def test_two_digit_years_never_lie_after_today(number, form, first_year, today):
    for reading in read_date(form.format(number), first_year=first_year, today=today).readings:
        if "XXXX" not in reading.edtf:
            assert reading.earliest <= today.toordinal()


# -- feasts -------------------------------------------------------------------------------------------------

# Western and Orthodox Easter Sundays as published in church calendars; from memory.
EASTERS = [
    (1900, "04-15"),
    (1913, "03-23"),
    (1938, "04-17"),
    (1943, "04-25"),
    (1950, "04-09"),
    (1951, "03-25"),
    (1954, "04-18"),
    (1961, "04-02"),
    (1981, "04-19"),
    (2000, "04-23"),
    (2008, "03-23"),
    (2011, "04-24"),
    (2024, "03-31"),
]


@pytest.mark.parametrize(("year", "date"), EASTERS)
def test_easter(year, date):
    assert day_text(easter(year)) == f"{year}-{date}"


@pytest.mark.parametrize(("year", "date"), [(2000, "04-30"), (2016, "05-01"), (2021, "05-02"), (2024, "05-05")])
def test_orthodox_easter(year, date):
    assert day_text(orthodox_easter(year)) == f"{year}-{date}"


@pytest.mark.parametrize(
    ("name", "year", "date"),
    [
        # shared/standards/date-phrases.csv
        ("whitsun", 1953, "05-24"),
        ("august bank holiday", 1938, "08-01"),
        ("thanksgiving", 1957, "11-28"),
        ("swedish midsummer", 1961, "06-24"),
        # from memory
        ("thanksgiving", 1939, "11-23"),
        ("thanksgiving", 1935, "11-28"),
        ("august bank holiday", 1968, "09-02"),
        ("august bank holiday", 1975, "08-25"),
        ("good friday", 1950, "04-07"),
        ("advent", 2023, "12-03"),
        ("advent", 2022, "11-27"),
        ("queens day", 1948, "08-31"),
        ("mothers day", 1950, "05-14"),
        ("labor day", 1950, "09-04"),
    ],
)
def test_feast(name, year, date):
    assert day_text(feast_day(name, year)) == f"{year}-{date}"


@pytest.mark.parametrize("name", FEASTS)
def test_every_feast_lies_in_its_year(name):
    for year in range(1900, 2100):
        assert day(year, 1, 1) <= feast_day(name, year) <= day(year, 12, 31)


@given(st.integers(1583, 4000))
def test_easter_is_a_sunday_of_spring(year):
    assert weekday(easter(year)) == 6
    assert day(year, 3, 22) <= easter(year) <= day(year, 4, 25)


@pytest.mark.parametrize("code", sorted({table.code for table in LANGUAGES.values()}))
def test_every_table_names_known_feasts_and_its_own_months_and_seasons(code):
    table = LANGUAGES[code]
    assert {name.rstrip("~") for name in table.feasts} <= FEASTS.keys()
    assert len(table.months) == 12
    for number, names in enumerate(table.months, 1):
        for name in names.split("|"):
            assert edtf_of(f"3. {name} 1936", language=code)[0] == f"1936-{number:02d}-03"
    for number, names in enumerate(table.seasons, 21):
        for name in names.split("|"):
            assert edtf_of(f"{name} 1936", language=code)[0] == f"1936-{number}"
    for name, names in table.feasts.items():
        for word in names.split("|"):
            assert edtf_of(f"{word} 1936", language=code)[0] == day_text(
                feast_day(name.rstrip("~"), 1936)
            ) + "~" * name.endswith("~"), word
    assert lexicon(table) is lexicon(table)
