"""The watch over the stage on filmed sittings: one still a print, and why nothing is taken.

What is true of each frame is known by construction of the simulated sitting.
"""

from __future__ import annotations

import cv2
import numpy as np
import pytest

from solander.core.errors import Trouble
from solander.core.orders import Order
from solander.core.watching import State
from solander.imaging.simulate import drawn_picture
from solander.imaging.simulate.sittings import random_sitting
from solander.tasks.collection import Collection
from solander.tasks.watch_stage import StageWatch


@pytest.fixture
def watch(tmp_path):
    with Collection.create(tmp_path / "box") as collection:
        yield StageWatch(collection)


@pytest.fixture(scope="module")
def pictures():
    return [drawn_picture(seed, (600, 400), style=("harbour", "town")[seed % 2]) for seed in range(6)]


def jpeg(size=(640, 480)):
    return cv2.imencode(".jpg", np.full((size[1], size[0], 3), 119, np.uint8))[1].tobytes()


def watched(watch, moments):
    """Each moment with what was told of it; stills are kept at once."""
    for moment in moments:
        told = watch.frame(moment.jpeg, moment.at_ms)
        if told.wants_still:
            watch.taken(moment.at_ms, good=True)
        yield moment, told


def test_an_empty_stage_is_empty(watch):
    for number in range(8):
        told = watch.frame(jpeg(), 70 * number)
    assert (told.state, told.wants_still, told.why, told.outlines) == (State.EMPTY, False, "", ())


def test_a_larger_frame_is_looked_at_smaller(watch):
    assert watch.frame(jpeg((1920, 1080)), 0).outlines == ()


@pytest.mark.parametrize("data", [b"", b"no picture", jpeg()[:200], jpeg((20, 20))])
def test_what_is_no_frame_is_told(watch, data):
    with pytest.raises(Trouble, match="frame"):
        watch.frame(data, 0)


def test_it_rests_and_wakes_by_order(watch):
    watch.frame(jpeg(), 0)
    assert watch.order(Order.REST, 10).state is State.RESTING
    assert watch.frame(b"not even looked at", 20).state is State.RESTING
    assert watch.order(Order.WAKE, 30).state is State.ARRIVING
    assert watch.order(Order.TAKE, 40).wants_still


@pytest.mark.slow
@pytest.mark.parametrize("case", ["grey stage", "wood"])
def test_a_print_laid_down_and_pushed_is_taken_once_with_no_hand_in_sight(watch, pictures, case):
    both = list(watched(watch, random_sitting(4, pictures, case=case, prints=1, acts=["push"])))
    (taken,) = (moment for moment, told in both if told.wants_still)
    assert taken.side == "4/0 front"
    first = next(moment for moment, _ in both if moment.side)
    assert taken.at_ms - first.at_ms <= 700
    shown = [told for moment, told in both if moment is taken]
    assert all(0 <= share <= 1 for corners, _ in shown[0].outlines for corner in corners for share in corner)


@pytest.mark.slow
def test_both_sides_of_a_print_turned_over_are_taken(watch, pictures):
    both = list(watched(watch, random_sitting(5, pictures, prints=1, acts=["turn over"])))
    assert [moment.side for moment, told in both if told.wants_still] == ["5/0 front", "5/0 back"]


@pytest.mark.slow
def test_a_print_laid_again_asks(watch, pictures):
    both = list(watched(watch, random_sitting(6, pictures, prints=1, acts=["again"])))
    assert sum(told.wants_still for _, told in both) == 1
    assert "taken-before" in [told.why for moment, told in both if moment.act == "again"]


@pytest.mark.slow
@pytest.mark.parametrize(("act", "why"), [("hold", "hand"), ("glare", "glare")])
def test_what_does_not_settle_says_why(watch, pictures, act, why):
    both = list(watched(watch, random_sitting(7, pictures, prints=1, acts=[act])))
    told = [seen for moment, seen in both if moment.act == act and not moment.well]
    assert why in [seen.why for seen in told]
    assert all(seen.where for seen in told if seen.why == why)


@pytest.mark.slow
@pytest.mark.parametrize("missed", [True, False])
def test_a_print_that_a_still_missed_is_wanted_when_it_is_laid_down_again_and_no_other(watch, pictures, missed):
    moments = list(random_sitting(4, pictures[:1], prints=1, acts=("plain",)))
    wanted = []
    for round_ in range(2):
        for moment in moments:
            at_ms = moment.at_ms + round_ * (moments[-1].at_ms + 1000)
            if watch.frame(moment.jpeg, at_ms).wants_still:
                wanted.append(round_)
                watch.taken(at_ms, good=not missed, missed=missed and round_ == 0)
    assert wanted == ([0, 1] if missed else [0])
