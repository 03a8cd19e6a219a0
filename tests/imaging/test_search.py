"""What the search weighs, on scenes drawn by hand: each holds one temptation."""

from __future__ import annotations

import cv2
import numpy as np
import pytest

from solander.imaging.conventions import corner_error, iou
from solander.imaging.empty import stage_from_empty
from solander.imaging.lines import outlines_from_lines
from solander.imaging.locate import locate_prints, look
from solander.imaging.proposals import propose
from solander.imaging.search import search
from solander.imaging.stage import reduce, stage_from_margin

pytestmark = pytest.mark.slow

SIZE = (960, 720)
SHIFT = 4  # OpenCV draws in sixteenths of a pixel


def _stage(colour=(118, 119, 120), *, noise=2.0, seed=0):
    rng = np.random.default_rng(seed)
    plain = np.full((SIZE[1], SIZE[0], 3), colour, np.float32)
    return np.clip(plain + noise * rng.standard_normal(plain.shape), 0, 255).astype(np.uint8)


def _outline(centre=(480.0, 350.0), size=(420.0, 290.0), turned=4.0):
    half = np.array([[-1, -1], [1, -1], [1, 1], [-1, 1]]) * np.array(size) / 2
    angle = np.deg2rad(turned)
    turn = np.array([[np.cos(angle), np.sin(angle)], [-np.sin(angle), np.cos(angle)]])
    return half @ turn + centre


def _fill(rgb, outline, colour):
    cv2.fillConvexPoly(rgb, np.rint(outline * 2**SHIFT).astype(np.int32), colour, cv2.LINE_AA, SHIFT)


def _within(outline, width):
    """The outline so many pixels further in on every side."""
    ahead = np.roll(outline, -1, axis=0) - outline
    ahead /= np.linalg.norm(ahead, axis=1)[:, None]
    return outline + width * (ahead - np.roll(ahead, 1, axis=0))


def _lay(rgb, outline, *, border=14, paper=(236, 232, 222)):
    """A print: white paper, and within it a picture of a few plain shapes."""
    middle = outline.mean(axis=0)
    _fill(rgb, outline, paper)
    inner = _within(outline, border)
    _fill(rgb, inner, (84, 74, 66))
    _fill(rgb, middle + (inner - middle) * 0.6, (160, 150, 138))
    _fill(rgb, middle + (inner - middle) * 0.25, (52, 48, 44))


def _only(rgb, **more):
    (found,) = locate_prints(cv2.GaussianBlur(rgb, (0, 0), 0.8), **more)
    return found


def test_a_plain_print_is_found_and_sure():
    rgb, outline = _stage(), _outline()
    _lay(rgb, outline)
    found = _only(rgb)
    assert corner_error(found.corners, outline) < 0.2  # drawn to half a pixel
    assert found.confidence >= 0.9
    assert found.second is None


def test_a_boards_joint_beside_a_side_is_not_taken_for_the_papers_edge():
    rgb, outline = _stage((128, 104, 80)), _outline(turned=0.0)
    y = int(outline[2][1]) + 9
    rgb[y : y + 3] = (50, 38, 28)
    _lay(rgb, outline)
    assert corner_error(_only(rgb).corners, outline) < 0.2  # drawn to half a pixel


@pytest.mark.parametrize("inner", [18, 50])
def test_an_inner_frame_is_never_taken(inner):
    rgb, outline = _stage(), _outline()
    _lay(rgb, outline, border=8)
    _fill(rgb, _within(outline, inner), (240, 240, 240))
    _fill(rgb, _within(outline, inner + 5), (30, 30, 30))
    assert corner_error(_only(rgb).corners, outline) < 0.2


def test_a_faint_white_border_on_white_is_found_by_its_four_sides():
    rgb, outline = _stage((228, 228, 226), noise=1.5), _outline()
    _lay(rgb, outline, border=22, paper=(232, 231, 226))
    assert iou(_only(rgb).corners, outline) > 0.98


