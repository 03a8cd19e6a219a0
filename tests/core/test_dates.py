"""EDTF against published examples, by round trip, and its other forms."""

from __future__ import annotations

import csv
from itertools import pairwise
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from solander.core.dates import age_words, day, day_text, edtf_of_range, parse_edtf, truncated, words
from solander.core.errors import InvalidValue

# From shared/standards/edtf-examples.csv, unchanged: every worked example of the Library of Congress
# specification of 2019-02-04, and day bounds derived from it.
with (Path(__file__).parent / "data" / "edtf-examples.csv").open(encoding="utf-8", newline="") as table:
    EXAMPLES = list(csv.DictReader(table))

# The specification gives seasons no days; our reading stands in `Edtf.bounds`.
SEASONS = {
    "21": ("2001-03-01", "2001-05-31"),
    "22": ("2001-06-01", "2001-08-31"),
    "23": ("2001-09-01", "2001-11-30"),
    "24": ("2001-12-01", "2002-02-28"),
    "25": ("2001-03-01", "2001-05-31"),
    "26": ("2001-06-01", "2001-08-31"),
    "27": ("2001-09-01", "2001-11-30"),
    "28": ("2001-12-01", "2002-02-28"),
    "29": ("2001-09-01", "2001-11-30"),
    "30": ("2001-12-01", "2002-02-28"),
    "31": ("2001-03-01", "2001-05-31"),
    "32": ("2001-06-01", "2001-08-31"),
}
# What the specification leaves open and we decide; the reasons stand in `parse_edtf`.
UNCLEAR = {"195X~": "yes", "1936-02-3X": "no", "2012-24/2012-21": "no", "0000-01-03/0000-01": "yes"}


def named(ordinal: int | None, kind: str) -> str:
    return kind if ordinal is None else day_text(ordinal)


@pytest.mark.parametrize("row", EXAMPLES, ids=[row["value"] or "empty" for row in EXAMPLES])
def test_example(row):
    valid = UNCLEAR[row["value"]] if row["valid"] == "unclear" else row["valid"]
    if valid == "no":
        with pytest.raises(InvalidValue):
            parse_edtf(row["value"])
        return
    value = parse_edtf(row["value"])
    bounds = value.bounds()
    found = named(bounds.earliest, bounds.earliest_kind), named(bounds.latest, bounds.latest_kind)
    expected = row["earliest"], row["latest"]
    if expected == ("", ""):
        expected = SEASONS.get(row["value"][-2:], ("0000-01-03", "0000-01-31"))
    assert found == expected
    assert str(value) == row["value"]
    assert row["valid"] == "unclear" or str(value.level) == row["level"]


@pytest.mark.parametrize("code", SEASONS)
def test_seasons(code):
    bounds = parse_edtf(f"2001-{code}").bounds()
    assert (day_text(bounds.earliest), day_text(bounds.latest)) == SEASONS[code]


def test_southern_setting_turns_only_the_seasons_of_no_hemisphere():
    for plain, southern in (("21", "29"), ("22", "30"), ("23", "31"), ("24", "32")):
        assert parse_edtf(f"2001-{plain}").bounds(southern=True) == parse_edtf(f"2001-{southern}").bounds()
    assert parse_edtf("2001-26").bounds(southern=True) == parse_edtf("2001-26").bounds()


@pytest.mark.parametrize(
    ("value", "pieces"),
    [
        ("[1667,1668,1670..1672]", [("1667-01-01", "1668-12-31"), ("1670-01-01", "1672-12-31")]),
        ("[1948-03-07,1948-07-03]", [("1948-03-07", "1948-03-07"), ("1948-07-03", "1948-07-03")]),
        ("[1760-01,1760-02,1760-12..]", [("1760-01-01", "1760-02-29"), ("1760-12-01", None)]),
        ("[..1918-11,1920]", [(None, "1918-11-30"), ("1920-01-01", "1920-12-31")]),
        ("1984-1X", [("1984-10-01", "1984-12-31")]),
        ("195X", [("1950-01-01", "1959-12-31")]),
        ("1936-X2-29", [("1936-02-29", "1936-02-29"), ("1936-12-29", "1936-12-29")]),
        ("1XXX-12-XX", None),
    ],
)
def test_pieces(value, pieces):
    found = [tuple(end and day_text(end) for end in piece) for piece in parse_edtf(value).pieces()]
    if pieces is None:
        assert len(found) == 1000
    else:
        assert found == pieces


def test_too_many_pieces_become_their_envelope():
    assert parse_edtf("XXXX-12-XX").pieces() == ((day(0, 12, 1), day(9999, 12, 31)),)
    assert len(parse_edtf("15XX-12-25").pieces()) == 100


