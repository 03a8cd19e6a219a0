from __future__ import annotations

import pytest

from solander.imaging.conventions import iou
from solander.imaging.locate import locate_prints, look
from solander.imaging.sheet_on_table import on_its_sheet
from solander.imaging.simulate import drawn_picture, random_capture

pytestmark = pytest.mark.slow

SIZE = (1200, 900)
PICTURES = [drawn_picture(seed) for seed in range(8)]


@pytest.mark.slow
def test_a_print_on_a_sheet_whose_edges_show_is_found_and_the_sheet_is_not():
    found = []
    for seed in range(8):
        capture = random_capture(seed, PICTURES, case="stage edge", size=SIZE)
        prints = locate_prints(capture.rgb)
        found.append(len(prints) == 1 and iou(prints[0].corners, capture.truths[0]) >= 0.98)
    assert sum(found) >= 7


@pytest.mark.parametrize("case", ["grey stage", "doors and mounts", "borderless"])
def test_a_print_is_no_sheet_on_which_another_lies(case):
    for seed in range(4):
        scene = look(random_capture(seed, PICTURES, case=case, size=SIZE).rgb)
        assert on_its_sheet(scene) is scene
