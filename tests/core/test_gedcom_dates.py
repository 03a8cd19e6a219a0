"""Dates of family-tree files against the GEDCOM 7 grammar, check values, and by round trip."""

from __future__ import annotations

import csv
import re
import warnings
from itertools import pairwise
from pathlib import Path

import pytest
from convertdate import hebrew
from hypothesis import given
from hypothesis import strategies as st

from solander.core.dates import (
    day,
    day_text,
    from_day,
    gedcom_date_of,
    parse_edtf,
    read_gedcom_date,
)
from solander.core.dates.gedcom_calendars import MONTHS, Calendar, days_of
from solander.core.errors import InvalidValue

# From shared/standards/gedcom-dates.csv, unchanged: meanings from the FamilySearch GEDCOM 7 specification,
# conversions checked there with convertdate 2.5.1.
with (Path(__file__).parent / "data" / "gedcom-dates.csv").open(encoding="utf-8", newline="") as table:
    ROWS = list(csv.DictReader(table))
READ = [row for row in ROWS if row["gedcom_551"]]
WRITTEN = [row for row in ROWS if row["edtf"]]
# The words BEF and AFT of 5.5.1 leave the date out, as the note column says.
OLD_MEANING = {
    "BEF 1960": ("[..1959]", "open", "1959-12-31"),
    "AFT 1945": ("[1946..]", "1946-01-01", "open"),
}
FAMILY_FILES = Path(__file__).parents[3] / "shared" / "data" / "gedcom"

# ABNF of `DateValue` in the GEDCOM 7 specification with the Gregorian months and epoch, all that we write.
_DATE = r"(?:(?:[1-9]\d? )?(?:JAN|FEB|MAR|APR|MAY|JUN|JUL|AUG|SEP|OCT|NOV|DEC) )?[1-9]\d*(?: BCE)?"
GRAMMAR_7 = re.compile(
    rf"|{_DATE}|TO {_DATE}|FROM {_DATE}(?: TO {_DATE})?|BET {_DATE} AND {_DATE}|(?:AFT|BEF|ABT|CAL|EST) {_DATE}"
)
GRAMMAR_551 = re.compile(rf"(?:{GRAMMAR_7.pattern}|INT {_DATE} \(.*\)|\(.*\))".replace(" BCE", r" B\.C\."))


def payload_and_phrase(cell: str) -> tuple[str, str]:
    payload, _, phrase = cell.partition(" + PHRASE")
    return payload.removeprefix("empty DATE"), phrase.strip()


def bounds_of(edtf: str) -> tuple[str, str]:
    if not edtf:
        return "", ""
    bounds = parse_edtf(edtf).bounds()
    ends = ((bounds.earliest, bounds.earliest_kind), (bounds.latest, bounds.latest_kind))
    return tuple(kind if ordinal is None else day_text(ordinal) for ordinal, kind in ends)


@pytest.mark.parametrize("row", READ, ids=[row["gedcom_551"] for row in READ])
def test_table_read(row):
    payload, phrase = payload_and_phrase(row["gedcom_70"])
    new = read_gedcom_date(payload, version="7.0", phrase=phrase)
    assert (new.edtf, *bounds_of(new.edtf)) == (row["edtf"], row["earliest"], row["latest"])
    old = read_gedcom_date(row["gedcom_551"], version="5.5.1")
    as_now = (row["edtf"], row["earliest"], row["latest"])
    assert (old.edtf, *bounds_of(old.edtf)) == OLD_MEANING.get(row["gedcom_551"], as_now)
    assert (new.phrase, old.original) == (phrase, row["gedcom_551"])


