"""The segmenter's part: proposals from a mask, nothing without weights, and what the shipped weights see."""

from __future__ import annotations

from pathlib import Path

import cv2
import numpy as np
import pytest
from attrs import evolve

from solander.imaging import locate
from solander.imaging.conventions import Quad, iou
from solander.imaging.cores import cores_apart
from solander.imaging.segment import CLOSE_SIDE, WEIGHTS, Likely, segment
from solander.imaging.simulate import drawn_picture, random_capture


def told(*quads: Quad, size: tuple[int, int] = (256, 320)) -> Likely:
    """What a network that errs nowhere would tell of these outlines."""
    inside, edge, core = (np.zeros(size, np.float32) for _ in range(3))
    for quad in quads:
        cv2.fillConvexPoly(inside, np.rint(quad).astype(np.int32), 1.0)
        inner = quad + np.array([[7, 7], [-7, 7], [-7, -7], [7, -7]])
        cv2.fillConvexPoly(core, np.rint(inner).astype(np.int32), 1.0)
    for quad in quads:
        cv2.polylines(edge, [np.rint(quad).astype(np.int32)], True, 1.0, 3)
    return Likely(inside, edge, core, (2.0, 2.0))


LEFT = np.array([[40.0, 60.0], [120.0, 60.0], [120.0, 180.0], [40.0, 180.0]])


def test_a_mask_gives_its_outline_in_the_picture() -> None:
    (found,) = cores_apart(told(LEFT))
    assert iou(found, (LEFT + 0.5) * 2 - 0.5) > 0.95


def test_prints_that_touch_are_told_apart() -> None:
    right = LEFT + np.array([80.0, 20.0])
    found = cores_apart(told(LEFT, right))
    assert len(found) == 2
    for quad in (LEFT, right):
        assert max(iou(f, (quad + 0.5) * 2 - 0.5) for f in found) > 0.9


def test_what_is_not_four_sided_is_no_proposal() -> None:
    likely = told()
    corner = np.array([[40, 40], [240, 40], [240, 80], [80, 80], [80, 220], [40, 220]], np.int32)
    cv2.fillPoly(likely.inside, [corner], 1.0)
    cv2.polylines(likely.edge, [corner], True, 1.0, 3)
    cv2.polylines(likely.core, [np.array([[60, 200], [60, 60], [220, 60]], np.int32)], False, 1.0, 9)
    assert cores_apart(likely) == []


@pytest.mark.slow
def test_without_weights_nothing_is_proposed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    missing = tmp_path / "none.onnx"
    assert segment(np.zeros((90, 120, 3), np.uint8), weights=missing) is None
    asked = "solander.imaging.segment.segment"
    monkeypatch.setattr(asked, lambda rgb, **how: segment(rgb, weights=missing, **how))
    capture = random_capture(3, [drawn_picture(1)], case="grey stage", size=(640, 480))
    (found,) = locate.locate_prints(capture.rgb)
    assert iou(found.corners, capture.truths[0]) > 0.98
    assert locate.locate_prints(np.full((480, 640, 3), 128, np.uint8)) == ()


def test_the_network_is_asked_once_whatever_the_stage_is_taken_for() -> None:
    scene = locate.look(np.full((96, 128, 3), 128, np.uint8))
    assert evolve(scene, stage=evolve(scene.stage, explained=0.0)).likely is scene.likely


@pytest.mark.parametrize("size", [(504, 378), (378, 504), (400, 400), (90, 1200)])
def test_the_shipped_network_takes_any_shape(size: tuple[int, int]) -> None:
    likely = segment(np.full((*size, 3), 128, np.uint8))
    assert likely is not None
    assert max(likely.inside.shape) == 320
    assert all(side % 32 == 0 for side in likely.inside.shape)
    assert cores_apart(likely) == []
    closely = segment(np.full((*size, 3), 128, np.uint8), long_side=CLOSE_SIDE)
    assert closely is not None
    assert max(closely.inside.shape) == 640


def test_the_weights_stay_small() -> None:
    assert WEIGHTS.stat().st_size < 2_000_000


@pytest.mark.slow
@pytest.mark.parametrize("case", ["white on white", "dark on black", "household"])
def test_the_shipped_network_sees_prints_that_hardly_stand_out(case: str) -> None:
    pictures = [drawn_picture(seed) for seed in range(4)]
    seen = []
    for seed in range(6):
        capture = random_capture(seed, pictures, case=case, size=(640, 480))
        likely = segment(capture.rgb)
        assert likely is not None
        found = cores_apart(likely)
        seen += [max((iou(f, truth) for f in found), default=0.0) for truth in capture.truths]
    assert np.mean(seen) > 0.85  # single ones may be missed: it only proposes
