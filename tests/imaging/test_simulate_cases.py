"""What is drawn by chance holds what its case promises."""

from __future__ import annotations

import numpy as np
import pytest

from solander.imaging.conventions import area, iou
from solander.imaging.simulate import CASES, PLAIN_CASES, Stage, drawn_picture, random_capture, simulate_capture
from solander.imaging.simulate.arrangements import outline, reaching
from solander.imaging.simulate.draws import Draw
from solander.imaging.simulate.geometry import Placement
from solander.imaging.simulate.light import linear_colour
from solander.imaging.simulate.papers import Paper
from solander.imaging.simulate.sheets import SHEETS, random_papers
from solander.imaging.simulate.stages import STAGES

SIZE = (480, 360)
PICTURES = [drawn_picture(seed, (300, 200)) for seed in range(2)]
WHITE = np.full((60, 90, 3), 255, np.uint8)


@pytest.mark.slow
@pytest.mark.parametrize("case", CASES)
def test_a_seed_gives_the_same_bytes_and_whole_prints(case):
    first, again = (random_capture(8, PICTURES, case=case, size=SIZE) for _ in range(2))
    assert first.rgb.tobytes() == again.rgb.tobytes()
    assert first.rgb.shape == (SIZE[1], SIZE[0], 3)
    assert len(first.truths) == len(again.truths) <= 8
    assert bool(first.truths) == (case != "empty")
    assert first.hand == (case == "finger")
    assert first.empty is None
    for corners in first.truths:
        assert (corners >= 0).all()
        assert (corners <= [SIZE[0] - 1, SIZE[1] - 1]).all()
        assert area(corners) > 0  # clockwise


def test_an_unknown_case_is_refused():
    with pytest.raises(ValueError, match="no such case"):
        random_capture(1, [WHITE], case="on the moon")


@pytest.mark.parametrize("case", ["apart", "touching"])
@pytest.mark.parametrize("seed", range(2))
def test_prints_of_one_capture_do_not_overlap(case, seed):
    truths = random_capture(seed, [WHITE], case=case, size=SIZE).truths
    assert len(truths) >= 2
    for a in range(len(truths)):
        for b in range(a):
            assert iou(truths[a], truths[b]) < 0.001, (a, b)


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(6))
def test_touching_prints_touch_and_prints_apart_do_not(seed):
    touching, apart = (
        random_capture(seed, [WHITE], case=case, size=SIZE).truths for case in ("touching", "apart")
    )
    for corners in touching:
        assert min(gap(corners, other) for other in touching if other is not corners) <= 0.02 * perimeter(corners)
    assert min(gap(a, b) for a in apart for b in apart if a is not b) >= 2


def gap(a, b) -> float:
    """The least distance between points along the sides of the two."""
    share = np.linspace(0, 1, 60)[:, None]
    sides = [
        np.concatenate([p + (q - p) * share for p, q in zip(c, np.roll(c, -1, axis=0), strict=True)])
        for c in (a, b)
    ]
    return float(np.linalg.norm(sides[0][:, None] - sides[1][None], axis=2).min())


def perimeter(corners) -> float:
    return float(np.linalg.norm(np.roll(corners, -1, axis=0) - corners, axis=1).sum())


def test_the_empty_frame_is_the_stage_without_the_print():
    capture = random_capture(4, [WHITE], case="grey stage", size=SIZE, with_empty=True)
    away = np.abs(capture.rgb.astype(int) - capture.empty).mean(axis=2)
    low, high = capture.truths[0].min(axis=0).astype(int), capture.truths[0].max(axis=0).astype(int)
    outside = np.ones(away.shape, bool)
    outside[max(0, low[1] - 12) : high[1] + 12, max(0, low[0] - 12) : high[0] + 12] = False
    inside = away[
        (low[1] + high[1]) // 2 - 20 : (low[1] + high[1]) // 2 + 20,
        (low[0] + high[0]) // 2 - 20 : (low[0] + high[0]) // 2 + 20,
    ]
    assert 0 < np.median(away[outside]) < 8  # noise and some per cent of exposure
    assert inside.mean() > 25


@pytest.mark.parametrize("seed", range(3))
def test_a_hand_covers_part_of_the_prints_edge_and_reaches_the_frame(seed):
    size = (800, 600)
    draw = Draw.of(seed, "finger", size)
    paper, at = Paper(WHITE, (90, 60)), Placement((420.0, 290.0), 12.0, 4.0)
    hand, where = reaching(draw, paper, at)
    without, with_hand = (
        simulate_capture([paper], [at], Stage("grey"), size=size, seed=3, hands=hands)
        for hands in ([], [(hand, where)])
    )
    assert (without.hand, with_hand.hand) == (False, True)
    changed = np.abs(with_hand.rgb.astype(int) - without.rgb).sum(axis=2) > 40
    corners = outline(paper, at)
    share = np.linspace(0, 1, 400)[:, None]
    rim = np.concatenate([p + (q - p) * share for p, q in zip(corners, np.roll(corners, -1, axis=0), strict=True)])
    column, row = np.rint(rim).astype(int).T
    covered = changed[row, column].mean()
    assert 0.005 < covered < 0.4
    assert changed[0].any() or changed[-1].any() or changed[:, 0].any() or changed[:, -1].any()
    assert (with_hand.truths[0] == without.truths[0]).all()


def test_sheets_have_sizes_that_were_sold():
    # Common practice, no source: 3½ × 5, 4 × 6, 5 × 7, 8 × 10 in; 6 × 9, 9 × 13, 10 × 15, 13 × 18 cm; carte de
    # visite and cabinet card on their mounts.
    inches = [(3.5, 5), (4, 6), (5, 7), (8, 10)]
    wanted = {(round(b * 25.4), round(a * 25.4)) for a, b in inches}
    assert wanted | {(90, 60), (130, 90), (150, 100), (180, 130), (102, 64), (165, 108)} <= set(SHEETS)
    assert {size for size in SHEETS if size[0] == size[1]}


def test_plain_stages_see_every_kind_of_border_and_cut():
    papers = [
        paper for seed in range(60) for paper in random_papers(Draw.of(seed, "blue stage", SIZE), [WHITE], 1)
    ]
    borders = [paper.border_mm / min(paper.size_mm) for paper in papers]
    assert borders.count(0.0) > 5
    assert sum(border > 0.1 for border in borders) > 3
    assert any(max(paper.stock) < 40 for paper in papers)
    assert 0.2 < np.mean([paper.corners() is not None for paper in papers]) < 0.5
    for paper in papers:
        corners = paper.corners()
        if corners is not None:
            moved = np.abs(np.abs(corners) - np.array(paper.size_mm) / 2)
            assert (moved <= 0.0061 * max(paper.size_mm)).all()


@pytest.mark.parametrize("kind", STAGES)
def test_every_stage_keeps_its_colour_and_shows_a_texture(kind):
    light = Stage(kind).surface(np.random.default_rng(5), (300, 200))
    assert light.shape == (200, 300, 3)
    assert light.mean(axis=(0, 1)) == pytest.approx(linear_colour(STAGES[kind][0]), rel=0.35)
    assert light.std() > 0.001 * light.mean()
    assert light.min() >= -0.01


def test_the_plain_cases_are_cases():
    assert set(PLAIN_CASES) < set(CASES)
