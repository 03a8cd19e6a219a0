"""The lens model against OpenCV's, and the plumb-line method on made-up sides."""

from __future__ import annotations

import cv2
import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from numpy.typing import NDArray

from solander.imaging.lens import Lens, Side, lens_from_sides

FRAME = (4000, 3000)
HALF = 2500.0
GRID = np.stack(np.meshgrid(np.linspace(-0.5, 3999.5, 9), np.linspace(-0.5, 2999.5, 7)), axis=-1).reshape(-1, 2)


@pytest.mark.parametrize("k", [(0.0, 0.0), (-0.05, 0.0), (0.03, -0.02), (-0.1, 0.03)])
def test_opencv_bends_the_same_way(k: tuple[float, float]) -> None:
    """Outside check: `projectPoints`, whose radii count in focal lengths: here the half diagonal is one."""
    middle = (np.array(FRAME) - 1) / 2
    rays = np.column_stack([(GRID - middle) / HALF, np.ones(len(GRID))])
    matrix = np.array([[HALF, 0, middle[0]], [0, HALF, middle[1]], [0, 0, 1]])
    seen, _ = cv2.projectPoints(rays, np.zeros(3), np.zeros(3), matrix, np.array([*k, 0, 0]))
    assert np.abs(Lens(*k).captured(GRID, FRAME) - seen.reshape(-1, 2)).max() < 1e-6


@given(st.floats(-0.12, 0.12), st.floats(-0.03, 0.03))
def test_there_and_back_is_where_it_was(k1: float, k2: float) -> None:
    lens = Lens(k1, k2)
    assume(lens.is_sound)
    assert np.abs(lens.captured(lens.ideal(GRID, FRAME), FRAME) - GRID).max() < 1e-6


def test_a_lens_that_folds_the_picture_is_not_sound() -> None:
    assert not Lens(-0.5).is_sound
    assert Lens(-0.1, 0.02).is_sound


def sides_of_prints(lens: Lens, *, prints: int, curl: float, noise: float, seed: int) -> list[list[Side]]:
    """The sides of prints that lie anyhow, bowed at random by `curl` of their length, under a lens."""
    rng = np.random.default_rng(seed)
    found = []
    for _ in range(prints):
        sides = []
        size = rng.uniform([1200, 800], [2600, 2000])
        angle, centre = rng.uniform(-0.3, 0.3), np.array(FRAME) / 2 + rng.uniform(-300, 300, 2)
        turn = np.array([[np.cos(angle), -np.sin(angle)], [np.sin(angle), np.cos(angle)]])
        corners = np.array([[-1, -1], [1, -1], [1, 1], [-1, 1]]) * size / 2 @ turn.T + centre
        bend = rng.normal(0, curl, 2)
        for i in range(4):
            share = np.linspace(0, 1, 9)[:, None]
            start, end = corners[i], corners[(i + 1) % 4]
            across = np.array([end[1] - start[1], start[0] - end[0]])
            places = start + (end - start) * share + across * 4 * share * (1 - share) * bend[i % 2]
            sides.append(Side(lens.captured(places, FRAME) + rng.normal(0, noise, places.shape), FRAME))
        found.append(sides)
    return found


@pytest.mark.parametrize("k1", [0.0, -0.03, 0.02])
def test_sides_of_curled_prints_tell_the_lens(k1: float) -> None:
    fit = lens_from_sides(sides_of_prints(Lens(k1), prints=40, curl=0.003, noise=0.3, seed=7))
    assert fit is not None
    assert fit.sigma < 0.5
    assert abs(fit.lens.shift_at_corner() - 50 * k1) < 3 * fit.sigma


@pytest.mark.slow
def test_the_told_uncertainty_holds() -> None:
    """Over 30 cameras the error is within two standard deviations for at least 80 % of them (95 % if normal)."""
    rng = np.random.default_rng(11)
    held = []
    for seed in range(30):
        k1 = float(rng.normal(0, 0.03))
        fit = lens_from_sides(sides_of_prints(Lens(k1), prints=12, curl=0.004, noise=0.3, seed=seed))
        assert fit is not None
        held.append(abs(fit.lens.shift_at_corner() - 50 * k1) < 2 * fit.sigma)
    assert np.mean(held) >= 0.8


def test_few_sides_tell_nothing() -> None:
    assert lens_from_sides(sides_of_prints(Lens(-0.05), prints=1, curl=0, noise=0, seed=1)) is None


def test_the_middle_of_the_frame_tells_nothing() -> None:
    line: NDArray[np.float64] = np.linspace([0.0, 1499.5], [3999.0, 1499.5], 9)
    assert lens_from_sides([[Side(line, FRAME)]] * 9) is None
