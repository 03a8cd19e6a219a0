from __future__ import annotations

import xml.etree.ElementTree as ET
from itertools import pairwise

import pytest
from attrs import evolve
from drawn_box import described_prints, many_prints
from hypothesis import given
from hypothesis import strategies as st

from solander.core.days import day
from solander.core.descriptions import When
from solander.core.statements import Sure
from solander.look.ruler import (
    BARS_AT_MOST,
    RulerBar,
    Span,
    bar_of,
    day_of,
    ruler_svg,
    span_of,
    strip_svg,
    year_of,
    year_words,
)

days = st.integers(day(1700, 1, 1), day(2100, 1, 1))


def year_bar(first: int, last: int | None = None, *, name: str = "") -> RulerBar:
    """A bar of whole years with its guess in the middle of the first."""
    return RulerBar(name, "", day(first, 1, 1), day(last or first, 12, 31), day(first, 7, 2))


def undated(guess: int | None = None) -> RulerBar:
    return RulerBar("", "", None, None, guess)


@st.composite
def bars(draw: st.DrawFn) -> RulerBar:
    low, guess, high = sorted(draw(st.lists(days, min_size=3, max_size=3)))
    earliest = draw(st.sampled_from([low, None]))
    latest = draw(st.sampled_from([high, None]))
    name, words = draw(st.text(max_size=8)), draw(st.text(max_size=8))
    return RulerBar(name, words, earliest, latest, draw(st.sampled_from([guess, None])))


def drawn(svg: str) -> ET.Element:
    return ET.fromstring(svg)


def found(svg: str, css: str) -> list[ET.Element]:
    return [element for element in drawn(svg).iter() if css in element.get("class", "").split()]


def percent(element: ET.Element, name: str) -> float:
    return float(element.get(name, "").removesuffix("%"))


@pytest.mark.parametrize(
    ("text", "number", "year"),
    [
        ("1958-01-01", day(1958, 1, 1), 1958.0),
        ("1960-07-02", day(1960, 7, 2), 1960.5),
        ("-0043-01-01", day(-43, 1, 1), -43.0),
    ],
)
def test_days_become_numbers_and_decimal_years(text: str, number: int, year: float):
    assert day_of(text) == number
    assert year_of(number) == year
    assert day_of(None) is None


def test_a_day_in_another_form_is_refused():
    with pytest.raises(ValueError, match="is no day"):
        day_of("1958")


@pytest.mark.parametrize(
    ("year", "words"), [(1958, "1958"), (12000, "12000"), (1, "1"), (0, "1 BC"), (-43, "44 BC")]
)
def test_years_are_written_as_a_person_does(year: int, words: str):
    """Source: ISO 8601, where the year 0 is the one before the year 1."""
    assert year_words(year) == words


def test_the_rule_shows_whole_decades_around_all_guesses():
    assert span_of(bar_of(one) for one in described_prints()) == Span(1900, 1980)
    assert span_of([year_bar(1950)]) == Span(1950, 1960)
    assert span_of([year_bar(1959)]) == Span(1950, 1960)


def test_a_wide_range_runs_off_the_rule_instead_of_stretching_it():
    span = span_of([RulerBar("", "", day(1839, 1, 1), day(1960, 1, 1), day(1950, 7, 1)), undated(day(1955, 1, 1))])
    assert span == Span(1950, 1970)
    svg = ruler_svg([RulerBar("", "", day(1839, 1, 1), day(1955, 1, 1), day(1950, 7, 1))], span=span)
    assert 'fill="url(#fade-left)"' in svg


def test_nothing_dated_gives_no_rule():
    assert span_of([undated()]) is None
    assert ruler_svg([undated()]) == ""
    assert strip_svg(When("", "", None, None, None, Sure.GUESS, False), None) == ""


@given(st.lists(bars(), min_size=1, max_size=12))
def test_every_bar_lies_on_the_rule_and_holds_its_tick(some: list[RulerBar]):
    svg = ruler_svg(some, standalone=True)
    if not svg:
        return
    rects = [e for e in drawn(svg).iter("{http://www.w3.org/2000/svg}rect") if e.get("height") == "5"]
    assert len(rects) == len(some)
    for rect in rects:
        assert 0 <= percent(rect, "x") <= percent(rect, "x") + percent(rect, "width") <= 100.001
    assert len(found(svg, "guess")) == sum(bar.guess is not None for bar in some)


