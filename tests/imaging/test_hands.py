from __future__ import annotations

import numpy as np
import pytest
from drawn import pictures

from solander.imaging.conventions import iou
from solander.imaging.hands import like_skin
from solander.imaging.locate import locate_prints
from solander.imaging.simulate import random_capture
from solander.imaging.stage import to_lab

pytestmark = pytest.mark.slow

SIZE = (1200, 900)


@pytest.mark.slow
def test_a_hand_over_an_edge_is_told_and_the_outline_holds():
    told, good = 0, 0
    for seed in range(8):
        capture = random_capture(seed, pictures(8), case="finger", size=SIZE)
        best = max(locate_prints(capture.rgb), key=lambda f: iou(f.corners, capture.truths[0]))
        told += best.hand
        good += iou(best.corners, capture.truths[0]) >= 0.98
    assert told >= 7
    assert good >= 6


@pytest.mark.parametrize("case", ["grey stage", "wood", "borderless", "stage edge"])
def test_no_hand_is_told_where_there_is_none(case):
    for seed in range(3):
        capture = random_capture(seed, pictures(8), case=case, size=SIZE)
        assert not any(f.hand for f in locate_prints(capture.rgb))


# Mean sRGB of the ten shades of the Monk Skin Tone scale (Ellis Monk, Google, 2022, CC BY 4.0), from memory.
MONK = (
    "f6ede4", "f3e7db", "f7ead0", "eadaba", "d7bd96", "a07e56", "825c43", "604134", "3a312a", "292420",
)  # fmt: skip


def test_skin_of_every_shade_of_a_published_scale_is_like_skin():
    shades = np.array([[int(code[i : i + 2], 16) for i in (0, 2, 4)] for code in MONK], np.float32)
    told = like_skin(to_lab(shades[None]))[0]
    assert told[3:8].all()  # the ends of the scale, as swatches, are all but without colour


def test_stage_colours_are_not_like_skin():
    stages = np.array([[[119, 119, 118], [52, 92, 156], [58, 122, 82], [30, 30, 32]]], np.uint8)
    assert not like_skin(to_lab(stages)).any()
