from __future__ import annotations

import html
import json

import pytest

from solander.look.map_figure import (
    PlaceOnMap,
    Years,
    counts_of,
    distance_words,
    map_data,
    name_years_words,
    years_rule,
    years_words,
)

PLACE = PlaceOnMap("O'Hara's <farm>", "/place/x", 60.4, 5.3, 30.0, ((1931, 2), (1958, 1)), 1)


def test_data_of_the_map_survive_their_attribute():
    text = str(map_data([PLACE]))
    assert "'" not in text
    assert "<" not in text
    (row,) = json.loads(html.unescape(text))
    assert row == ["O'Hara's <farm>", "/place/x", 5.3, 60.4, 30.0, [[1931, 2], [1958, 1]], 1]


def test_prints_are_counted_by_the_year_of_their_best_guess():
    assert counts_of([1958, None, 1908, 1958]) == (((1908, 1), (1958, 2)), 1)
    assert counts_of([]) == ((), 0)
    assert years_words([1931, 1908, 1911]) == "1908 to 1931"
    assert years_words([1931]) == "1931"
    assert years_words([]) == ""


@pytest.mark.parametrize(
    ("years", "held", "left_out"),
    [
        (Years(), (1900, None), ()),
        (Years(1930, 1940), (1930, 1940), (1929, 1941, None)),
        (Years(None, 1940), (1, 1940), (1941, None)),
        (Years(1930, None), (1930, 2000), (1929, None)),
    ],
)
def test_years_hold_their_ends_and_no_year_only_when_all_are_taken(years, held, left_out):
    assert all(years.holds(year) for year in held)
    assert not any(years.holds(year) for year in left_out)


def test_the_rule_reaches_whole_decades_and_is_not_drawn_where_nothing_is_dated():
    rule = years_rule([PLACE], Years())
    assert (rule.first, rule.last) == (1930, 1959)
    assert rule.drawn.count('class="count"') == 2
    assert 'aria-hidden="true"' in rule.drawn
    assert years_rule([], Years()) is None


@pytest.mark.parametrize(
    ("metres", "words"),
    [(30, "30 m"), (999.4, "999 m"), (1500, "1.5 km"), (9000, "9 km"), (1_234_000, "1,234 km")],
)
def test_lengths_are_told_as_a_person_says_them(metres, words):
    assert distance_words(metres) == words


@pytest.mark.parametrize(
    ("first", "last", "words"),
    [("1924", "1991", "1924 to 1991"), ("", "1945", "until 1945"), ("1991", "", "since 1991"), ("", "", "")],
)
def test_years_of_names_are_told_with_open_ends(first, last, words):
    assert name_years_words(first, last) == words
