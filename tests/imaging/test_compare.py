from __future__ import annotations

import cv2
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from solander.imaging.compare import distance, fingerprint
from solander.imaging.encode import thumbnail
from solander.imaging.simulate import drawn_picture

PICTURES = [drawn_picture(seed) for seed in range(6)]
hashes = st.integers(0, 2**64 - 1).map("{:016x}".format)


def _faded(rgb):
    return np.clip(rgb * 0.6 + 80, 0, 255).astype(np.uint8)


def _smaller(rgb):
    return cv2.resize(rgb, None, fx=0.4, fy=0.4, interpolation=cv2.INTER_AREA)


def _again(rgb):
    return cv2.GaussianBlur(rgb, (0, 0), 1.5)


@given(hashes, hashes)
def test_distance_is_a_metric_on_bits(a, b):
    assert distance(a, a) == 0
    assert distance(a, b) == distance(b, a) == bin(int(a, 16) ^ int(b, 16)).count("1")


@settings(max_examples=20, deadline=None)
@given(st.integers(0, 2**32 - 1), st.integers(1, 70), st.integers(1, 70))
def test_a_fingerprint_is_sixteen_hex_digits_of_any_picture(seed, height, width):
    rgb = np.random.default_rng(seed).integers(0, 256, (height, width, 3), dtype=np.uint8)
    assert len(fingerprint(rgb)) == 16
    assert int(fingerprint(rgb), 16) >= 0


@pytest.mark.parametrize("change", [_faded, _smaller, _again])
def test_the_same_picture_keeps_its_fingerprint(change):
    for rgb in PICTURES:
        assert distance(fingerprint(rgb), fingerprint(change(rgb))) <= 6


def test_a_picture_and_its_small_picture_have_one_fingerprint():
    for rgb in PICTURES:
        large = cv2.resize(rgb, (1501, 1127), interpolation=cv2.INTER_CUBIC)
        assert fingerprint(large) == fingerprint(thumbnail(large))


def test_different_pictures_differ():
    for i, a in enumerate(PICTURES):
        for b in PICTURES[i + 1 :]:
            assert distance(fingerprint(a), fingerprint(b)) >= 12
