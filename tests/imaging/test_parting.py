from __future__ import annotations

from types import SimpleNamespace

import cv2
import numpy as np
import pytest
from attrs import evolve
from drawn import pictures

from solander.imaging.conventions import iou
from solander.imaging.locate import locate_prints, look
from solander.imaging.parting import parted
from solander.imaging.search import Candidate
from solander.imaging.segment import Likely
from solander.imaging.simulate import Paper, Placement, Stage, random_capture, simulate_capture

pytestmark = pytest.mark.slow

SIZE = (1600, 1200)


def _beside(sizes_mm, *, turned=0.0, borders=(4.0, 4.0), stage="grey", seed=3):
    """Two sheets edge to edge, their upper edges in one line, the whole turned about the frame's middle."""
    papers = [
        Paper(pictures(8)[i], size_mm=size, border_mm=border)
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
    captures = [random_capture(seed, pictures(8), case=case, size=SIZE) for seed in range(6)]
    right = [len(locate_prints(c.rgb)) == len(c.truths) for c in captures]
    assert sum(right) >= 4  # the whole evaluation is benchmarks/find_prints.py


@pytest.mark.parametrize("seed", range(4))
def test_one_print_is_not_parted_at_the_lines_of_its_picture(seed):
    capture = random_capture(seed, pictures(8), case="doors and mounts", size=SIZE)
    assert len(locate_prints(capture.rgb)) == 1


def _told(*outlines, size, long_side):
    """What a network would tell that sees prints of these outlines."""
    scale = size[0] / long_side
    inside, edge, core = (np.zeros((round(size[1] / scale), long_side), np.float32) for _ in range(3))
    for outline in outlines:
        here = (outline + 0.5) / scale - 0.5
        cv2.fillPoly(inside, [np.rint(here).astype(np.int32)], 1.0)
        cv2.polylines(edge, [np.rint(here).astype(np.int32)], True, 1.0, 3)
        rim = 2 * round(0.1 * np.linalg.norm(here[1] - here[2])) + 1  # as it learns them: a fifth of the depth
        core += cv2.erode(inside, np.ones((rim, rim), np.uint8))
    return Likely(inside, edge, core, (scale, scale))


def _scene(afar, closely):
    """A print on grey, with what a network tells of it from afar and closely, and the print's outline."""
    paper, at = Paper(pictures(8)[1], size_mm=(150, 100)), Placement((800.0, 600.0), 4.0, 6.0)
    capture = simulate_capture([paper], [at], Stage("grey"), size=SIZE, seed=1)
    scene = look(capture.rgb)
    true, size = scene.middle.from_full(capture.truths[0]), scene.middle.rgb.shape[1::-1]
    network = SimpleNamespace(
        likely=_told(*(true + np.array(by) for by in afar), size=size, long_side=320),
        likely_closely=_told(*(true + np.array(by) for by in closely), size=size, long_side=640),
    )
    return evolve(scene, network=network), true


def test_what_the_network_tells_weakly_takes_no_finds_place():
    scene, true = _scene(afar=[(90.0, 0.0)], closely=[(90.0, 0.0)])
    found = Candidate(true, (0.0,) * 4, 0.6)
    assert parted(scene, [found]) == [found]


def test_a_print_that_the_network_tells_only_from_afar_is_kept():
    scene, true = _scene(afar=[(0.0, 0.0)], closely=[(0.0, 0.0)])
    scene.network.likely_closely.core[:] = 0
    (found,) = parted(scene, [])
    assert iou(found.quad, true) > 0.95