@pytest.mark.parametrize("row", WRITTEN, ids=[row["edtf"] for row in WRITTEN])
def test_table_written(row):
    """A date leaves as Gregorian days, whatever calendar it came in."""
    payload, phrase = payload_and_phrase(row["gedcom_70"])
    if payload.startswith(("JULIAN", "HEBREW", "FRENCH_R")):
        year, month, day_of_month = from_day(parse_edtf(row["edtf"]).bounds().earliest)
        payload, phrase = f"{day_of_month} {MONTHS[Calendar.GREGORIAN][month - 1]} {year}", ""
    approximation = "CAL" if payload.startswith("CAL") else ""
    written = gedcom_date_of(row["edtf"], approximation=approximation)
    assert (written.payload, written.phrase) == (payload, phrase)
    again = read_gedcom_date(written.payload, phrase=written.phrase)
    if row["earliest"]:
        assert bounds_of(again.edtf) == (row["earliest"], row["latest"])


@pytest.mark.parametrize(
    ("edtf", "payload", "phrase"),
    [
        ("[..1960]", "BEF 1961", ""),
        ("[1945..]", "AFT 1944", ""),
        ("[1945-12..]", "AFT NOV 1945", ""),
        ("[..1960-12-31]", "BEF 1 JAN 1961", ""),
        ("-1400", "1401 B.C.", ""),
        ("[..0000]", "BEF 1", ""),
        ("[0001..]", "AFT 1 B.C.", ""),
        ("1952?", "INT 1952 (perhaps 1952)", ""),
        ("XXXX-01-05", "(5 January (year unknown))", ""),
        ("1952-22", "BET JUN 1952 AND AUG 1952", "summer 1952"),
    ],
)
def test_written_for_551(edtf, payload, phrase):
    written = gedcom_date_of(edtf, version="5.5.1")
    assert (written.payload, written.phrase) == (payload, phrase)


@pytest.mark.parametrize(
    ("edtf", "payload", "phrase"),
    [
        ("1952?", "1952", "perhaps 1952"),
        ("1952-XX-XX", "1952", ""),
        ("195X~", "BET 1950 AND 1959", "about the 1950s"),
        ("[1948-03-07,1948-07-03]", "BET 7 MAR 1948 AND 3 JUL 1948", "7 March or 3 July 1948"),
        ("{1960,1961-12}", "FROM 1960 TO DEC 1961", "1960 and December 1961"),
        ("1950/", "FROM 1950", "from 1950, end unknown"),
        ("1952-24", "BET DEC 1952 AND FEB 1953", "winter 1952–53"),
        ("1950S2", "BET 1900 AND 1999", "about 1950 (between 1900 and 1999)"),
        ("Y17000", "", "17000"),
        ("../..", "", "at any time"),
        ("XXXX-12", "", "December (year unknown)"),
        ("1985-04-12T23:20:30", "12 APR 1985", "12 April 1985, 23:20:30"),
    ],
)
def test_what_gedcom_lacks_is_said_in_words(edtf, payload, phrase):
    written = gedcom_date_of(edtf)
    assert (written.payload, written.phrase) == (payload, phrase)


def test_southern_summer_has_its_own_months():
    assert gedcom_date_of("1952-22", southern=True).payload == "BET DEC 1952 AND FEB 1953"


def test_approximation_and_phrase_come_along():
    read = read_gedcom_date("CAL 12 JUL 1952", phrase="eve of her wedding")
    assert read.approximation == "CAL"
    written = gedcom_date_of(read.edtf, phrase=read.phrase, approximation=read.approximation)
    assert (written.payload, written.phrase) == ("CAL 12 JUL 1952", "eve of her wedding")
    assert gedcom_date_of("[1950..1952]", approximation="CAL").phrase.startswith("worked out from other data")
    assert gedcom_date_of("1952", phrase="a wedding", version="5.5.1").payload == "INT 1952 (a wedding)"
    assert gedcom_date_of("", phrase="about Easter", version="5.5.1").payload == "(about Easter)"


