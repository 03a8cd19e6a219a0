from __future__ import annotations

import json
from html.parser import HTMLParser

import pytest
from attrs import evolve
from drawn_box import described_prints
from hypothesis import given
from hypothesis import strategies as st

from solander.core.days import day
from solander.look.ruler import RulerBar, Span, bar_of, ruler_svg
from solander.look.ruler_figure import ruler_figure

BARS = [bar_of(one) for one in described_prints()]
HREFS = [f"prints/{i:04d}_{bar.name}.html" for i, bar in enumerate(BARS, 1)]
ONE = RulerBar("B1-0001", "1958", day(1958, 1, 1), day(1958, 12, 31), day(1958, 7, 2))


class Attributes(HTMLParser):
    """Every element's attributes as a browser understands them."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.found: list[dict[str, str | None]] = []
        self.feed(page)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.found.append(dict(attrs))


def data_of(figure: str) -> dict:
    (data,) = [one["data-rule"] for one in Attributes(figure).found if "data-rule" in one]
    return json.loads(data or "")


def href_of(data: dict, number: int) -> str:
    before, after = data["href"]
    return before + data["bars"][number][7] + after


def test_every_bar_has_its_days_words_and_address():
    data = data_of(ruler_figure(BARS, HREFS))
    assert len(data["bars"]) == len(BARS)
    for i, (bar, row) in enumerate(zip(BARS, data["bars"], strict=True)):
        name, earliest, latest, guess, likely_from, likely_to, words, *_ = row
        assert (name, earliest, latest, guess) == (bar.name, bar.earliest, bar.latest, bar.guess)
        assert (likely_from, likely_to) == (None, None)
        assert data["words"][words] == bar.words
        assert href_of(data, i) == HREFS[i]


def test_all_years_are_those_of_the_drawing():
    data = data_of(ruler_figure(BARS, HREFS, span=Span(1900, 1980)))
    assert data["all"] == [day(1900, 1, 1), day(1980, 1, 1)]


def test_without_script_the_drawing_is_there():
    links = {1950: "#y1950"}
    assert ruler_svg(BARS, links=links) in ruler_figure(BARS, HREFS, links=links)
    assert data_of(ruler_figure(BARS, HREFS, links=links))["links"] == {"1950": "#y1950"}


def test_the_likely_range_and_contradictions_are_told():
    bar = evolve(ONE, likely_from=day(1958, 6, 1), likely_to=day(1958, 8, 31), contradicts="B2-E5-0007")
    (row,) = data_of(ruler_figure([bar], ["/print/B1-0001"]))["bars"]
    assert row[4:6] == [day(1958, 6, 1), day(1958, 8, 31)]
    assert row[8] == "B2-E5-0007"


def test_nothing_dated_gives_nothing():
    assert ruler_figure([], []) == ""
    assert ruler_figure([RulerBar("B1-0001", "", None, None, None)], ["/print/B1-0001"]) == ""


@pytest.mark.parametrize("years", [(-9000, -8999), (0, 0), (9998, 12000), (-5, 17_000_000)])
def test_years_far_away_are_days_like_others(years):
    bar = evolve(ONE, earliest=day(years[0], 1, 1), latest=day(years[1], 12, 31), guess=None)
    (row,) = data_of(ruler_figure([bar], ["/print/B1-0001"]))["bars"]
    assert row[1:3] == [day(years[0], 1, 1), day(years[1], 12, 31)]


@given(st.lists(st.tuples(st.text(), st.text()), min_size=1, max_size=6))
def test_names_words_and_addresses_come_through_whatever_they_hold(some):
    bars = [evolve(ONE, name=name, words=words, contradicts=name) for name, words in some]
    hrefs = [words + name for name, words in some]
    data = data_of(ruler_figure(bars, hrefs))
    for i, (name, words) in enumerate(some):
        row = data["bars"][i]
        assert (row[0], data["words"][row[6]], href_of(data, i)) == (name, words, hrefs[i])


def test_no_text_ends_the_attribute_or_begins_an_element():
    hostile = "'><script>alert(1)</script>&#39;"
    figure = ruler_figure([evolve(ONE, name=hostile)], [hostile])
    assert "<script" not in figure
    assert data_of(figure)["bars"][0][0] == hostile
