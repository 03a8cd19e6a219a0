"""Treatments carried along with their view: turned views show the same pixels turned, and losses are told."""

from __future__ import annotations

import numpy as np
import pytest

from solander.core.treatment_carried import Way, carried, turned_way
from solander.core.treatment_size import treated_size
from solander.core.treatments import Step, Treatment
from solander.imaging.simulate import drawn_picture
from solander.imaging.treatment.frame import framed
from solander.imaging.treatment.treat import treat

PICTURE = drawn_picture(3)[:300, :420]

FRAMING = Treatment.of(
    [
        Step("keystone", {"corners": [[0.1, 0.05], [0.9, 0.1], [0.95, 0.9], [0.05, 0.95]]}),
        Step("crop", {"box": [0.1, 0.2, 0.8, 0.7]}),
        Step("quarter turn", {"turns": 1}),
    ]
)


@pytest.mark.parametrize("quarters", [1, 2, 3])
def test_a_turned_view_is_framed_as_before_and_turned(quarters):
    # What the picture functions themselves make of both is the check: they know nothing of carrying.
    before = treat(PICTURE, FRAMING).picture
    turned = np.ascontiguousarray(np.rot90(PICTURE, -quarters))
    after = treat(turned, carried(FRAMING, turned_way(quarters)).treatment).picture
    expected = np.rot90(before, -quarters)
    assert after.shape == expected.shape
    assert np.abs(after.astype(float) - expected).mean() < 1.5  # resampled along other rows


@pytest.mark.parametrize("quarters", [1, 2, 3])
def test_marks_and_a_pattern_turn_along(quarters):
    treatment = Treatment.of(
        [
            Step("marks", {"strokes": [[0.2, 0.3, 0.4, 0.3, 0.01]]}),
            Step("texture", {"peaks": [[0.125, 0.05], [0.25, 0.1]]}),
        ]
    )
    y, x = np.mgrid[: PICTURE.shape[0], : PICTURE.shape[1]]
    silk = 24 * np.cos(2 * np.pi * (0.125 * x + 0.05 * y))
    embossed = np.clip(PICTURE + silk[..., None], 0, 255).astype(np.uint8)
    before = treat(embossed, treatment).picture
    turned = np.ascontiguousarray(np.rot90(embossed, -quarters))
    after = treat(turned, carried(treatment, turned_way(quarters)).treatment).picture
    unmoved = treat(turned, treatment).picture
    expected = np.rot90(before, -quarters).astype(float)
    assert np.abs(expected - after).mean() < 0.6  # tiles lie otherwise in it
    assert quarters == 2 or np.abs(expected - unmoved).mean() > 5


def test_four_quarter_turns_give_the_same_treatment_again():
    treatment = FRAMING.with_step(Step("texture", {"peaks": [[0.125, 0.05], [-0.25, 0.0]]}))
    once = treatment
    for _ in range(4):
        once = carried(once, turned_way(1)).treatment
    assert once.without("texture") == treatment.without("texture")
    up_to_sign = {tuple(map(abs, peak)) for peak in once.step("texture").parameters["peaks"]}
    assert up_to_sign == {(0.125, 0.05), (0.25, 0.0)}


def shifted(points):
    """Everything lies a tenth further right: cut out anew, a tenth was left off at the left."""
    return [(x - 0.1, y) for x, y in points]


CUT = Way(shifted, ((1.0, 0.0), (0.0, 1.0)))


def test_places_move_with_the_new_cut_and_marks_outside_it_go():
    treatment = Treatment.of(
        [
            Step("marks", {"strokes": [[0.05, 0.5, 0.05, 0.6, 0.01], [0.5, 0.5, 0.6, 0.5, 0.01]]}),
            Step("neutral", {"shift": [0, 0, 0.1], "place": [0.05, 0.5]}),
            Step("crop", {"box": [0.05, 0.1, 0.9, 0.9], "to": "picture"}),
        ]
    )
    done = carried(treatment, CUT)
    assert done.off == ()
    assert done.treatment.step("marks").parameters["strokes"] == ((0.4, 0.5, 0.5, 0.5, 0.01),)
    assert done.treatment.step("neutral").parameters == {"shift": (0, 0, 0.1)}
    assert done.treatment.step("crop").parameters["box"] == (0, 0.1, 0.8, 0.9)


def test_what_holds_for_the_old_cut_alone_is_off_and_told_and_stays_in_the_list():
    done = carried(FRAMING, CUT)
    assert [step.name for step in done.off] == ["keystone", "crop"]
    assert done.treatment.sentences == ("turned a quarter clockwise",)
    assert [step.name for step in done.treatment] == ["keystone", "crop", "quarter turn"]


def test_a_step_that_was_off_is_not_told_again():
    off = FRAMING.switched("keystone", on=False).switched("crop", on=False)
    assert carried(off, CUT).off == ()


@pytest.mark.parametrize("size", [(420, 300), (301, 421), (64, 64)])
@pytest.mark.parametrize("output", [False, True])
def test_the_size_is_that_of_the_picture_that_is_made(size, output):
    treatment = FRAMING.with_step(Step("output", {"long_side": 50})) if output else FRAMING
    picture = np.zeros((size[1], size[0], 3), np.uint8)
    height, width = treat(picture, treatment).picture.shape[:2]
    assert treated_size(treatment, size) == (width, height)
    box = treatment.step("crop").parameters["box"]
    assert treated_size(Treatment.of([treatment.step("crop")]), size) == framed(picture, box=box).shape[1::-1]
