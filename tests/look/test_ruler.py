from __future__ import annotations

import xml.etree.ElementTree as ET
from itertools import pairwise

import pytest
from drawn_box import described_prints, many_prints
from hypothesis import given
from hypothesis import strategies as st

from solander.core.descriptions import When
from solander.core.statements import Sure
from solander.look.ruler import (
    BARS_AT_MOST,
    RulerBar,
    Span,
    bar_of,
    ruler_svg,
    span_of,
    strip_svg,
    year_of,
)

years = st.floats(1700, 2100, allow_nan=False)


@st.composite
def bars(draw: st.DrawFn) -> RulerBar:
    low, guess, high = sorted(draw(st.lists(years, min_size=3, max_size=3)))
    earliest = draw(st.sampled_from([low, None]))
    latest = draw(st.sampled_from([high, None]))
    return RulerBar(draw(st.text(max_size=8)), earliest, latest, draw(st.sampled_from([guess, None])))


def drawn(svg: str) -> ET.Element:
    return ET.fromstring(svg)


def found(svg: str, css: str) -> list[ET.Element]:
    return [element for element in drawn(svg).iter() if css in element.get("class", "").split()]


def percent(element: ET.Element, name: str) -> float:
    return float(element.get(name, "").removesuffix("%"))


@pytest.mark.parametrize(("day", "year"), [("1958-01-01", 1958.0), ("1958-07-01", 1958.5), ("-0043-01-01", -43.0)])
def test_days_become_decimal_years(day: str, year: float):
    assert year_of(day) == year
    assert year_of(None) is None


def test_a_day_in_another_form_is_refused():
    with pytest.raises(ValueError, match="is no day"):
        year_of("1958")


def test_the_rule_shows_whole_decades_around_all_guesses():
    assert span_of(bar_of(one) for one in described_prints()) == Span(1900, 1980)
    assert span_of([RulerBar("", 1950.2, 1950.4, 1950.3)]) == Span(1950, 1960)


def test_a_wide_range_runs_off_the_rule_instead_of_stretching_it():
    span = span_of([RulerBar("", 1839.0, 1960.0, 1950.5), RulerBar("", None, None, 1955.0)])
    assert span == Span(1950, 1960)
    assert 'fill="url(#fade-left)"' in ruler_svg([RulerBar("", 1839.0, 1955.0, 1950.5)], span=span)


def test_nothing_dated_gives_no_rule():
    assert span_of([RulerBar("x", None, None, None)]) is None
    assert ruler_svg([RulerBar("x", None, None, None)]) == ""
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
    svg = ruler_svg([RulerBar("B2-E5-0014: 1958", 1958.0, 1959.0, 1958.5, contradicts="B2-E5-0007")])
    assert 'fill="url(#hatch)"' in svg
    assert "cannot be true together with: B2-E5-0007" in svg


def test_many_prints_are_counted_by_year():
    many = [bar_of(one) for one in many_prints(BARS_AT_MOST + 30)]
    svg = ruler_svg(many)
    assert not found(svg, "guess")
    drawn_years = found(svg, "count")
    assert len(drawn_years) == len({int(bar.guess or 0) for bar in many})
    assert all(percent(one, "x") + percent(one, "width") <= 100 for one in drawn_years)


def test_names_are_escaped_and_decades_are_links():
    svg = ruler_svg([RulerBar('<b a="1">', 1950.0, 1951.0, 1950.5)], links={1950: "#y1950"})
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


def test_a_strip_shows_the_years_of_the_rule_and_its_own_bar():
    when = described_prints()[8].when
    svg = strip_svg(when, Span(1900, 1980))
    assert len(found(svg, "rule-mark")) == 9
    assert percent(found(svg, "guess")[0], "x1") == pytest.approx(100 * 58.54 / 80, abs=0.05)
