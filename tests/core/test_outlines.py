"""Which four corners bound a print."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from solander.core.errors import InvalidValue
from solander.core.outlines import in_the_same_order, sound_outline

SIZE = (400, 300)
SOUND = ((40.0, 30.0), (360.0, 35.5), (355.0, 260.0), (38.0, 255.0))
FRAME = ((-0.5, -0.5), (399.5, -0.5), (399.5, 299.5), (-0.5, 299.5))


@pytest.mark.parametrize("corners", [SOUND, FRAME], ids=["a print", "the whole frame"])
def test_sound_corners_come_back_as_they_are(corners):
    assert sound_outline(corners, *SIZE) == corners


def test_the_first_corner_stays_the_first():
    turned = SOUND[2:] + SOUND[:2]
    assert sound_outline(turned, *SIZE) == turned


def test_corners_the_other_way_round_are_brought_into_order_so_that_the_print_is_not_mirrored():
    assert sound_outline(SOUND[::-1], *SIZE) == SOUND


BAD = {
    "it has 3 corners": SOUND[:3],
    "its top right corner lies outside the capture": (SOUND[0], (399.6, 35.0), *SOUND[2:]),
    "its bottom left corner lies outside the capture": (*SOUND[:3], (-0.6, 255.0)),
    "two of its sides cross": (SOUND[0], SOUND[2], SOUND[1], SOUND[3]),
    "one corner lies inside the other three": (SOUND[0], SOUND[1], (120.0, 100.0), SOUND[3]),
    "its shortest side is 31 pixels long": ((10.0, 10.0), (200.0, 10.0), (200.0, 41.0), (10.0, 41.0)),
    "its shortest side is 0 pixels long": (SOUND[0], SOUND[0], SOUND[2], SOUND[3]),
    "a corner of it is no place": (SOUND[0], (math.nan, 4.0), *SOUND[2:]),
}


@pytest.mark.parametrize(("why", "corners"), BAD.items(), ids=BAD.keys())
def test_corners_that_bound_no_print_are_refused_with_one_sentence(why, corners):
    with pytest.raises(InvalidValue) as told:
        sound_outline(corners, *SIZE)
    assert told.value.why == why
    assert told.value.todo


places = st.tuples(st.floats(-0.5, 399.5), st.floats(-0.5, 299.5))


@given(st.tuples(places, places, places, places))
def test_whatever_is_drawn_the_outline_runs_clockwise_through_the_same_corners(corners):
    try:
        sound = sound_outline(corners, *SIZE)
    except InvalidValue:
        return
    assert sorted(sound) == sorted(corners)
    ahead = (*sound[1:], sound[0])
    assert sum(x * v - u * y for (x, y), (u, v) in zip(sound, ahead, strict=True)) > 0


@pytest.mark.parametrize("shift", range(4))
def test_another_outline_begins_with_the_corner_that_answers_to_the_first(shift):
    moved = tuple((x + 3, y - 2) for x, y in SOUND)
    assert in_the_same_order(moved[shift:] + moved[:shift], SOUND) == moved
