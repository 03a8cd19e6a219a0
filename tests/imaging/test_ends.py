"""An edge that leaves its curve near a corner is followed there; others stay as they were fitted.

The edges are drawn here along curves that are known.
"""

from __future__ import annotations

import numpy as np
import pytest

from solander.imaging.curves import fit_curve
from solander.imaging.edges import cut_strip
from solander.imaging.ends import to_its_ends

LENGTH = 900
SIDE = np.array([60.0, 100.0]), np.array([60.0 + LENGTH, 100.0])


def _lift(along: np.ndarray, height: float) -> np.ndarray:
    """How far an edge whose last fifth lifts lies outside the side."""
    return height * np.clip((along - 0.6) / 0.4, 0, None) ** 2


def _strip(height: float, *, noise: float = 2.0):
    x = np.arange(LENGTH + 120)
    edge = 100 - _lift(2 * (x - 60) / LENGTH - 1, height)
    shade = np.clip(np.arange(200)[:, None] - edge + 0.5, 0, 1)
    rng = np.random.default_rng(1)
    grey = 60 + 130 * shade + noise * rng.standard_normal((200, LENGTH + 120))
    rgb = np.repeat(np.clip(grey, 0, 255).astype(np.uint8)[..., None], 3, axis=2)
    return cut_strip(rgb, SIDE, inward=50, outward_px=50, rows=160, ends=0.02, linear=True)


@pytest.mark.parametrize("height", [9.0, 12.0])
def test_a_lifted_corner_is_followed(height):
    strip = _strip(height)
    curve = fit_curve(strip, np.zeros(3), order=3, window=4)
    assert abs(float(curve.at(1.0)) - height) > 3
    assert abs(float(to_its_ends(strip, curve).at(1.0)) - height) < 1.5


def test_a_rounded_corner_is_not_followed():
    strip = _strip(-12.0)
    curve = fit_curve(strip, np.zeros(3), order=3, window=4)
    assert to_its_ends(strip, curve) is curve


def test_a_straight_side_keeps_its_curve():
    strip = _strip(0.0)
    curve = fit_curve(strip, np.zeros(3), order=3, window=4)
    assert to_its_ends(strip, curve) is curve


def test_an_edge_that_is_lost_in_noise_keeps_its_curve():
    strip = _strip(0.0, noise=60.0)
    curve = fit_curve(strip, np.zeros(3), order=3, window=4)
    if curve is not None:
        assert np.abs(to_its_ends(strip, curve).at(np.array([-1.0, 1.0]))).max() < 4
