"""The thin shadow that paper throws where it lies is not taken for paper, a printed border is.

The pictures are drawn here, sheet and line at known places, so that the truth is that of geometry.
"""

from __future__ import annotations

import cv2
import numpy as np
import pytest

from solander.imaging.conventions import corner_error
from solander.imaging.locate import locate_prints
from solander.imaging.simulate import drawn_picture

pytestmark = pytest.mark.slow

SHEET = np.array([[300, 200], [1099, 200], [1099, 799], [300, 799]], float)
EDGE = SHEET + np.array([[-0.5, -0.5], [0.5, -0.5], [0.5, 0.5], [-0.5, 0.5]])


def _on_white(*, line: int, dark: int, sheet: int = 238) -> np.ndarray:
    """A sheet with a picture in it on a white stage, a dark line of `line` pixels around it."""
    rng = np.random.default_rng(4)
    rgb = np.full((1000, 1400, 3), 232, np.float32)
    rgb[200 - line : 800 + line, 300 - line : 1100 + line] = dark
    rgb[200:800, 300:1100] = sheet
    rgb[240:760, 340:1060] = cv2.resize(drawn_picture(3), (720, 520))
    rgb = cv2.GaussianBlur(rgb, (0, 0), 0.9) + rng.normal(0, 2, rgb.shape)
    return np.clip(rgb, 0, 255).astype(np.uint8)


@pytest.mark.parametrize("line", [3, 4])
def test_paper_begins_within_the_thin_dark_line_around_it(line):
    (found,) = locate_prints(_on_white(line=line, dark=190))
    assert corner_error(found.corners, EDGE) < 0.1  # the line's rim is .4 % off and more


@pytest.mark.parametrize("border", [8, 16])
def test_a_printed_black_border_belongs_to_the_print(border):
    (found,) = locate_prints(_on_white(line=border, dark=20))
    out = EDGE + border * np.sign(EDGE - EDGE.mean(axis=0))
    assert corner_error(found.corners, out) < 0.1


def test_a_sheet_without_a_line_stays_as_it_is():
    (found,) = locate_prints(_on_white(line=0, dark=0, sheet=215))
    assert corner_error(found.corners, EDGE) < 0.1