@pytest.mark.parametrize(
    ("text", "edtf", "phrase"),
    [
        ("  12  july 1952 ", "1952-07-12", ""),
        ("abt. Sept 1952", "1952-09~", ""),
        ("Between 1950 and 1952", "[1950..1952]", ""),
        ("INT  1952 (Summer Holiday, (1))", "1952", "Summer Holiday, (1)"),
        ("1952 (in a hurry)", "1952", "in a hurry"),
        ("@@#DJULIAN@@ 25 DEC 1700", "1701-01-05", ""),
        ("@#djulian@25 dec 1700", "1701-01-05", ""),
        ("@#DGREGORIAN@ 25 DEC 1700", "1700-12-25", ""),
        ("FRENCH R 1 VEND 1", "1792-09-22", ""),
        ("@#DJULIAN@ BET 1 JAN 1700 AND 2 JAN 1700", "[1700-01-11..1700-01-12]", ""),
        ("BET @#DJULIAN@ 25 DEC 1700 AND 1702", "[1701-01-05..1702]", ""),
        ("FROM FRENCH_R VEND 2 TO 1800", "1793-09-22/1800", ""),
        ("15 MAR 44 (b.c.)", "-0043-03-15", ""),
        ("44 B.C.E.", "-0043", ""),
        ("BET 44 (B.C.) AND 43bc (or 42 BC)", "[-0043..-0042]", "or 42 BC"),
        ("(B.C.)", "", "B.C."),
        ("JULIAN 1700", "[1700-01-11..1701-01-11]", ""),
        ("ABT JULIAN 1700", "[1700-01-11~..1701-01-11~]", ""),
        ("JULIAN 250", "0250", ""),
        ("FRENCH_R COMP 3", "[1795-09-17..1795-09-22]", ""),
        ("FRENCH_R 6 COMP 3", "1795-09-22", ""),
        ("HEBREW 5758", "[1997-10-02..1998-09-20]", ""),
        ("8 JAN 1699/00", "1700-01-08", "8 JAN 1699/00"),
        ("abt Feb 1731 / 2", "1732-02~", "abt Feb 1731 / 2"),
        ("1699/1700", "[1699..1700]", "1699/1700"),
        ("1950/53", "[1950..1953]", "1950/53"),
        ("OCT 1699/00", "[1699-10..1700-10]", "OCT 1699/00"),
        ("FROM 1699/00 TO 1705/06", "1699/1706", "FROM 1699/00 TO 1705/06"),
        ("", "", ""),
        ("   ", "", ""),
    ],
)
def test_as_real_files_have_it(text, edtf, phrase):
    for version in ("5.5.1", "7.0"):
        found = read_gedcom_date(text, version=version)
        assert (found.edtf, found.phrase, found.original) == (edtf, phrase, text)
    assert read_gedcom_date(text, phrase="said").phrase == "said"


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("31 FEB 1952", "no such day"),
        ("0 JAN 1952", "no such day"),
        ("29 FEB 1900", "no such day"),
        ("FRENCH_R 6 COMP 4", "no such day"),
        ("FRENCH_R 1 VEND 79", "ended with its year 14"),
        ("HEBREW 30 TVT 5758", "no such day"),
        ("@#DROMAN@ 5 JAN 12", "calendar “roman”"),
        ("@#DUNKNOWN@ 1952", "calendar “unknown”"),
        ("@#DOLD STYLE@ 1952", "calendar “old style”"),
        ("_ISLAMIC 1400", "calendar “islamic”"),
        ("@N1@ 1952", "an @"),
        ("5 JAN", "no year"),
        ("JAN", "no year"),
        ("0 BCE", "no year 0"),
        ("HEBREW 5758 BCE", "neither BCE"),
        ("FRENCH_R 1/2", "nor a second year"),
        ("JAN 1701/99", "the one after it"),
        ("1701/01", "the one after it"),
        ("44/43 BCE", "the one after it"),
        ("HEBREW 5 JAN 5758", "“JAN” is no month"),
        ("5 VEND 1952", "“VEND” is no month"),
        ("5 J 1952", "“J” is no month"),
        ("BET 1952 AND 1950", "ends before it begins"),
        ("FROM 1952 TO 1951-", "in this order"),
        ("FROM 1952 TO 1950", "ends before it begins"),
        ("BET 1952", "needs AND"),
        ("BET AND 1952", "missing"),
        ("AND 1952", "needs BET"),
        ("ABT", "missing"),
        ("1950-1952", "in this order"),
        ("12/07/1952", "in this order"),
        ("(about Easter", "brackets"),
        ("10001 BCE", "four digits"),
        ("12345", "four digits"),
        ("HEBREW 13999", "four digits"),
    ],
)
def test_refused(text, why):
    with pytest.raises(InvalidValue) as caught:
        read_gedcom_date(text)
    assert why in caught.value.why
    assert text in caught.value.what
    assert caught.value.todo


