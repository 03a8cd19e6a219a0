"""The curve of sRGB: one of it, right by an outside reader, both ways."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

import solander
from solander.imaging.linear_light import decode_codes, decoding, encode_light, encoded, linear


def test_the_curve_is_written_down_once():
    """IEC 61966-2-1 has a straight part of slope 12.92; `raw` names it to LibRaw, which has a curve of its own."""
    sources = Path(solander.__file__).parent.rglob("*.py")
    assert {file.name for file in sources if "12.92" in file.read_text()} == {"linear_light.py", "raw.py"}


def test_it_is_that_of_the_standard():
    """Outside check: IEC 61966-2-1 as scikit-image has it, from a grey to its luminance Y."""
    colour = pytest.importorskip("skimage.color", reason="scikit-image is not installed: no second opinion")
    grey = np.repeat(np.arange(256, dtype=np.uint8)[None, :, None], 3, axis=2)
    luminance = colour.rgb2xyz(grey)[0, :, 1]
    assert np.abs(luminance - decoding()).max() < 1e-6
    assert np.abs(linear(grey)[0, :, 1] - luminance).max() < 1e-6
    assert np.abs(encoded(luminance) - np.arange(256)).max() < 1e-3


@pytest.mark.parametrize("kind", [np.float32, np.float64])
def test_light_keeps_its_kind_of_number_and_comes_back_beyond_both_ends(kind):
    light = np.linspace(-0.5, 2, 101, dtype=kind)
    codes = encode_light(light)
    assert codes.dtype == decode_codes(codes).dtype == kind
    assert np.abs(decode_codes(codes) - light).max() < 1e-5
    assert (np.diff(codes) > 0).all()
