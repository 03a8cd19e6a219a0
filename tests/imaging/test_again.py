"""A print is known again in other light, turned, pushed; another one is not."""

from __future__ import annotations

import cv2
import numpy as np
import pytest

from solander.imaging.again import alike, look_of, seen_before
from solander.imaging.simulate import drawn_picture

CORNERS = np.array([[100.0, 80], [400, 80], [400, 280], [100, 280]])


def frame(picture, *, gain=1.0, seed=0):
    seen = np.full((400, 560, 3), 118, np.float32)
    seen[80:280, 100:400] = cv2.resize(picture, (300, 200), interpolation=cv2.INTER_AREA)
    noise = np.random.default_rng(seed).normal(0, 2, seen.shape)
    return np.clip(seen * gain + noise, 0, 255).astype(np.uint8)


@pytest.fixture(scope="module")
def pictures():
    return [drawn_picture(seed, (600, 400), style=("harbour", "town")[seed % 2]) for seed in range(4)]


@pytest.mark.parametrize("turns", range(4))
def test_it_is_known_in_other_light_and_turned(pictures, turns):
    before = look_of(frame(pictures[0]), CORNERS)
    now = look_of(frame(pictures[0], gain=0.75, seed=1), np.roll(CORNERS, turns, axis=0))
    assert alike(before, now)
    assert seen_before(now, [before])


@pytest.mark.parametrize("by", [-0.05, 0.05])
def test_it_is_known_when_the_outline_is_a_border_off(pictures, by):
    middle = CORNERS.mean(axis=0)
    off = middle + (CORNERS - middle) * (1 + by)
    assert alike(look_of(frame(pictures[0]), CORNERS), look_of(frame(pictures[0], seed=1), off))


def test_another_is_not(pictures):
    looks = [look_of(frame(one, seed=number), CORNERS) for number, one in enumerate(pictures)]
    for number, look in enumerate(looks):
        assert not seen_before(look, looks[:number] + looks[number + 1 :])


def test_a_bare_back_lies_there_still_but_is_never_known_again(pictures):
    bare = np.full((400, 600, 3), (240, 233, 214), np.uint8)
    before, now = (look_of(frame(bare, seed=seed), CORNERS) for seed in (0, 1))
    assert alike(before, now)
    assert not seen_before(now, [before])
    assert not alike(before, look_of(frame(pictures[0]), CORNERS))
