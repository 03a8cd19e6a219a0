"""Prints followed from frame to frame.

Light is changed in linear light by the sRGB curve (IEC 61966-2-1), which the comparison itself doesn't use; places
and moves are true by construction of the simulated frames.
"""

from __future__ import annotations

import numpy as np
import pytest

from solander.imaging.change import LONG_SIDE, compare, glance
from solander.imaging.conventions import WrongPicture
from solander.imaging.simulate import Hand, Paper, Placement, Stage, drawn_picture
from solander.imaging.simulate.sequences import Moment, Sight, film, sitting
from solander.imaging.tracking import Change, track

pytestmark = pytest.mark.slow

SIZE = (640, 360)
PAPER = Paper(drawn_picture(3, (600, 400)), (128, 89), border_mm=4)
AT = Placement((310.0, 170.0), 3.0, 2.2)
LAID = Moment(((PAPER, AT),))


def frames(moments, *, stage="grey", seed=5):
    return list(film(moments, Stage(stage), size=SIZE, seed=seed))


def followed(shown):
    told, all_told = None, []
    for frame in shown:
        told = track(frame.rgb, told)
        all_told.append(told)
    return all_told


def seen(count, *, shake=0.0, drift=0.0):
    rng = np.random.default_rng(1)
    return [
        Sight(1 + drift * i, (float(x), float(y)), seed=i)
        for i, (x, y) in enumerate(rng.uniform(-shake, shake, (count, 2)))
    ]


def in_other_light(rgb, factor):
    code = rgb / 255
    light = np.where(code <= 0.04045, code / 12.92, ((code + 0.055) / 1.055) ** 2.4) * factor
    again = np.where(light <= 0.0031308, 12.92 * light, 1.055 * np.maximum(light, 1e-9) ** (1 / 2.4) - 0.055)
    return np.clip(np.rint(again * 255), 0, 255).astype(np.uint8)


@pytest.fixture(scope="module")
def still():
    (frame,) = frames([(LAID, Sight())])
    return frame.rgb


@pytest.mark.parametrize("factor", [0.6, 0.9, 1.1, 1.3])
def test_other_light_is_told_as_light_and_not_as_change(still, factor):
    compared = compare(glance(still), glance(in_other_light(still, factor)))
    assert not compared.changed.any()
    assert compared.light == pytest.approx(abs(factor ** (1 / 2.4) - 1), rel=0.25)


def test_light_that_falls_off_to_one_side_is_light(still):
    slope = np.linspace(0.85, 1.05, SIZE[0])[None, :, None]
    assert not compare(glance(still), glance(in_other_light(still, slope))).changed.any()


@pytest.mark.parametrize("factor", [0.8, 1.0, 1.2])
def test_what_is_laid_down_is_where_it_changed_in_any_light(still, factor):
    laid = in_other_light(still, factor)
    laid[40:70, 20:60] = in_other_light(still, 0.7 * factor)[40:70, 20:60]
    changed = compare(glance(still), glance(laid)).changed
    rows, columns = np.nonzero(changed)
    step = SIZE[0] / LONG_SIDE
    assert changed[11:16, 6:14].all()
    assert (rows.min() * step, columns.min() * step) >= (36, 16)
    assert (rows.max() * step, columns.max() * step) <= (72, 62)


def test_a_speck_is_no_change(still):
    speck = still.copy()
    speck[40:46, 20:26] = 0
    assert not compare(glance(still), glance(speck)).changed.any()


def test_the_same_frame_again_changes_nothing(still):
    first = track(still)
    again = track(still, first)
    assert (first.change, first.settled) == (Change.MOVED, 0)
    assert (again.change, again.settled) == (Change.NOTHING, 1)
    assert np.abs(again.found[0].corners - first.found[0].corners).max() < 1e-9
    assert again.searched is first.searched


def test_what_was_known_before_is_left_as_it_was(still):
    first = track(still)
    glance_before, corners = first.glance.copy(), first.found[0].corners.copy()
    one, other = track(still, first), track(still, first)
    assert (first.glance == glance_before).all()
    assert (first.found[0].corners == corners).all()
    assert one.found == other.found


