from __future__ import annotations

import numpy as np
import pytest
from attrs import evolve

from solander.imaging.locate import locate_prints, look
from solander.imaging.one_sheet import one_sheet
from solander.imaging.search import Candidate

CORNERS = np.array([[100.0, 60], [340, 60], [340, 420], [100, 420]])


def _print(step=0):
    """A print of a light upper and a dark lower part, or two of which the lower is wider by `step` pixels."""
    picture = np.full((480, 480, 3), (60, 110, 80), np.float64)
    picture[60:260, 100:341] = 170
    picture[260:421, 100 : 341 + step] = 90
    return np.clip(picture + np.random.default_rng(2).normal(0, 2, picture.shape), 0, 255).astype(np.uint8)


def _whole(support=1.0):
    return Candidate(CORNERS, (0.0,) * 4, support)


def _parts(at):
    upper, lower = CORNERS.copy(), CORNERS.copy()
    upper[2:, 1] = lower[:2, 1] = at
    return [evolve(_whole(), quad=quad) for quad in (upper, lower)]


def test_a_line_from_edge_to_edge_of_one_rectangle_makes_no_two_prints_of_it():
    assert one_sheet(look(_print()), _whole(), _parts(260))


@pytest.mark.parametrize("at", [240, 245])
def test_two_prints_of_one_size_may_make_one_rectangle(at):
    assert not one_sheet(look(_print()), _whole(), _parts(at))


def test_sides_that_are_hardly_seen_tell_nothing():
    assert not one_sheet(look(_print()), _whole(support=0.8), _parts(260))


@pytest.mark.parametrize("step", [2, 4, 6])
def test_two_prints_of_unlike_widths_are_no_sheet(step):
    assert not one_sheet(look(_print(step=step)), _whole(), _parts(260))


def test_a_print_with_a_line_across_is_told_once():
    assert len(locate_prints(_print())) == 1