@given(st.lists(bars(), min_size=1, max_size=20))
def test_bars_of_one_lane_do_not_touch(some: list[RulerBar]):
    svg = ruler_svg(some, standalone=True)
    lanes: dict[str, list[tuple[float, float]]] = {}
    for rect in drawn(svg).iter("{http://www.w3.org/2000/svg}rect") if svg else ():
        if rect.get("height") == "5":
            left = percent(rect, "x")
            lanes.setdefault(rect.get("y", ""), []).append((left, left + percent(rect, "width")))
    for lane in lanes.values():
        lane.sort()
        assert all(before[1] < after[0] for before, after in pairwise(lane))


def test_a_contradiction_is_hatched_and_says_with_whom():
    svg = ruler_svg([evolve(year_bar(1958, name="B2-E5-0014"), contradicts="B2-E5-0007")])
    assert 'fill="url(#hatch)"' in svg
    assert "cannot be true together with: B2-E5-0007" in svg


def test_the_likely_range_is_a_darker_part_of_its_bar():
    bar = evolve(year_bar(1951, 1958), likely_from=day(1953, 1, 1), likely_to=day(1954, 12, 31))
    (part,) = found(ruler_svg([bar], span=Span(1950, 1960)), "likely")
    assert (percent(part, "x"), percent(part, "width")) == (30, 20)
    assert not found(ruler_svg([year_bar(1951)]), "likely")


def test_a_bar_ends_with_its_last_day():
    (rect,) = found(ruler_svg([year_bar(1951, 1952)], span=Span(1950, 1960)), "bar")
    assert (percent(rect, "x"), percent(rect, "width")) == (10, 20)


def test_many_prints_are_counted_by_year():
    many = [bar_of(one) for one in many_prints(BARS_AT_MOST + 30)]
    svg = ruler_svg(many)
    assert not found(svg, "guess")
    drawn_years = found(svg, "count")
    assert len(drawn_years) == len({int(year_of(bar.guess or 0)) for bar in many})
    assert all(percent(one, "x") + percent(one, "width") <= 100 for one in drawn_years)


def test_names_are_escaped_and_decades_are_links():
    svg = ruler_svg([year_bar(1950, name='<b a="1">')], links={1950: "#y1950"})
    assert "<b" not in svg
    assert "&lt;b" in svg
    assert '<a href="#y1950">' in svg
    assert drawn(svg) is not None


def test_a_file_of_its_own_carries_colours_and_width():
    root = drawn(ruler_svg([bar_of(one) for one in described_prints()], standalone=True))
    assert root.tag == "{http://www.w3.org/2000/svg}svg"
    assert root.get("width") == "1200"
    assert root.find("{http://www.w3.org/2000/svg}style") is not None


def test_a_drawing_for_a_page_has_nothing_that_a_strict_page_forbids():
    svg = ruler_svg([bar_of(one) for one in described_prints()])
    assert "style" not in svg
    assert "script" not in svg


def test_a_print_of_which_nothing_is_known_lies_faintly_over_all_years():
    (bar,) = found(ruler_svg([undated()], span=Span(1950, 1960)), "unknown")
    assert (percent(bar, "x"), percent(bar, "width")) == (0, 100)
    assert not found(ruler_svg([undated(day(1955, 1, 1))], span=Span(1950, 1960)), "unknown")


def test_a_strip_is_darker_and_hatched_like_the_rule():
    when = evolve(described_prints()[10].when, likely=("1959-01-01", "1960-12-31"))
    assert len(found(strip_svg(when, Span(1900, 1980)), "likely")) == 1
    assert 'fill="url(#hatch)"' in strip_svg(evolve(when, contradicts=("dated “1990”",)), Span(1900, 1980))


def test_a_bar_says_the_date_and_what_is_likely_as_the_slip_does():
    one = described_prints()[10]
    assert bar_of(one).words == "Perhaps between 1958 and 1964"
    likely = evolve(one, when=evolve(one.when, likely=("1959-01-01", "1960-12-31")))
    assert bar_of(likely).words == "Perhaps between 1958 and 1964. Most likely between 1959 and 1960"


def test_a_strip_shows_the_years_of_the_rule_and_its_own_bar():
    when = described_prints()[8].when
    svg = strip_svg(when, Span(1900, 1980))
    assert len(found(svg, "rule-mark")) == 9
    assert percent(found(svg, "guess")[0], "x1") == pytest.approx(100 * 58.54 / 80, abs=0.05)
