"""The rim tells hands from shadows and light; how the light stands is told from it.

Truths are by construction: light multiplies, a hand has other colours and edges. Light is changed in encoded
values by a factor, which is what light does to them but for the darkest (sRGB, IEC 61966-2-1, is near a power).
"""

from __future__ import annotations

import numpy as np
import pytest

from solander.imaging.rim import lit, reaching, rim_of
from solander.imaging.steadiness import Light, noted

SHAPE = (120, 160, 3)
STAGE = (120, 119, 116)


def glance(*, noise=0.5, seed=0):
    seen = np.empty(SHAPE, np.float32)
    seen[:] = STAGE
    return seen + np.random.default_rng(seed).normal(0, noise, SHAPE).astype(np.float32)


def reached(now):
    return reaching(lit(rim_of(glance()), rim_of(now), SHAPE), SHAPE)


def test_an_empty_stage_is_reached_by_nothing():
    assert reached(glance(seed=1)) == ""


@pytest.mark.parametrize(
    ("place", "edge"),
    [
        (np.s_[:20, 60:75], "top edge"),
        (np.s_[50:70, -30:], "right edge"),
        (np.s_[-40:, 30:60], "bottom edge"),
        (np.s_[30:60, :25], "left edge"),
    ],
)
@pytest.mark.parametrize("colour", [(200, 150, 118), (72, 46, 36), (20, 20, 24), (235, 235, 230)])
def test_what_comes_in_over_an_edge_reaches_in(place, edge, colour):
    now = glance(seed=2)
    now[place] = colour
    assert reached(now) == edge


def test_what_lies_within_does_not():
    now = glance(seed=3)
    now[10:-10, 12:-12] = (240, 238, 230)
    assert reached(now) == ""


def test_a_print_that_lies_at_the_edge_does_not():
    now = glance(seed=3)
    now[2:60, 40:90] = (240, 238, 230)
    change = lit(rim_of(glance()), rim_of(now), SHAPE)
    lying = np.array([[39.5, 1.5], [89.5, 1.5], [89.5, 59.5], [39.5, 59.5]])
    assert reaching(change, SHAPE) == "top edge"
    assert reaching(change, SHAPE, [lying]) == ""


@pytest.mark.parametrize("strength", [0.15, 0.4])
def test_a_soft_shadow_is_no_hand(strength):
    along = np.linspace(-3, 3, SHAPE[1])
    shadow = 1 - strength * np.exp(-(along**2))
    assert reached(glance(seed=4) * shadow[None, :, None].astype(np.float32)) == ""


@pytest.mark.parametrize("factor", [0.6, 0.9, 1.2])
def test_other_light_is_no_hand(factor):
    assert reached(glance(seed=5) * np.float32(factor)) == ""


def stood(lights, *, every_ms=70):
    """What is told after frames whose rim has been multiplied so, each factor (3,) for a time."""
    empty, told = rim_of(glance(noise=0)), Light()
    for number, (factor, slope) in enumerate(lights):
        across = np.linspace(-1, 1, SHAPE[1], dtype=np.float32)[None, :, None]
        now = glance(noise=0.3, seed=number) * np.asarray(factor, np.float32) * (1 + slope * across)
        told = noted(told, lit(empty, rim_of(now), SHAPE), number * every_ms)
    return told.told


def test_light_that_stands_is_told_nothing_of():
    assert stood([((1, 1, 1), 0)] * 100) == ""


def test_a_camera_that_wavers_is_no_flicker():
    rng = np.random.default_rng(1)
    assert stood([(np.full(3, 1 + rng.normal(0, 0.002)), 0) for _ in range(100)]) == ""


def test_a_lamp_that_flickers_is_told():
    assert stood([(np.full(3, 1 + 0.03 * (-1) ** i), 0) for i in range(40)]) == "flicker"


def test_a_lamp_that_grows_dimmer_has_drifted():
    assert stood([(np.full(3, 1 - 0.0008 * i), 0) for i in range(120)]) == "drift"


def test_the_sun_behind_a_window_is_daylight():
    assert stood([((1 + 0.0002 * i, 1, 1 - 0.0004 * i), 0.0006 * i) for i in range(150)]) == "daylight"


def test_a_lamp_that_goes_out_on_one_side_has_drifted():
    assert stood([((1, 1, 1), 0)] * 50 + [((0.8, 0.8, 0.8), 0.15)] * 100) == "drift"