@pytest.mark.parametrize(
    ("text", "gregorian"),
    [
        # GEDCOM 7 specification, appendix A: the new year of the first Hebrew year, an example of a dual date.
        ("HEBREW 1 TSH 1", (-3760, 9, 7)),
        ("JULIAN 23 NOV 1907", (1907, 12, 6)),
        # Well-known days, from memory: Thermidor, Brumaire, last day of the calendar, October, the reform of 1582.
        ("FRENCH_R 9 THER 2", (1794, 7, 27)),
        ("FRENCH_R 18 BRUM 8", (1799, 11, 9)),
        ("FRENCH_R 10 NIVO 14", (1805, 12, 31)),
        ("JULIAN 25 OCT 1917", (1917, 11, 7)),
        ("JULIAN 4 OCT 1582", (1582, 10, 14)),
    ],
)
def test_days_of_other_calendars(text, gregorian):
    assert parse_edtf(read_gedcom_date(text).edtf).bounds().earliest == day(*gregorian)


def test_hebrew_months_as_convertdate_has_them():
    numbers = [7, 8, 9, 10, 11, 12, 13, 1, 2, 3, 4, 5, 6]
    with warnings.catch_warnings():
        # convertdate's own function warns of another of its own.
        warnings.simplefilter("ignore", DeprecationWarning)
        for year in range(5600, 5801):
            for place, number in enumerate(numbers, 1):
                number = 12 if number == 13 and not hebrew.leap(year) else number
                first, last = days_of(Calendar.HEBREW, year, place)
                assert first == hebrew.to_jd(year, number, 1) - 1_721_424.5
                assert last == first + hebrew.month_length(year, number) - 1


@pytest.mark.parametrize("calendar", list(Calendar))
def test_months_fill_the_year(calendar):
    for year in range(1, 15):
        whole = days_of(calendar, year)
        months = [days_of(calendar, year, number) for number in range(1, len(MONTHS[calendar]) + 1)]
        # In a Hebrew common year both words for Adar are the same month.
        apart = list(dict.fromkeys(months))
        assert (apart[0][0], apart[-1][1]) == whole
        assert all(one[1] + 1 == two[0] for one, two in pairwise(apart))


def test_every_date_of_the_family_files_at_hand():
    if not FAMILY_FILES.is_dir():
        pytest.skip("the sample family-tree files lie beside the project only where it is developed")
    read, refused = {}, {}
    for path in sorted(FAMILY_FILES.glob("*.ged")):
        version = "7.0" if path.name.startswith("v70") else "5.5.1"
        for payload in _date_lines(path):
            try:
                read[payload] = read_gedcom_date(payload, version=version).edtf
            except InvalidValue as error:
                refused[payload] = str(error)
    assert refused == {}
    assert len(read) == 12
    assert read["FROM JAN 1699/00 TO FEB 1699/00"] == "1700-01/1700-02"


def _date_lines(path: Path) -> list[str]:
    data = path.read_bytes()
    text = data.decode("utf-16" if data[:2] in (b"\xff\xfe", b"\xfe\xff") else "utf-8-sig")
    return [found[1] for line in text.splitlines() if (found := re.match(r"\s*\d+ (?:@[^@]+@ )?DATE ?(.*)", line))]


PIECES = [
    *("BET", "AND", "FROM", "TO", "BEF", "AFT", "ABT", "CAL", "EST", "INT", "JULIAN", "HEBREW", "FRENCH_R"),
    *("@#DFRENCH R@", "@#DROMAN@", "JAN", "feb", "VEND", "COMP", "ADR", "ADS", "BCE", "B.C.", "(", ")", "/"),
    *("0", "31", "44", "1952", "1699/00", "5758", "999999", "_X", "summer"),
]


