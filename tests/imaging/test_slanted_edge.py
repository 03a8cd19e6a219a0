"""Slanted edges of known blur: the response of a Gaussian is exp(−2 π² σ² f²) (the Fourier transform of a
Gaussian), that of a pixel's square aperture sinc(f). The way is that of ISO 12233 (edge-based response)."""

from __future__ import annotations

import math

import cv2
import numpy as np
import pytest
from scipy.special import erf

from solander.imaging.slanted_edge import edge_response, find_edges, sharpest

HEIGHT, WIDTH = 160, 140


def edge(sigma: float, slant_deg: float = 5.0, *, shift: float = 0.0, low: float = 0.1, high: float = 0.8):
    """A dark and a light half-plane, blurred by a Gaussian and sampled at the pixels' centres, in closed form."""
    y, x = np.mgrid[:HEIGHT, :WIDTH].astype(float)
    angle = math.radians(slant_deg)
    away = (x - WIDTH / 2 - shift) * math.cos(angle) + (y - HEIGHT / 2) * math.sin(angle)
    return low + (high - low) * 0.5 * (1 + erf(away / (sigma * math.sqrt(2))))


def segment(slant_deg: float = 5.0):
    reach = 0.4 * HEIGHT
    run = reach * math.tan(math.radians(slant_deg))
    return (WIDTH / 2 + run, HEIGHT / 2 - reach), (WIDTH / 2 - run, HEIGHT / 2 + reach)


def gaussian(frequencies, sigma: float):
    return np.exp(-2 * (math.pi * sigma * frequencies) ** 2)


@pytest.mark.parametrize("sigma", [0.5, 0.8, 1.2, 2.0])
@pytest.mark.parametrize("slant", [3.0, 5.0, 12.0])
def test_the_response_is_that_of_the_gaussian(sigma, slant):
    told = edge_response(edge(sigma, slant), segment(slant))
    below = told.frequencies <= 0.5
    assert np.abs(told.values - gaussian(told.frequencies, sigma))[below].max() < 0.02


@pytest.mark.parametrize(("level", "factor"), [(0.5, math.log(2)), (0.1, math.log(10))])
def test_where_it_falls_to_a_half_and_a_tenth(level, factor):
    sigma = 1.0
    told = edge_response(edge(sigma), segment()).falls_to(level)
    assert told == pytest.approx(math.sqrt(factor / 2) / (math.pi * sigma), rel=0.02)


def test_a_pixels_own_aperture():
    """Pixels that average over their square: along a nearly upright edge the response is sinc(f)."""
    fine = 16
    y, x = np.mgrid[:HEIGHT, : WIDTH * fine].astype(float)
    angle = math.radians(4)
    away = ((x + 0.5) / fine - 0.5 - WIDTH / 2) * math.cos(angle) + (y - HEIGHT / 2) * math.sin(angle)
    pixels = (0.1 + 0.7 * (away > 0)).reshape(HEIGHT, WIDTH, fine).mean(axis=2)
    told = edge_response(pixels, segment(4))
    below = told.frequencies <= 0.5
    assert np.abs(told.values - np.sinc(told.frequencies))[below].max() < 0.03


def test_noise_moves_it_little():
    noisy = edge(0.8) + np.random.default_rng(1).normal(0, 0.01, (HEIGHT, WIDTH))
    clean, told = edge_response(edge(0.8), segment()), edge_response(noisy, segment())
    assert told.falls_to(0.5) == pytest.approx(clean.falls_to(0.5), rel=0.04)


def test_sharpening_shows_as_a_response_above_one():
    soft = edge(1.0)
    sharpened = soft + 1.0 * (soft - edge(2.0))
    assert edge_response(soft, segment()).highest == pytest.approx(1.0, abs=0.01)
    frequencies = edge_response(soft, segment()).frequencies
    truth = 2 * gaussian(frequencies, 1.0) - gaussian(frequencies, 2.0)
    assert edge_response(sharpened, segment()).highest == pytest.approx(truth.max(), abs=0.03)


def test_a_channel_that_lies_aside():
    moved = np.dstack([edge(0.8, shift=0.4), edge(0.8), edge(0.8, shift=-0.1)])
    told = edge_response(moved, segment())
    assert told.misregistration == pytest.approx(0.4 * math.cos(math.radians(5)), abs=0.02)


def test_edges_are_found_in_both_directions():
    picture = np.full((900, 900), 0.7)
    picture[260:640, 240:660] = 0.08
    turned = _turned(picture, 6.0)
    told = sharpest(turned)
    assert [one.upright for one in told] == [True, False]
    assert len(find_edges(turned)) >= 4


def test_what_tells_nothing_is_refused():
    assert edge_response(edge(0.8, 0.0), segment(0.0)) is None, "an edge along the pixels"
    assert edge_response(edge(0.8, low=0.5, high=0.6), segment()) is None, "too faint"
    assert edge_response(edge(0.8), ((3.0, 20.0), (12.0, 120.0))) is None, "too near the rim"
    stripes = 0.5 + 0.4 * np.sin(np.mgrid[:HEIGHT, :WIDTH][1] / 3.0)
    assert edge_response(stripes, segment()) is None
    assert sharpest(np.full((300, 300), 0.5)) == []


def _turned(picture, degrees):
    size = picture.shape[1], picture.shape[0]
    turn = cv2.getRotationMatrix2D((size[0] / 2, size[1] / 2), degrees, 1.0)
    return cv2.warpAffine(picture, turn, size, flags=cv2.INTER_AREA, borderMode=cv2.BORDER_REPLICATE)
