"""16 bits, light and density: against colour-science, and without bands."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from solander.imaging.conventions import WrongPicture
from solander.imaging.linear_light import decode_codes, encode_light
from solander.imaging.treatment.deep import (
    CODES,
    as_deep,
    as_rgb,
    densities,
    density_of_codes,
    encode_density,
    from_densities,
    light_of_codes,
)

NOISE = np.random.default_rng(5).integers(0, 256, (70, 90, 3), dtype=np.uint8)


def test_light_is_that_of_the_standard():
    """Outside check: IEC 61966-2-1 as scikit-image has it, from a grey to its luminance Y."""
    colour = pytest.importorskip("skimage.color", reason="scikit-image is not installed: no second opinion")
    grey = np.repeat((np.arange(CODES) / (CODES - 1))[None, :, None], 3, axis=2)
    luminance = colour.rgb2xyz(grey)[0, :, 1]
    assert np.abs(luminance - light_of_codes()).max() < 1e-6


def test_8_bits_come_back_as_they_were():
    assert np.array_equal(as_rgb(as_deep(NOISE)), NOISE)


def test_what_is_filled_in_is_within_its_step_and_always_the_same():
    filled = as_deep(NOISE, filled=True)
    assert np.array_equal(as_rgb(filled), NOISE)
    assert np.array_equal(filled, as_deep(NOISE, filled=True))
    plain = as_deep(np.full((256, 256, 3), 100, np.uint8), filled=True).astype(int) - 25700
    assert plain.min() == -128
    assert plain.max() == 128
    assert np.abs(plain.mean(axis=(0, 1))).max() < 1


def test_densities_and_back_lose_less_than_a_quarter_of_a_step_of_8_bits():
    codes = np.arange(CODES, dtype=np.uint16).reshape(256, 256)
    deep = np.dstack([codes] * 3)
    back = from_densities(densities(deep))
    assert np.abs(back.astype(int) - deep)[density_of_codes()[codes] < 3].max() <= 4


@settings(deadline=None)
@given(st.floats(-1, 2))
def test_light_is_encoded_and_decoded_beyond_black_and_white_too(value):
    light = decode_codes(np.array([value]))
    assert encode_light(light)[0] == pytest.approx(value, abs=1e-6)


@settings(max_examples=20, deadline=None)
@given(st.floats(0, 3.9))
def test_density_is_the_logarithm_of_light(density):
    """ISO 5-3: density is the negative logarithm to base ten of the reflectance."""
    light = decode_codes(encode_density(np.array([density])))[0]
    assert -np.log10(light) == pytest.approx(density, abs=1e-6)


@pytest.mark.parametrize("wrong", [NOISE[..., 0], NOISE.astype(float), NOISE[:0]])
def test_what_is_no_picture_is_refused(wrong):
    with pytest.raises(WrongPicture):
        as_deep(wrong)
