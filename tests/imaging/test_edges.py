"""Sub-pixel edges against edges whose place is known exactly, and against reference fits of SciPy and NumPy."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.special import erf

from solander.imaging.curves import fit_curve
from solander.imaging.edges import coherent_edges, cut_strip, vote_lines

SIZE = 240
BLUR = 1.1


def _edge(middle: float, slope: float = 0.0, bow: float = 0.0, *, noise: float = 0.0, seed: int = 0):
    """A picture in linear light whose left part is paper: a step blurred by a Gaussian, in closed form, so that
    its place x = middle + slope · t + bow · (1 − t²), t from −1 at the top to 1 at the bottom, is exact."""
    y, x = np.mgrid[0:SIZE, 0:SIZE].astype(float)
    t = 2 * y / (SIZE - 1) - 1
    place = middle + slope * t + bow * (1 - t**2)
    light = 0.15 + 0.6 * 0.5 * (1 - erf((x - place) / (BLUR * np.sqrt(2))))
    light += noise * np.random.default_rng(seed).standard_normal(light.shape)
    return np.repeat(light[..., None], 3, axis=2).astype(np.float32)


def _strip(picture, middle: float, reach: float = 14):
    side = (np.array([middle, 0.0]), np.array([middle, SIZE - 1.0]))  # downwards: outside is to the right
    return cut_strip(picture, side, inward=reach, outward_px=reach, rows=60, ends=0.0)


@pytest.mark.parametrize("middle", [100.0, 100.25, 100.5, 100.83, 117.1])
@pytest.mark.parametrize("slope", [0.0, 1.0])
def test_a_straight_edge_is_placed_to_a_fortieth_of_a_pixel(middle, slope):
    strip = _strip(_edge(middle, slope), 100 if middle < 110 else 117)
    curve = fit_curve(strip, np.zeros(2), order=3, window=6)
    assert curve is not None
    true = middle - strip.start[0] + slope * strip.along
    assert np.abs(curve.at(strip.along) - true).max() < 0.025


def test_a_bowed_edge_is_followed_and_its_doubt_covers_the_noise():
    errors, doubts = [], []
    for seed in range(12):
        strip = _strip(_edge(100.3, 1.0, bow=2.5, noise=0.05, seed=seed), 100)
        curve = fit_curve(strip, np.array([-2.5, 0.0, 2.5]), order=3, window=5)
        assert curve is not None
        true_end = 0.3 + 1.0
        errors.append(curve.at(1.0) - true_end)
        doubts.append(curve.doubt[1])
    assert np.std(errors) < 2.5 * np.mean(doubts)
    assert np.abs(errors).max() < 0.25


def test_the_robust_fit_agrees_with_scipys_and_beats_plain_least_squares_when_a_finger_covers_a_part():
    from scipy.optimize import least_squares

    picture = _edge(100.4)
    picture[150:190, 90:112] = 0.4  # something over a sixth of the edge
    strip = _strip(picture, 100)
    curve = fit_curve(strip, np.zeros(2), order=1, window=8)
    assert curve is not None
    change = np.abs(np.diff(strip.pixels[..., 0], axis=1))
    rows = change.argmax(axis=1) + 0.5 + strip.across[0]
    robust = least_squares(lambda p: np.polyval(p, strip.along) - rows, [0, 0], loss="soft_l1", f_scale=0.3).x
    plain = np.polyfit(strip.along, rows, 1)
    true = 0.4
    assert abs(curve.at(0.0) - true) < 0.03
    assert abs(curve.at(0.0) - np.polyval(robust, 0.0)) < 0.6  # whole pixels there
    assert np.abs(curve.at(strip.along) - true).max() < np.abs(np.polyval(plain, strip.along) - true).max()


def test_a_softer_edge_is_told_as_softer():
    sharp = fit_curve(_strip(_edge(100.2), 100), np.zeros(2), order=1, window=6)
    x = np.tile(np.arange(SIZE, dtype=float), (SIZE, 1))
    soft = np.repeat((0.2 + 0.5 * 0.5 * (1 - erf((x - 100.2) / 4)))[..., None], 3, axis=2).astype(np.float32)
    blurred = fit_curve(_strip(soft, 100), np.zeros(2), order=1, window=6)
    assert sharp is not None
    assert blurred is not None
    step = BLUR * np.sqrt(2 * np.pi)  # width of the ramp as steep as a Gaussian's step
    assert step < sharp.softness < step + 2  # the derivative's five columns widen it
    assert blurred.softness > 1.5 * sharp.softness


def test_a_faint_edge_beside_a_strong_one_gets_a_line_of_its_own():
    picture = _edge(100.0)
    picture[:, 108:] += np.float32(0.02)
    strip = _strip(picture, 100)
    strength = coherent_edges(strip, 12)
    lines = vote_lines(strength, strip, reach=4, bows=(0.0,), noise=0.001)
    assert [round(line.middle) for line in lines] == [0, 8] or [round(line.middle) for line in lines] == [0, 7]
    assert all(line.coverage == 1 for line in lines)