def test_qualifiers():
    assert parse_edtf("1952").qualifiers == frozenset()
    assert parse_edtf("2004-06-11%").qualifiers == {"?", "~"}
    value = parse_edtf("?2004-06-~11").moments[0]
    assert [value.qualifier_of(part) for part in ("year", "month", "day")] == ["?", "", "~"]
    group = parse_edtf("2004-06~-11").moments[0]
    assert [group.qualifier_of(part) for part in ("year", "month", "day")] == ["~", "~", ""]


@pytest.mark.parametrize(
    "value",
    [
        *("Y1E999999999", "Y" + "9" * 30, "1950S5", "1950S0", "195XS2", "1950S2-01", "/", "[..]", "[]"),
        *("[1950..,1960]", "[1950,..1960]", "[1960..1950]", "?1950?", "1985-04-12T23:20:30?"),
        *("198X-04-12T23:20:30", "1950\n", "１９５０"),
    ],
)
def test_refused(value):
    with pytest.raises(InvalidValue):
        parse_edtf(value)


# -- any valid value ----------------------------------------------------------------------------------------

digit = st.sampled_from("0123456789X")
mark = st.sampled_from(["", "", "", "?", "~", "%"])
year = st.one_of(
    st.tuples(digit, digit, digit, digit).map("".join),
    st.integers(1, 9999).map(lambda n: f"-{n:04d}"),
    st.integers(10_000, 10**11).map(lambda n: f"Y{n}"),
    st.tuples(st.integers(1, 99), st.integers(1, 9)).map(lambda n: f"Y-{n[0]}E{n[1]}"),
    st.tuples(st.integers(1000, 9999), st.integers(1, 4)).map(lambda n: f"{n[0]}S{n[1]}"),
)
month = st.sampled_from([f"{n:02d}" for n in (*range(1, 13), *range(21, 42))] + ["XX", "0X", "1X", "X1"])
day_of_month = st.sampled_from([f"{n:02d}" for n in range(1, 29)] + ["XX", "0X", "1X", "2X", "X5"])


@st.composite
def moments(draw):
    text = draw(year)
    marks = draw(mark)
    if text[0] == "Y" or "S" in text:
        return text + marks
    if draw(st.booleans()):
        return text + marks if draw(st.booleans()) else marks + text
    part = draw(month)
    text = f"{draw(mark)}{text}-{part}"
    if "21" <= part <= "41" or draw(st.booleans()):
        return text + marks
    return (
        f"{text}-{draw(mark)}{draw(day_of_month)}"
        if draw(st.booleans())
        else f"{text}-{draw(day_of_month)}{marks}"
    )


def first_day(text):
    return parse_edtf(text).bounds().earliest


@st.composite
def edtf_values(draw):
    several = sorted(draw(st.lists(moments(), min_size=1, max_size=3)), key=first_day)
    form = draw(st.sampled_from(["date", "/", "..", "set", "open"]))
    if form == "date":
        return several[0]
    if form == "/":
        return "/".join(draw(st.permutations([several[0], draw(st.sampled_from(["", ".."]))])))
    if form == "open":
        return f"{several[0]}/{several[-1]}"
    if form == "..":
        return f"[{several[0]}..{several[-1]}]"
    return f"{{{','.join(several)}}}"


@given(edtf_values(), st.booleans())
def test_round_trip_bounds_and_pieces(text, southern):
    value = parse_edtf(text)
    assert str(value) == text
    assert parse_edtf(str(value)) == value
    bounds, pieces = value.bounds(southern), value.pieces(southern)
    assert bounds.earliest is None or bounds.latest is None or bounds.earliest <= bounds.latest
    assert (pieces[0][0], pieces[-1][1]) == (bounds.earliest, bounds.latest)
    for (_, last), (first, _) in pairwise(pieces):
        assert last + 1 < first
    assert words(value)
    assert truncated(value) == "" or truncated(value)[:4].isdigit()


@given(st.text(max_size=40) | st.text("0123456789X-/.[]{},?~%YESTZ:", max_size=30))
def test_anything_else_is_refused_with_a_reason(text):
    try:
        value = parse_edtf(text)
    except InvalidValue as refusal:
        value, reason = None, refusal.why and refusal.todo
    assert str(value) == text if value else reason


# -- other forms --------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("value", "expected"),
    [
        # shared/standards/embed-map.md, rule 5
        ("195X", ""),
        ("1952-06~/1952-08~", "1952"),
        # ours
        ("1952", "1952"),
        ("1952-07", "1952-07"),
        ("1952-07-03", "1952-07-03"),
        ("1952-07-03T10:00:00", "1952-07-03"),
        ("1963~", "1963"),
        ("1952-07?", "1952"),
        ("1962-12-25~", "1962-12"),
        ("1952-07~-03", "1952"),
        ("1958-22", "1958"),
        ("1962-24", ""),
        ("[1948-03-07,1948-07-03]", "1948"),
        ("[1948-03-07..1948-03-09]", "1948-03"),
        ("[1948..1952]", ""),
        ("[..1952]", ""),
        ("1952/", ""),
        ("-0044", ""),
        ("Y17E7", ""),
    ],
)
def test_truncated(value, expected):
    assert truncated(value) == expected


