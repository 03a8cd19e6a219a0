"""The evaluation counts rightly, and a small sample of it holds.

The whole evaluation is `benchmarks/find_prints.py`; here its scoring is held against outlines whose worth is
known, and a few of its captures, with drawn pictures and so without the shared folder, are searched.
"""

from __future__ import annotations

import importlib
from pathlib import Path

import numpy as np
import pytest
from drawn import pictures

from solander.imaging.conventions import whole_frame
from solander.imaging.locate import Found, locate_prints
from solander.imaging.simulate import CASES, PLAIN_CASES, random_capture

BENCHMARKS = Path(__file__).parents[2] / "benchmarks"
TRUTHS = tuple(np.array([[x, 40], [x + 400, 40], [x + 400, 340], [x, 340]], float) for x in (50, 500))


@pytest.fixture
def score(monkeypatch):
    monkeypatch.syspath_prepend(str(BENCHMARKS))
    return importlib.import_module("finder_score")


def counted(score, row, found, truths=TRUTHS, *, hand=False):
    return score.outcome(row, 1, found, truths, hand=hand, seconds=0.1)


def test_perfect_finds_meet_every_row(score):
    for row in score.ROWS:
        hand = row == "finger"
        truths = () if row == "empty" else TRUTHS
        perfect = counted(score, row, [Found(t, 1.0, hand=hand) for t in reversed(truths)], truths, hand=hand)
        text, met = score.row(row, [perfect] * 3)
        assert met, text


def test_finding_nothing_meets_only_the_empty_stage(score):
    assert [row for row in score.ROWS if score.row(row, [counted(score, row, [])])[1]] == ["empty"]


def test_every_case_of_the_simulator_has_its_targets(score):
    assert set(score.ROWS) == {*CASES, score.REAL, score.WITH_EMPTY}


def test_a_moved_find_has_the_error_that_it_was_moved_by(score):
    # All corners 3 px off, of a diagonal of 500 px: .6 %. Two equal rectangles 3 px apart share 397 / 403.
    one = counted(score, "wood", [Found(TRUTHS[0] + [3, 0], 0.95)], TRUTHS[:1])
    assert one.prints[0].error == pytest.approx(0.6)
    assert one.prints[0].overlap == pytest.approx(397 / 403)
    assert "not met" in score.row("wood", [one])[0]


def test_what_is_no_print_is_false_and_spoils_the_count(score):
    more = counted(score, "apart", [Found(t, 1.0) for t in (*TRUTHS, TRUTHS[0] + [0, 400])])
    assert (len(more.false), more.counted_right) == (1, False)
    assert not score.row("apart", [more])[1]
    assert not score.row("empty", [counted(score, "empty", [Found(TRUTHS[0], 0.5)], ())])[1]


def test_two_finds_of_one_print_are_one_find_and_a_false_one(score):
    twice = counted(score, "apart", [Found(TRUTHS[0], 0.9), Found(TRUTHS[0] + [9, 0], 1.0)])
    assert [one.missed for one in twice.prints] == [False, True]
    assert twice.prints[0].overlap == pytest.approx(1)
    assert twice.counted_right  # two finds for two prints: the overlaps tell the rest
    assert not score.row("apart", [twice])[1]


def test_missed_prints_spoil_the_percentile_where_no_share_of_them_is_allowed(score):
    half = counted(score, "curl", [Found(TRUTHS[0], 1.0)])
    assert "inf (≤ 0.8) !" in score.row("curl", [half])[0]
    assert "p95 % 0 (≤ 0.8)" in score.row("dark on black", [half])[0]  # there misses have a bound of their own


def test_the_frame_within_a_print_is_told(score):
    middle = TRUTHS[0].mean(axis=0)
    for share in (0.9, 0.6):
        inner = counted(score, "glare", [Found(middle + (TRUTHS[0] - middle) * share, 1.0)], TRUTHS[:1])
        assert inner.prints[0].inner
    outer = counted(score, "glare", [Found(middle + (TRUTHS[0] - middle) * 1.1, 1.0)], TRUTHS[:1])
    assert not outer.prints[0].inner


def test_a_capture_is_accepted_only_if_each_of_its_finds_is_sure(score):
    sure, unsure = (counted(score, "apart", [Found(TRUTHS[0], 1.0), Found(TRUTHS[1], c)]) for c in (0.97, 0.6))
    nothing = counted(score, "apart", [])
    assert [one.is_sure for one in (sure, unsure, nothing)] == [True, False, False]
    assert ": met" in score.sureness("x", [sure] * 9 + [unsure])
    assert "not met" in score.sureness("x", [sure] * 8 + [unsure] * 2)


def test_calibration_counts_false_finds_as_wrong(score):
    right, wrong = (
        counted(score, "apart", [Found(t, 0.99) for t in TRUTHS]),
        counted(score, "empty", [Found(TRUTHS[0], 0.99)], ()),
    )
    line = next(line for line in score.calibration([right, wrong]) if line.startswith("0.98"))
    assert line.split()[1] == "3"
    assert "66.7 %" in line


def test_a_hand_counts_where_it_is_and_where_it_is_not(score):
    told, untold = (
        counted(score, "finger", [Found(t, 1.0, hand=h) for t in TRUTHS], hand=True) for h in (True, False)
    )
    assert score.row("finger", [told])[1]
    assert not score.row("finger", [untold])[1]
    invented = counted(score, "wood", [Found(TRUTHS[0], 1.0, hand=True)])
    assert "1 of 1 captures" in score.verdict([invented])[1]


SEEDS = range(40, 43)


def searched(score, case):
    """What came of three captures of a case."""
    for seed in SEEDS:
        capture = random_capture(seed, pictures(12), case=case, size=(1600, 1200))
        yield counted(score, case, locate_prints(capture.rgb), capture.truths)


@pytest.mark.slow
def test_a_sample_of_plain_stages_keeps_the_targets(score):
    """The targets on four stages together: each alone would be three captures, and p95 their worst.

    "≥ .99 for 95 %" lets one of twelve be lower: where it holds for all captures, two of twelve are in one sample
    of eight (binomial).
    """
    seen = [one for case in PLAIN_CASES for each in searched(score, case) for one in each.prints]
    assert len(seen) == 12
    assert all(one.overlap >= 0.98 for one in seen)
    assert sum(one.overlap < 0.99 for one in seen) <= 1
    assert np.median([one.error for one in seen]) <= 0.10
    assert np.percentile([one.error for one in seen], 95) <= 0.30


@pytest.mark.slow
@pytest.mark.parametrize(
    "case",
    [
        "wood",
        "rounded",
        "deckle",
        "curl",
        "household",
    ],
)
def test_a_sample_of_other_cases_is_found_well(score, case):
    # Of three captures every one: the share of the target (97 % and less) can't be told apart from all of them.
    for one in searched(score, case):
        assert one.counted_right
        assert all(seen.overlap >= 0.98 for seen in one.prints)


@pytest.mark.slow
def test_an_empty_stage_of_the_sample_holds_no_print(score):
    assert not [one.false for one in searched(score, "empty") if one.false]


def test_the_whole_frame_is_no_find_of_a_print(score):
    whole = counted(score, "grey stage", [Found(whole_frame(1600, 1200), 1.0)], TRUTHS[:1])
    assert whole.prints[0].missed
    assert len(whole.false) == 1
