"""The rule for very many prints: every year that has any is drawn and leads to it."""

from __future__ import annotations

import re
from xml.etree import ElementTree

from solander.look.density import density_svg, span_of_years
from solander.look.ruler import Span

YEARS = {1899: 3, 1955: 2900, 1956: 1, 2004: 12}


def _drawn() -> ElementTree.Element:
    span = span_of_years(YEARS)
    assert span == Span(1890, 2010)
    return ElementTree.fromstring(density_svg(YEARS, span, lambda year: f"/?year={year}"))


def test_each_year_is_a_link_that_says_how_many_it_has() -> None:
    links = [link for link in _drawn().iter("a") if link.get("data-year")]
    assert [link.get("href") for link in links] == [f"/?year={year}" for year in YEARS]
    assert [link[0].text for link in links] == [
        "1899: 3 prints",
        "1955: 2,900 prints",
        "1956: 1 print",
        "2004: 12 prints",
    ]


def test_few_prints_are_seen_beside_very_many() -> None:
    tall = [float(rect.get("height", "")) for rect in _drawn().iter("rect") if rect.get("class") == "count"]
    assert min(tall) >= 3
    assert max(tall) == 40
    assert tall[0] > tall[2]


def test_the_tab_key_goes_by_decades_only() -> None:
    links = list(_drawn().iter("a"))
    assert [link.get("href") for link in links if link.get("tabindex") is None] == [
        f"/?year={decade}" for decade in (1890, 1950, 2000)
    ]


def test_years_lie_where_their_marks_are() -> None:
    span = Span(1900, 2000)
    drawn = density_svg({1950: 1}, span, str)
    assert re.search(r'class="reach" x="50.0%" width="1.0%"', drawn)


def test_without_a_date_there_is_no_rule() -> None:
    assert span_of_years({}) is None