def test_where_a_border_may_be_or_not_the_other_outline_is_kept_as_a_rival():
    rgb, outline = _stage((228, 228, 226), noise=1.5), _outline()
    _lay(rgb, outline, border=22, paper=(232, 231, 226))
    scene = look(cv2.GaussianBlur(rgb, (0, 0), 0.8))
    (rough,) = propose(scene.coarse, scene.stage)
    found = search(scene, rough)
    assert found is not None
    answers = [scene.middle.to_full(one.quad) for one in (found, *found.rivals)]
    for true in (outline, _within(outline, 22)):
        assert max(iou(answer, true) for answer in answers) > 0.97


def test_the_rim_of_a_hard_shadow_is_not_the_papers_edge():
    rgb, outline = _stage((150, 120, 92)), _outline()
    _fill(rgb, outline + np.array([-9.0, 7.0]), (66, 52, 40))
    _lay(rgb, outline)
    assert corner_error(_only(rgb).corners, outline) < 0.2


def test_a_print_that_runs_into_other_things_is_outlined_by_its_lines():
    rgb, outline = _stage(), _outline()
    cv2.rectangle(rgb, (0, 250), (330, 420), (70, 96, 60), -1)
    _lay(rgb, outline)
    scene = look(cv2.GaussianBlur(rgb, (0, 0), 0.8))
    rough = [scene.coarse.to_full(quad) for quad in outlines_from_lines(scene.coarse, scene.stage)]
    assert max(iou(quad, outline) for quad in rough) > 0.93
    assert corner_error(_only(rgb).corners, outline) < 0.2


def test_masks_of_others_are_proposed_first():
    scene = look(_stage())
    mask = np.zeros(scene.coarse.rgb.shape[:2], np.uint8)
    mask[60:160, 100:260] = 1
    (quad,) = propose(scene.coarse, scene.stage, masks=[mask])
    assert iou(quad, np.array([[100, 60], [259, 60], [259, 159], [100, 159]], float)) > 0.97


def test_a_large_print_of_nearly_the_stages_colour_does_not_become_stage():
    rgb = _stage((226, 224, 220), noise=1.0)
    _fill(rgb, _outline(size=(760, 560), turned=2.0), (228, 224, 206))
    stage = stage_from_margin(reduce(rgb, 448))
    assert stage.spread[2] < 1.5
    assert np.median(stage.distance[130:200, 180:260]) > 3


@pytest.mark.parametrize("shift", [(0.0, 0.0), (5.0, -3.0)])
def test_an_empty_frame_taken_in_other_light_and_a_little_beside_explains_the_stage(shift):
    rng = np.random.default_rng(3)
    grain = cv2.GaussianBlur(rng.standard_normal((SIZE[1], SIZE[0])).astype(np.float32), (0, 0), 3) * 60
    wood = np.clip(np.array([140, 100, 66]) + grain[..., None], 0, 255).astype(np.uint8)
    move = np.array([[1, 0, shift[0]], [0, 1, shift[1]]], float)
    now = cv2.warpAffine(wood, move, SIZE, borderMode=cv2.BORDER_REFLECT_101)
    now = np.clip(now * np.array([0.9, 0.94, 0.96]), 0, 255).astype(np.uint8)
    outline = _outline()
    _lay(now, outline)
    model = stage_from_empty(reduce(now, 448), wood)
    assert model.explained > 0.97
    assert iou(_only(now, empty_stage=wood).corners, outline) > 0.99


def test_a_reduced_copy_knows_its_way_back():
    rgb = _stage()
    cv2.circle(rgb, (601, 401), 40, (255, 255, 255), -1, cv2.LINE_AA)
    for long_side in (448, 320, 700):
        small = reduce(rgb, long_side)
        weight = np.clip(small.rgb[..., 0].astype(float) - 150, 0, None)
        y, x = np.mgrid[0 : weight.shape[0], 0 : weight.shape[1]]
        middle = np.array([(x * weight).sum(), (y * weight).sum()]) / weight.sum()
        assert np.abs(small.to_full(middle) - [601, 401]).max() < 0.05
        assert np.allclose(small.from_full(small.to_full(middle)), middle)