@pytest.mark.parametrize(
    ("first", "last", "expected"),
    [
        ("1952-01-01", "1952-12-31", "1952"),
        ("1952-07-01", "1952-07-31", "1952-07"),
        ("1952-07-03", "1952-07-03", "1952-07-03"),
        ("1950-01-01", "1959-12-31", "195X"),
        ("1900-01-01", "1999-12-31", "19XX"),
        ("1958-06-01", "1958-08-31", "1958-22"),
        ("1962-12-01", "1963-02-28", "1962-24"),
        ("1948-01-01", "1952-12-31", "[1948..1952]"),
        ("1948-01-01", "1952-05-31", "[1948-01..1952-05]"),
        ("1948-01-02", "1952-12-31", "[1948-01-02..1952-12-31]"),
        (None, "1939-08-31", "[..1939-08]"),
        ("1946-01-01", None, "[1946..]"),
        (None, None, ""),
    ],
)
def test_shortest_value_of_a_range(first, last, expected):
    ends = [None if end is None else parse_edtf(end).bounds().earliest for end in (first, last)]
    assert edtf_of_range(*ends) == expected


ordinals = st.one_of(
    st.integers(day(-9999, 1, 1), day(9999, 12, 31)),
    st.tuples(st.integers(-20, 9_999), st.sampled_from([(1, 1), (12, 31), (3, 1), (2, 28), (12, 1), (8, 31)])).map(
        lambda date: day(date[0], *date[1])
    ),
)


@given(ordinals | st.none(), ordinals | st.none(), st.booleans())
def test_value_of_a_range_gives_the_range_again(first, last, southern):
    if first is None and last is None:
        return
    if first is not None and last is not None and first > last:
        first, last = last, first
    bounds = parse_edtf(edtf_of_range(first, last, southern=southern)).bounds(southern)
    assert (bounds.earliest, bounds.latest) == (first, last)


def test_years_of_five_digits_are_whole():
    assert edtf_of_range(day(10_000, 2, 3), day(10_001, 2, 3)) == "[Y10000..Y10001]"
    assert edtf_of_range(day(10_000, 6, 1), day(10_000, 8, 31)) == "Y10000"


def test_backward_range_is_refused():
    with pytest.raises(InvalidValue):
        edtf_of_range(2, 1)


@pytest.mark.parametrize(
    ("value", "expected"),
    [
        ("1958-22", "summer 1958"),
        ("1962-24", "winter 1962–63"),
        ("1999-24", "winter 1999–2000"),
        ("1963~", "about 1963"),
        ("1944?", "perhaps 1944"),
        ("1944%", "perhaps about 1944"),
        ("[1948..1952]", "between 1948 and 1952"),
        ("[1965-07-12..1965-07-18]", "between 12 and 18 July 1965"),
        ("1948-07", "July 1948"),
        ("[1948-03-07,1948-07-03]", "7 March or 3 July 1948"),
        ("[1952,1953]", "1952 or 1953"),
        ("[..1939]", "before 1940"),
        ("[..1939-08]", "before September 1939"),
        ("[1946..]", "after 1945"),
        ("195X", "the 1950s"),
        ("190X", "between 1900 and 1909"),
        ("1984-1X", "between October and December 1984"),
        ("XXXX-12-25", "25 December of an unknown year"),
        ("-0043", "44 BC"),
        ("1948/1952", "from 1948 to 1952"),
        ("1985-04/", "from April 1985, end unknown"),
        ("../1985", "until 1985"),
        ("2001-35", "the third quarter of 2001"),
    ],
)
def test_words(value, expected):
    assert words(value) == expected


def test_words_of_another_language_are_refused():
    with pytest.raises(InvalidValue):
        words("1952", "xx")


@pytest.mark.parametrize(
    ("born", "at", "expected"),
    [
        ("1921-03-05", "1952-07-03", "31"),
        ("1921-03-05", "1952-03-04", "30"),
        ("1921", "1927-03-01", "5 or 6"),
        ("192X", "1965", "about 40"),
        ("1921~", "1952-07", "about 30"),
        ("1921-03-05", "1921-06", "under 1"),
        ("1921", "1900", ""),
        ("1921", "[1950..]", ""),
        ("1921", "19XX", ""),
    ],
)
def test_age(born, at, expected):
    assert age_words(parse_edtf(born), parse_edtf(at).bounds()) == expected
