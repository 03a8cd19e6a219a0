from __future__ import annotations

import numpy as np
import pytest

from solander.imaging.sizes import may_be_cut_short


def _sheet(width, height, at=(0.0, 0.0)):
    return np.array([[0.0, 0], [width, 0], [width, height], [0, height]]) + at


LIKE = _sheet(300, 200, at=(500, 20))


@pytest.mark.parametrize("size", [(290, 192), (192, 290)])
def test_a_print_a_little_smaller_than_another_may_have_lost_its_border(size):
    assert may_be_cut_short(_sheet(*size), [LIKE])


@pytest.mark.parametrize(
    "size",
    [(300, 200), (299, 199), (250, 170), (290, 205), (310, 207), (600, 400)],
    ids=["as large", "to a pixel", "another size", "smaller one way", "larger", "far larger"],
)
def test_other_sizes_tell_nothing(size):
    assert not may_be_cut_short(_sheet(*size), [LIKE])


def test_it_is_the_print_most_like_it_that_counts():
    assert not may_be_cut_short(_sheet(290, 192), [LIKE, _sheet(291, 192)])


def test_a_print_alone_is_of_no_wrong_size():
    assert not may_be_cut_short(_sheet(290, 192), [])
