from __future__ import annotations

import numpy as np
import pytest

from solander.imaging import together as module
from solander.imaging.conventions import iou
from solander.imaging.locate import look
from solander.imaging.seams import edges_at_middle
from solander.imaging.search import Candidate
from solander.imaging.segment import Likely
from solander.imaging.simulate import Paper, Placement, Stage, drawn_picture, simulate_capture
from solander.imaging.together import together

pytestmark = pytest.mark.slow

SIZE = (1600, 1200)
BORDER_MM = 5.0
SCALE = 6.0
MIDDLE_SCALE = 2


def _row(widths_mm):
    """Sheets in a row, edge to edge, 90 mm high, seen by nobody yet: the scene, and their outlines in it."""
    papers = [
        Paper(drawn_picture(i), size_mm=(w, 90.0), border_mm=BORDER_MM, seed=i) for i, w in enumerate(widths_mm)
    ]
    lefts = 800 + SCALE * (np.cumsum([0.0, *widths_mm[:-1]]) - sum(widths_mm) / 2)
    places = [Placement((x + SCALE * w / 2, 600.0), 0.0, SCALE) for x, w in zip(lefts, widths_mm, strict=True)]
    capture = simulate_capture(papers, places, Stage("grey"), size=SIZE, seed=4)
    scene = look(capture.rgb)
    return scene, [scene.middle.from_full(np.array(truth)) for truth in capture.truths]


def _told(scene, outlines, wrong, *, sure):
    """Edges as a network would tell them that is `sure` of the wrong outline and half sure of the true ones."""
    high, wide = (side // 2 for side in scene.middle.rgb.shape[:2])
    edge = np.zeros((high, wide), np.float32)
    rows, columns = np.mgrid[:high, :wide]
    for outline, likelihood in [*((one, 0.5) for one in outlines), (wrong, sure)]:
        left, top = (outline.min(axis=0) + 0.5) / 2 - 0.5
        right, bottom = (outline.max(axis=0) + 0.5) / 2 - 0.5
        upright = ((abs(columns - left) < 1.5) | (abs(columns - right) < 1.5)) & (rows > top) & (rows < bottom)
        level = ((abs(rows - top) < 1.5) | (abs(rows - bottom) < 1.5)) & (columns > left) & (columns < right)
        edge[upright | level] = np.maximum(edge[upright | level], likelihood)
    return edges_at_middle(scene, Likely(edge, edge, edge, (2.0, 2.0)))


def _cut_short(outline):
    """The outline with its right side at the picture's own, within the border."""
    return outline + BORDER_MM * SCALE / MIDDLE_SCALE * np.array([[0.0, 0.0], [-1, 0], [-1, 0], [0, 0]])


def _found(quad):
    return Candidate(quad, (0.0,) * 4, 0.9)


def test_a_side_at_the_pictures_frame_moves_to_the_seam_where_the_print_then_has_the_others_size():
    scene, (first, second, third) = _row((60.0, 60.0, 60.0))
    wrong = _cut_short(first)
    edge = _told(scene, (first, second, third), wrong, sure=0.6)
    assert iou(wrong, first) < 0.95
    moved, *others = together(scene, edge, [_found(quad) for quad in (wrong, second, third)])
    assert iou(moved.quad, first) > 0.98
    assert all(iou(one.quad, true) > 0.98 for one, true in zip(others, (second, third), strict=True))


def test_a_print_whose_size_no_other_has_keeps_the_sides_that_are_likelier(monkeypatch):
    monkeypatch.setattr(module, "TOUCHES", 0.0)  # sizes alone
    scene, (first, second) = _row((60.0, 75.0))
    wrong = _cut_short(first)
    edge = _told(scene, (first, second), wrong, sure=0.6)
    kept, _ = together(scene, edge, [_found(quad) for quad in (wrong, second)])
    assert kept.quad == pytest.approx(wrong)


def test_what_the_search_found_beside_stage_is_not_touched():
    scene, (first, second, third) = _row((60.0, 60.0, 60.0))
    apart = first - np.array([150.0, 0.0])  # faces nothing; its lines would make it as large as the others
    narrow = _cut_short(apart)
    found = Candidate(narrow, (0.0,) * 4, 0.9, chosen=(object(),) * 4)
    told = _told(scene, (apart, second, third), apart, sure=0.9)
    assert together(scene, told, [found, _found(second), _found(third)])[0] is found


def test_one_print_alone_stays():
    scene, (first, second) = _row((60.0, 60.0))
    found = [_found(first)]
    assert together(scene, _told(scene, (first, second), first, sure=0.9), found) == found
