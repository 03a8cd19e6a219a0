from __future__ import annotations

import cv2
import numpy as np
import pytest
from drawn import pictures

from solander.imaging.conventions import iou
from solander.imaging.locate import locate_prints, look
from solander.imaging.sheet_on_table import is_mounted, on_its_sheet
from solander.imaging.simulate import random_capture

SIZE = (1200, 900)


@pytest.mark.slow
def test_a_print_on_a_sheet_whose_edges_show_is_found_and_the_sheet_is_not():
    found = []
    for seed in range(8):
        capture = random_capture(seed, pictures(8), case="stage edge", size=SIZE)
        prints = locate_prints(capture.rgb)
        found.append(len(prints) == 1 and iou(prints[0].corners, capture.truths[0]) >= 0.98)
    assert sum(found) >= 7


@pytest.mark.slow
@pytest.mark.parametrize("case", ["grey stage", "doors and mounts", "borderless"])
def test_a_print_is_no_sheet_on_which_another_lies(case):
    for seed in range(4):
        scene = look(random_capture(seed, pictures(8), case=case, size=SIZE).rgb)
        assert on_its_sheet(scene) is scene


def _noisy(colour, rng):
    return np.clip(np.array(colour) + rng.normal(0, 2, (450, 600, 3)), 0, 255)


def _laid(picture, corners, colour):
    cv2.fillConvexPoly(picture, np.rint(np.array(corners) * 16).astype(np.int32), colour, cv2.LINE_AA, 4)


PRINT = np.array([[150.0, 100], [330, 125], [312, 255], [132, 230]])


@pytest.mark.parametrize(
    "board", [[[90, 60], [510, 70], [505, 400], [85, 390]], [[-50, -50], [420, -50], [430, 500], [-50, 500]]],
    ids=["all its edges", "one edge"],
)  # fmt: skip
def test_the_print_is_found_and_not_the_board_on_which_it_lies_on_a_table(board):
    picture = np.ascontiguousarray(_noisy((205, 200, 190), np.random.default_rng(1)).astype(np.uint8))
    _laid(picture, board, (40, 60, 50))
    _laid(picture, PRINT, (238, 234, 224))
    _laid(picture, PRINT.mean(axis=0) + 0.8 * (PRINT - PRINT.mean(axis=0)), (110, 100, 95))
    (found,) = locate_prints(picture)
    assert iou(found.corners, PRINT) > 0.97


@pytest.mark.parametrize(("shift", "square"), [((0.0, 0.0), True), ((0.0, 8.0), True), ((12.0, 8.0), False)])
def test_a_picture_in_its_border_lies_square_with_two_margins_alike(shift, square):
    outer = np.array([[0.0, 0], [88, 0], [88, 107], [0, 107]])  # mm of an instant print (from memory)
    inner = outer.mean(axis=0) + 0.8 * (outer - outer.mean(axis=0)) - shift
    assert is_mounted(inner, outer) is square


@pytest.mark.parametrize("seed", range(3))
def test_the_words_on_a_back_are_no_prints_upon_a_sheet(seed):
    rng = np.random.default_rng(seed)
    picture = np.ascontiguousarray(np.clip(rng.normal(30, 2, (1200, 900, 3)), 0, 255).astype(np.uint8))
    back = np.array([[170.0, 170], [760, 190], [737, 1034], [143, 1018]]) + rng.uniform(-8, 8, (4, 2))
    _laid(picture, back, (236, 226, 203))
    for row, words in enumerate(("DEVELOPED", "SEP 1959", "at the harbour")):
        place = (int(rng.integers(230, 360)), 600 + 90 * row)
        cv2.putText(picture, words, place, cv2.FONT_HERSHEY_TRIPLEX, 1.6, (88, 50, 130), 6, cv2.LINE_AA)
    (found,) = locate_prints(picture)
    assert iou(found.corners, back) > 0.98
