from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from solander.imaging.conventions import (
    WrongPicture,
    area,
    as_quad,
    clockwise_from_top_left,
    corner_error,
    iou,
    is_convex,
    require_rgb,
    whole_frame,
)

SQUARE = np.array([[0.0, 0.0], [10.0, 0.0], [10.0, 10.0], [0.0, 10.0]])
numbers = st.floats(-500, 500)
rectangles = st.builds(
    lambda x, y, w, h, angle: _turned(np.array([[0, 0], [w, 0], [w, h], [0, h]]), angle) + np.array([x, y]),
    numbers, numbers, st.floats(5, 400), st.floats(5, 400), st.floats(-3, 3),
)  # fmt: skip


def _turned(points, angle):
    c, s = np.cos(angle), np.sin(angle)
    return points @ np.array([[c, s], [-s, c]])


@pytest.mark.parametrize(
    ("moved", "expected"),
    [((0, 0), 1.0), ((5, 0), 1 / 3), ((5, 5), 25 / 175), ((10, 0), 0.0), ((40, 3), 0.0)],
)
def test_overlap_of_squares_is_what_the_areas_say(moved, expected):
    assert iou(SQUARE, SQUARE + moved) == pytest.approx(expected, abs=1e-12)


def test_outlines_that_touch_in_a_point_share_nothing_not_less():
    beside = np.array(
        [[0.0, 0.0], [-2.08073418, -4.54648713], [2.46575295, -6.62722132], [4.54648713, -2.08073418]]
    )
    touching = np.array([[7.6e-109, -3.46e-18], [5.0, -3.46e-18], [5.0, 5.0], [7.6e-109, 5.0]])
    assert iou(touching, beside) >= 0


@given(rectangles, rectangles)
def test_overlap_is_symmetric_and_a_share(a, b):
    assert 0 <= iou(a, b) <= 1 + 1e-9
    assert iou(a, b) == pytest.approx(iou(b, a), abs=1e-6)


@given(rectangles, st.integers(0, 3), st.booleans())
def test_overlap_cares_neither_for_first_corner_nor_direction(quad, shift, reverse):
    other = np.roll(quad, shift, axis=0)[:: -1 if reverse else 1]
    assert iou(quad, other) == pytest.approx(1.0, abs=1e-6)


@given(rectangles, st.integers(0, 3))
def test_corner_error_is_the_distance_in_percent_of_the_diagonal(quad, shift):
    diagonal = np.linalg.norm(quad[2] - quad[0])
    moved = np.roll(quad, shift, axis=0) + diagonal * np.array([0.003, 0.004])
    assert corner_error(moved, quad) == pytest.approx(0.5, rel=1e-6)


@given(rectangles, st.permutations(range(4)))
def test_corner_order_is_ours_from_any_order(quad, order):
    ordered = clockwise_from_top_left(quad[list(order)])
    assert is_convex(ordered)
    assert area(ordered) > 0
    assert ordered[0].sum() == pytest.approx(quad.sum(axis=1).min(), abs=1e-5)
    assert sorted(map(tuple, ordered)) == sorted(map(tuple, quad))


def test_the_whole_frame_has_the_pictures_area():
    assert area(whole_frame(120, 80)) == 120 * 80


@pytest.mark.parametrize("wrong", [np.zeros((3, 2)), np.full((4, 2), np.nan), np.zeros((4, 3))])
def test_what_is_no_outline_is_refused(wrong):
    with pytest.raises(WrongPicture):
        as_quad(wrong)


@pytest.mark.parametrize("wrong", [np.zeros((4, 4), np.uint8), np.zeros((4, 4, 3)), np.zeros((0, 4, 3), np.uint8)])
def test_what_is_no_picture_is_refused(wrong):
    with pytest.raises(WrongPicture):
        require_rgb(wrong)
