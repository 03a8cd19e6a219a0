from __future__ import annotations

import numpy as np
import pytest

from solander.imaging.conventions import iou
from solander.imaging.locate import locate_prints
from solander.imaging.simulate import Paper, Placement, Stage, drawn_picture, random_capture, simulate_capture

SIZE = (1600, 1200)
PICTURES = [drawn_picture(seed) for seed in range(8)]


def _beside(sizes_mm, *, turned=0.0, borders=(4.0, 4.0), stage="grey", seed=3):
    """Two sheets edge to edge, their upper edges in one line, the whole turned about the frame's middle."""
    papers = [
        Paper(PICTURES[i], size_mm=size, border_mm=border)
        for i, (size, border) in enumerate(zip(sizes_mm, borders, strict=True))
    ]
    (w1, h1), (w2, h2) = sizes_mm
    scale, angle = 6.0, np.deg2rad(turned)
    places = []
    for x, y in ((-w1 / 2, (h1 - max(h1, h2)) / 2), (w2 / 2, (h2 - max(h1, h2)) / 2)):
        x -= (w2 - w1) / 2
        middle = (np.array([x, y]) * scale) @ np.array(
            [[np.cos(angle), np.sin(angle)], [-np.sin(angle), np.cos(angle)]]
        )
        places.append(Placement((800 + middle[0], 600 + middle[1]), turned, scale))
    return simulate_capture(papers, places, Stage(stage), size=SIZE, seed=seed)


@pytest.mark.slow
@pytest.mark.parametrize("turned", [0.0, 17.0])
@pytest.mark.parametrize(
    "sizes", [((90, 60), (90, 60)), ((60, 90), (60, 90)), ((105, 75), (60, 60))], ids=["row", "pair", "uneven"]
)
def test_two_sheets_that_touch_are_two_prints(sizes, turned):
    capture = _beside(sizes, turned=turned)
    found = locate_prints(capture.rgb)
    assert len(found) == 2
    for truth in capture.truths:
        assert max(iou(f.corners, truth) for f in found) >= 0.95


@pytest.mark.slow
@pytest.mark.parametrize("case", ["touching", "flatbed touching"])
def test_most_scans_of_touching_prints_are_counted_right(case):
    captures = [random_capture(seed, PICTURES, case=case, size=SIZE) for seed in range(6)]
    right = [len(locate_prints(c.rgb)) == len(c.truths) for c in captures]
    assert sum(right) >= 4  # the whole evaluation is benchmarks/find_prints.py


@pytest.mark.parametrize("seed", range(4))
def test_one_print_is_not_parted_at_the_lines_of_its_picture(seed):
    capture = random_capture(seed, PICTURES, case="doors and mounts", size=SIZE)
    assert len(locate_prints(capture.rgb)) == 1