@given(
    st.one_of(
        st.text(),
        st.text("0123456789 /()@#.DBCEJANFEB"),
        st.lists(
            st.sampled_from(PIECES),
            max_size=9,
        ).map(" ".join),
    ),
    st.sampled_from(["5.5.1", "7.0"]),
)
def test_any_text_gives_a_date_or_says_why_not(text, version):
    try:
        found = read_gedcom_date(text, version=version)
    except InvalidValue:
        return
    if found.edtf:
        parse_edtf(found.edtf)
        gedcom_date_of(found.edtf, version=version, phrase=found.phrase, approximation=found.approximation)


years = st.one_of(
    st.integers(0, 9999).map(lambda year: f"{year:04d}"),
    st.integers(1800, 2030).map(str),
    st.integers(1, 9999).map(lambda year: f"-{year:04d}"),
    st.sampled_from(["195X", "19XX", "1XXX", "XXXX", "1X5X", "-19XX", "Y17000", "Y-17E7", "1950S3", "1952S1"]),
)
marks = st.sampled_from(["", "", "", "?", "~", "%"])
months = st.sampled_from(
    [*(f"{number:02d}" for number in range(1, 13)), "XX", "1X", "0X", *map(str, range(21, 42))]
)
days = st.sampled_from([*(f"{number:02d}" for number in range(1, 32)), "XX", "2X", "X1"])


def valid(text: str) -> bool:
    try:
        parse_edtf(text)
    except InvalidValue:
        return False
    return True


moments = (
    st.one_of(
        st.builds("{}{}".format, years, marks),
        st.builds("{}-{}{}".format, years, months, marks),
        st.builds("{}-{}-{}{}".format, years, months, days, marks),
        st.builds("{}{}-{}-{}{}".format, marks, years, marks, months, days),
    )
    .map(str)
    .filter(valid)
)
ends = st.one_of(moments, st.sampled_from(["", ".."]))
values = st.one_of(
    moments,
    st.builds("{}/{}".format, ends, ends),
    st.builds("[{}..{}]".format, moments, moments),
    st.builds("[..{}]".format, moments),
    st.builds("[{}..]".format, moments),
    st.lists(moments, min_size=1, max_size=4).map(lambda each: f"[{','.join(each)}]"),
    st.lists(moments, min_size=1, max_size=4).map(lambda each: f"{{{','.join(each)}}}"),
    st.builds("[..{},{}..]".format, moments, moments),
    st.builds("{}T10:20:30Z".format, moments),
).filter(valid)


@given(values, st.sampled_from(["5.5.1", "7.0"]), st.booleans())
def test_round_trip(edtf, version, southern):
    """Days, `~` and `%` of a simple date come back; what can't come back is said in words."""
    value = parse_edtf(edtf)
    written = gedcom_date_of(value, version=version, southern=southern)
    assert (GRAMMAR_7 if version == "7.0" else GRAMMAR_551).fullmatch(written.payload)
    assert written.payload or written.phrase
    again = read_gedcom_date(written.payload, version=version, phrase=written.phrase)
    if not again.edtf:
        assert again.phrase
        return
    back, bounds = parse_edtf(again.edtf), value.bounds(southern)
    assert (back.bounds().earliest, back.bounds().latest) == (bounds.earliest, bounds.latest)
    if not again.phrase:
        assert back.qualifiers == value.qualifiers
        assert back.pieces() == value.pieces(southern)


@given(st.integers(1600, 2030), st.integers(1, 12), st.integers(1, 28), st.sampled_from(["", "~", "%"]))
def test_simple_dates_come_back_as_they_were(year, month, day_of_month, mark):
    for edtf in (f"{year}{mark}", f"{year}-{month:02d}{mark}", f"{year}-{month:02d}-{day_of_month:02d}{mark}"):
        for version in ("5.5.1", "7.0"):
            written = gedcom_date_of(edtf, version=version)
            assert written.phrase == ""
            assert read_gedcom_date(written.payload, version=version).edtf == edtf
