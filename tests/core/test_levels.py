"""The published levels, by the table of FADGI 2016, "Prints and Photographs" (read in the source), and that of
ISO 19264-1:2021 as a published table of comparison gives it (secondary)."""

from __future__ import annotations

import pytest

from solander.core.levels import FADGI, FIGURE_NAMES, ISO, Figure, judged

GOOD = {
    Figure.SAMPLING: 620, Figure.TONE: 1.5, Figure.WHITE_BALANCE: 1.0, Figure.UNEVENNESS: 0.8,
    Figure.COLOUR_MEAN: 1.5, Figure.MISREGISTRATION: 0.1, Figure.MTF10: 95, Figure.AT_HALF: 0.15,
    Figure.MTF50: 50, Figure.SHARPENING: 1.0, Figure.NOISE: 0.6, Figure.COLOUR_MAX: 5,
    Figure.HIGHLIGHTS: 1.0, Figure.GAIN: 0.9, Figure.GAIN_HIGH: 1.1,
}  # fmt: skip


def test_a_perfect_stand_has_four_stars_and_level_a():
    assert judged(GOOD, FADGI).name == "4 stars"
    assert judged(GOOD, ISO).name == "level A"
    assert judged(GOOD, FADGI).is_whole
    assert judged(GOOD, ISO).is_whole


@pytest.mark.parametrize(
    ("figure", "worst_of_each_level"),
    [
        (Figure.SAMPLING, (100, 200, 400, 600)),
        (Figure.TONE, (8, 6, 4, 2)),
        (Figure.WHITE_BALANCE, (8, 6, 4, 2)),
        (Figure.UNEVENNESS, (7.9, 4.9, 2.9, 0.9)),
        (Figure.COLOUR_MEAN, (9.9, 5.9, 3.9, 1.9)),
        (Figure.MISREGISTRATION, (1.1, 0.79, 0.49, 0.32)),
        (Figure.MTF10, (61, 71, 81, 91)),
        (Figure.MTF50, (26, 31, 36, 41)),
        (Figure.MTF50, (94, 84, 74, 64)),
        (Figure.SHARPENING, (1.29, 1.19, 1.09, 1.0)),
        (Figure.NOISE, (4, 3, 2, 1)),
    ],
)
def test_stars_of_each_figure(figure, worst_of_each_level):
    assert [FADGI.level_of(figure, value) for value in worst_of_each_level] == [1, 2, 3, 4]


def test_bounds_that_are_said_with_less_than():
    assert FADGI.level_of(Figure.UNEVENNESS, 8.0) == 0
    assert FADGI.level_of(Figure.COLOUR_MEAN, 2.0) == 3
    assert FADGI.level_of(Figure.AT_HALF, 0.35) == 2, "the same bound holds for one star and two"
    assert FADGI.level_of(Figure.SHARPENING, 1.3) == 0


def test_levels_of_iso():
    assert [ISO.level_of(Figure.NOISE, value) for value in (2.3, 2.2, 2.0, 1.6)] == [0, 1, 2, 3]
    assert [ISO.level_of(Figure.HIGHLIGHTS, value) for value in (0.5, 0.65, 0.75, 0.9, 1.25)] == [0, 1, 2, 3, 1]
    assert ISO.level_of(Figure.COLOUR_MEAN, 5.0) == 2, "levels B and C have the same bound"


def test_the_worst_decides_and_nothing_is_averaged():
    told = judged({**GOOD, Figure.NOISE: 3.5}, FADGI)
    assert (told.name, told.decides) == ("1 star", (Figure.NOISE,))
    assert judged({**GOOD, Figure.SAMPLING: 90}, FADGI).name == "below all levels"


def test_what_was_not_measured_is_named():
    told = judged({Figure.NOISE: 0.5}, FADGI)
    assert told.name == "4 stars"
    assert not told.is_whole
    assert Figure.SAMPLING in told.unmeasured
    assert Figure.COLOUR_MAX not in told.unmeasured, "FADGI has no such row"


def test_nothing_measured_is_no_level():
    assert judged({}, FADGI).level is None
    assert judged({Figure.TILT: 1.0}, ISO).name == "", "no level is published for a tilt"


@pytest.mark.parametrize("value", [float("nan"), float("inf")])
def test_what_is_no_number_was_not_measured(value):
    told = judged({Figure.MTF10: value, Figure.NOISE: 2.5}, FADGI)
    assert (told.name, told.decides) == ("2 stars", (Figure.NOISE,))
    assert Figure.MTF10 in told.unmeasured
    assert judged({Figure.MTF10: value}, FADGI).level is None


def test_every_figure_has_a_name():
    assert set(FIGURE_NAMES) == set(Figure)
