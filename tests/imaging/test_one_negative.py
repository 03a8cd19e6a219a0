"""Two pictures of one negative, and of two exposures: on drawn pictures, so that the truth is known."""

from __future__ import annotations

import cv2
import numpy as np
import pytest

from solander.imaging.one_negative import Likeness, likeness
from solander.imaging.plain_border import inside_border
from solander.imaging.rectify import quarter_turn
from solander.imaging.simulate import drawn_picture


def drawn(seed: int):
    """A drawn scene with grain, so that every part of it shows something."""
    rgb = cv2.resize(drawn_picture(seed), (480, 360), interpolation=cv2.INTER_AREA)
    draw = np.random.default_rng(seed)
    grain = cv2.resize(draw.normal(0, 26, (90, 120)).astype(np.float32), (480, 360), interpolation=cv2.INTER_CUBIC)
    return np.clip(rgb + grain[..., None], 0, 255).astype(np.uint8)


ONE, OTHER = drawn(0), drawn(1)


def faded(rgb):
    return np.clip(rgb * 0.6 + 80, 0, 255).astype(np.uint8)


def with_border(rgb):
    return cv2.copyMakeBorder(rgb, 20, 20, 20, 20, cv2.BORDER_CONSTANT, value=(238, 234, 222))


def dusty(rgb):
    draw, paper = np.random.default_rng(4), rgb.copy()
    for x, y in draw.integers(20, 340, (30, 2)).tolist():
        cv2.circle(paper, (x, y), 2, (240, 240, 240), -1)
    return paper


@pytest.mark.parametrize("change", [faded, with_border, dusty, lambda rgb: quarter_turn(faded(rgb), 1)])
def test_another_print_is_of_the_negative(change):
    found = likeness(ONE, change(ONE), mirrored=False)
    assert found.is_one_negative
    assert not found.is_part
    assert found.certainty > 0.9
    assert likeness(ONE, change(ONE), mirrored=False) == found  # the same two give the same answer


def test_a_print_the_wrong_way_round_is_found_as_such():
    found = likeness(ONE, np.ascontiguousarray(faded(ONE)[:, ::-1]))
    assert (found.is_one_negative, found.is_mirrored) == (True, True)


def test_a_part_tells_how_much_of_each_lies_in_the_other():
    found = likeness(ONE, np.ascontiguousarray(ONE[60:300, 80:400]), mirrored=False)
    assert found.is_part
    assert found.within == pytest.approx((240 * 320 / (360 * 480), 1.0), abs=0.02)  # areas, by hand


def test_a_scene_in_which_somebody_moved_is_another_exposure():
    moved = ONE.copy()
    moved[120:260, 180:280] = ONE[120:260, 196:296]
    found = likeness(ONE, moved, mirrored=False)
    assert found.inliers >= 40
    assert found.moved > 0.015
    assert not found.is_one_negative


def test_a_scene_from_a_step_to_the_side_is_another_exposure_though_nothing_moves_that_is_seen_alone():
    rows, columns = np.mgrid[0:360, 0:480].astype(np.float32)
    near = 2 * np.sin(columns / 60) * np.cos(rows / 50)  # what is near moves by up to 2 pixels of 480
    beside = cv2.remap(ONE, columns + near, rows, cv2.INTER_LINEAR, borderMode=cv2.BORDER_REFLECT)
    found = likeness(ONE, beside, mirrored=False)
    assert (found.moved, found.missing) == (0, 0)
    assert not found.is_one_negative


def test_a_smaller_print_lies_right_to_a_part_of_a_pixel():
    found = likeness(ONE, cv2.resize(ONE, (360, 270), interpolation=cv2.INTER_AREA), mirrored=False)
    assert found.frame_off < 0.001  # half a pixel of 480 would be 0.00104
    assert found.drop < 0.005


def test_other_pictures_and_empty_ones_agree_in_nothing():
    even = np.full((200, 300, 3), 128, np.uint8)
    assert not likeness(ONE, OTHER).is_one_negative
    assert not likeness(even, ONE).is_one_negative
    assert likeness(even, even).certainty == 0.0


def test_few_windows_are_less_sure_than_many():
    assert Likeness(windows=4).certainty < Likeness(windows=40).certainty < 1


def test_a_border_is_left_out_and_a_sky_is_not():
    grey = cv2.cvtColor(with_border(ONE), cv2.COLOR_RGB2GRAY)
    inside = inside_border(grey)
    assert not inside[:19].any()
    assert not inside[:, -19:].any()
    assert inside[30:-30, 30:-30].all()
    sky = cv2.cvtColor(ONE, cv2.COLOR_RGB2GRAY)
    sky[:120] = 220
    assert inside_border(sky)[5:-5, 5:-5].all()
