from __future__ import annotations

from math import erf

import cv2
import numpy as np
import pytest

from solander.imaging.conventions import whole_frame
from solander.imaging.measure import FAULTS, Measured, edge_rise, faults, measure_view

GAUSSIAN = 2.563  # 10–90 % rise of a step blurred by σ = 1: 2 · 1.2816, the normal distribution's 90 % point


def _stripes(sigma: float, degrees: float, *, noise: float = 1.5, size: int = 500) -> np.ndarray:
    """Steps of 120 code values, 100 pixels apart, blurred exactly (error function), with sensor noise."""
    y, x = np.mgrid[0:size, 0:size].astype(float)
    across = x * np.cos(np.radians(degrees)) + y * np.sin(np.radians(degrees))
    grid = np.linspace(-60, 60, 4001)
    step = np.array([erf(v / (sigma * np.sqrt(2))) / 2 + 0.5 for v in grid])
    light = sum(
        (-1) ** i * 120 * np.interp(across - e, grid, step) for i, e in enumerate(range(-size, 2 * size, 100))
    )
    light = light - light.min() + 40 + np.random.default_rng(1).normal(0, noise, light.shape)
    return np.repeat(np.clip(light, 0, 255).astype(np.uint8)[..., None], 3, axis=2)


def _sheet(sigma: float) -> tuple[np.ndarray, np.ndarray]:
    """A light sheet on a grey stage, sampled by area at eight times the size, and its corners."""
    corners = np.array([[60.3, 50.1], [341.2, 71.9], [322.4, 282.2], [44.0, 263.7]])
    fine = np.full((320 * 8, 400 * 8, 3), 90, np.uint8)
    cv2.fillConvexPoly(fine, np.round((corners + 0.5) * 8 - 0.5).astype(np.int32), (225, 222, 210))
    rgb = cv2.resize(fine, (400, 320), interpolation=cv2.INTER_AREA).astype(np.float32)
    rgb = cv2.GaussianBlur(rgb, (0, 0), sigma) + np.random.default_rng(2).normal(0, 2, rgb.shape)
    return np.clip(rgb, 0, 255).astype(np.uint8), corners


@pytest.mark.parametrize("degrees", [0, 20, 45])
@pytest.mark.parametrize("sigma", [0.8, 1.5, 2.0, 3.0, 4.0])
def test_sharpness_of_a_known_blur(sigma, degrees):
    measured = measure_view(_stripes(sigma, degrees)).sharpness
    assert measured == pytest.approx(GAUSSIAN * sigma, rel=0.13)


@pytest.mark.parametrize("sigma", [1.0, 2.0, 4.0])
def test_rise_of_the_papers_edge_of_a_known_blur(sigma):
    rgb, corners = _sheet(sigma)
    assert edge_rise(rgb, corners) == pytest.approx(GAUSSIAN * np.hypot(sigma, 0.29), rel=0.12)


def test_a_shake_along_one_direction_is_seen():
    rgb, corners = _sheet(0.7)
    shaken = cv2.blur(rgb, (15, 1))
    assert edge_rise(shaken, corners) > 9 > 4 > edge_rise(rgb, corners)


@pytest.mark.parametrize("sigma", [6.0, 9.0])
def test_a_capture_far_out_of_focus_is_still_measured(sigma):
    """A blur wider than the strip looked at must not pass for "can't be told"."""
    rgb, corners = _sheet(sigma)
    assert edge_rise(rgb, corners) == pytest.approx(GAUSSIAN * sigma, rel=0.2)


def test_a_picture_without_edges_has_no_sharpness():
    assert np.isnan(measure_view(np.full((200, 200, 3), 99, np.uint8)).sharpness)
    assert np.isnan(measure_view(np.full((9, 9, 3), 99, np.uint8)).sharpness)
    assert np.isnan(edge_rise(np.full((200, 200, 3), 99, np.uint8), whole_frame(200, 200)))


def test_clipped_shares_count_pixels():
    rgb = np.full((100, 100, 3), 128, np.uint8)
    rgb[:10], rgb[90:95] = 0, 255
    measured = measure_view(rgb)
    assert (measured.clipped_dark, measured.clipped_light) == (0.1, 0.05)


def test_the_papers_edge_decides_over_a_soft_photograph():
    soft = Measured(sharpness=15.0, clipped_dark=0.0, clipped_light=0.0)
    assert faults(soft, 2.5) == ()
    assert faults(soft, 15.0) == faults(soft) == faults(soft, float("nan")) == ("not sharp",)
    assert faults(Measured(float("nan"), 0.0, 0.0), float("nan")) == ()
    assert set(faults(soft)) <= set(FAULTS)