def test_corners_follow_a_camera_that_shakes():
    shown = frames([(LAID, sight) for sight in seen(8, shake=0.6)])
    told = followed(shown)
    assert [one.change for one in told[1:]] == [Change.NOTHING] * 7
    off = [np.abs(one.found[0].corners - frame.truths[0]).max() for one, frame in zip(told, shown, strict=True)]
    gone = [np.abs(frame.truths[0] - shown[0].truths[0]).max() for frame in shown]
    assert max(off) < 0.25
    assert max(gone) > 0.6  # else the test would hold of corners that stay


@pytest.mark.slow
def test_light_that_drifts_is_told_now_and_then_and_settles_nothing_anew():
    told = followed(frames([(LAID, sight) for sight in seen(14, drift=0.02)]))
    assert [one.settled for one in told] == list(range(14))
    changes = [one.change for one in told[1:]]
    assert set(changes) == {Change.NOTHING, Change.LIGHT}
    assert 2 <= changes.count(Change.LIGHT) <= 5


@pytest.mark.slow
def test_a_print_that_creeps_is_noticed():
    creeping = [Moment(((PAPER, Placement((310.0 + 0.6 * i, 170.0), 3.0, 2.2)),)) for i in range(12)]
    shown = frames([(moment, sight) for moment, sight in zip(creeping, seen(12), strict=True)])
    told = followed(shown)
    assert any(one.searched is not told[0].searched for one in told)
    off = [
        np.abs(one.found[0].corners - frame.truths[0]).max()
        for one, frame in zip(told, shown, strict=True)
        if one.found
    ]
    assert max(off) < 0.4


def test_another_print_in_the_same_place_is_noticed_and_settles_anew():
    other = Paper(drawn_picture(8, (600, 400), style="town"), (128, 89), border_mm=4)
    moments = [LAID] * 3 + [Moment(((other, AT),))] * 3
    told = followed(frames(list(zip(moments, seen(6), strict=True))))
    assert [one.settled for one in told] == [0, 1, 2, 0, 0, 1]
    assert [one.change for one in told[3:]] == [Change.MOVED, Change.MOVED, Change.NOTHING]
    assert not told[3].found  # on the move: the former print is not told any longer
    assert len(told[4].found) == 1


def test_the_back_of_a_print_bare_on_a_white_sheet_is_noticed():
    back = Paper(np.full((400, 600, 3), 240, np.uint8), (128, 89), border_mm=0, stock=(242, 240, 233))
    moments = [Moment()] * 2 + [Moment(((back, AT),))] * 2
    told = followed(frames(list(zip(moments, seen(4), strict=True)), stage="white paper"))
    assert [one.change for one in told[1:3]] == [Change.NOTHING, Change.MOVED]


def test_a_frame_of_another_size_is_a_first_frame(still):
    assert track(np.ascontiguousarray(still[:300]), track(still)).settled == 0


def test_what_is_no_picture_is_refused():
    with pytest.raises(WrongPicture):
        track(np.zeros((360, 640), np.uint8))


@pytest.mark.slow
@pytest.mark.parametrize("stage", ["grey", "black felt"])
def test_a_sitting_is_told_as_it_went(stage):
    moments = sitting([(PAPER, AT)], Hand(fingers=2, length_mm=250), size=SIZE)
    shown = frames(list(zip(moments, seen(len(moments), shake=0.3, drift=0.001), strict=True)), stage=stage)
    told = followed(shown)
    for number, (moment, before) in enumerate(zip(moments[1:], moments, strict=False), start=1):
        if moment != before:
            assert told[number].settled == 0, number
    lying = [i for i, moment in enumerate(moments) if moment == LAID]
    assert [told[i].settled for i in lying] == [0, 0, *range(1, len(lying) - 1)]
    for i in lying[2:]:
        assert np.abs(told[i].found[0].corners - shown[i].truths[0]).max() < 0.4
        assert not told[i].hand
    hands = [one.hand for one, frame in zip(told, shown, strict=True) if frame.hand]
    assert np.mean(hands) > 0.7
    assert not any(one.hand for one, frame in zip(told, shown, strict=True) if not frame.hand)
