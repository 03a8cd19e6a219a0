"""Treatments as a whole: the same bits each time, no bands, what went beyond is told, previews."""

from __future__ import annotations

import cv2
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from treatment_stand_in import Step, scene

from solander.core import treatments as kept
from solander.core.treatment_steps import KINDS
from solander.imaging.conventions import WrongPicture
from solander.imaging.treatment import treat as module
from solander.imaging.treatment.deep import as_deep
from solander.imaging.treatment.frame import framed
from solander.imaging.treatment.preview import IN_FULL_SIZE, Preview
from solander.imaging.treatment.treat import BY_CHANNEL, FRAMING, WHOLE, treat

FADING = Step("fading", {"stain": (0.02, 0.04, 0.12), "gain": (1.8, 1.2, 1.4)})
CURVE = Step("tone curve", {"points": [[0, 0], [0.4, 0.5], [1, 1]]})
SEVERAL = [
    Step("marks", {"strokes": [(0.2, 0.3, 0.25, 0.35, 0.01)]}),
    Step("texture", {"peaks": [(0.1, 0.05), (0.2, 0.1)]}),
    FADING,
    Step("neutral", {"shift": (0, 0.01, 0.02)}),
    Step("density", {"by": 0.1}),
    CURVE,
    Step("detail", {"shadows": 0.5, "highlights": 0.2}),
    Step("fine turn", {"degrees": -1.2}),
    Step("crop", {"box": (0.05, 0.05, 0.95, 0.95)}),
    Step("quarter turn", {"turns": 1}),
    Step("output", {"long_side": 300}),
]


def test_what_treatments_may_hold_is_what_can_be_done():
    assert set(KINDS) == set(BY_CHANNEL) | set(FRAMING) | set(WHOLE)


def test_nothing_to_do_changes_nothing():
    assert np.array_equal(treat(scene(), []).picture, scene())


NO_STAIN = [0, 0, 0]
IDLE = [
    ("texture", {"peaks": [[0.1, 0.2]], "strength": 0}),
    ("fading", {"stain": NO_STAIN, "gain": [1, 1, 1]}),
    ("yellowing", {"stain": [0, 0.04, 0.2], "share": 0}),
    ("yellowing", {"stain": NO_STAIN}),
    ("neutral", {"shift": NO_STAIN}),
    ("density", {"by": 0}),
    ("tone curve", {"points": [[0, 0], [0.25, 0.25], [0.75, 0.75], [1, 1]]}),
    ("tone curve", {"points": [[0.2, 0.2], [0.8, 0.8]]}),
    ("detail", {}),
    ("detail", {"shadows": 0, "highlights": 0}),
    ("keystone", {"corners": [[0, 0], [1, 0], [1, 1], [0, 1]]}),
    ("fine turn", {"degrees": 0}),
    ("crop", {"box": [0, 0, 1, 1], "to": "box"}),
]


@pytest.mark.parametrize(("name", "parameters"), IDLE)
def test_what_changes_no_pixel_is_not_told_as_done(name, parameters):
    step = kept.Step(name, parameters)
    assert np.abs(treat(scene(), [step]).picture.astype(int) - scene()).max() <= 1  # of 255: what rounding leaves
    treatment = kept.Treatment((step,))
    assert (treatment.sentences, treatment.key) == ((), "")
    assert treatment.steps == (step,)  # it stays in the list


@pytest.mark.slow
def test_the_same_treatment_gives_the_same_bits_however_many_threads_and_rows_at_a_time(monkeypatch):
    view = scene(900, 700)
    first = treat(view, SEVERAL).picture
    assert np.array_equal(treat(view.copy(), SEVERAL).picture, first)
    monkeypatch.setattr(module, "BAND", 256)
    threads = cv2.getNumThreads()
    try:
        cv2.setNumThreads(1)
        assert np.array_equal(treat(view, SEVERAL).picture, first)
    finally:
        cv2.setNumThreads(threads)


@pytest.mark.slow
@settings(max_examples=10, deadline=None)
@given(st.floats(1, 4), st.floats(0, 0.3), st.floats(-0.4, 0.4))
def test_no_bands_a_ramp_that_is_stretched_stays_a_ramp(gain, stain, by):
    """Of a ramp of 8 bits over 2048 pixels: the mean of each column moves on by little, however steep the step."""
    ramp = np.repeat(np.linspace(0, 255, 2048)[None], 256, axis=0)
    view = np.dstack([np.rint(ramp).astype(np.uint8)] * 3)
    steps = [Step("fading", {"stain": (stain,) * 3, "gain": (gain,) * 3}), Step("density", {"by": by})]
    treated = treat(view, steps).picture[..., 0].mean(axis=0)
    exact = treat(np.dstack([np.rint(ramp * 257).astype(np.uint16)] * 3), steps).picture[0, :, 0].astype(float)
    shown = (ramp[0] > 40) & (exact > 0) & (exact < 255)
    steepest = np.abs(np.diff(exact[shown])).max(initial=0)
    assert np.abs(treated - exact)[shown].max(initial=0) <= 0.75 * max(1.0, steepest * 8) + 0.5
    assert np.diff(treated)[shown[1:]].min(initial=0) > -0.6


def test_a_stretched_picture_uses_the_codes_between():
    ramp = np.tile(np.linspace(60, 120, 1024).astype(np.uint8), (256, 1))
    treated = treat(np.dstack([ramp] * 3), [Step("tone curve", {"points": [[0.2, 0.05], [0.5, 0.95]]})]).picture
    codes = np.unique(treated[..., 0])
    assert np.diff(codes).max() == 1, "no code is left out"


def test_what_went_beyond_white_is_told():
    view = np.full((64, 64, 3), 200, np.uint8)
    view[:32] = 90
    lighter = treat(view, [Step("neutral", {"shift": (0.3, 0.3, 0.3)})])
    assert lighter.clipped == pytest.approx(0.5)
    assert treat(view, [Step("neutral", {"shift": (0.01, 0.01, 0.01)})]).clipped == 0
    white = np.full((64, 64, 3), 255, np.uint8)
    assert treat(white, [Step("neutral", {"shift": (0.1, 0.1, 0.1)})]).clipped == 0, "white was lost before"
    dyes = Step(
        "fading", {"stain": (0.4, 0.4, 0.4), "gain": (1, 1, 1), "side_absorptions": np.eye(3).ravel().tolist()}
    )
    assert treat(view, [dyes]).clipped == pytest.approx(0.5)


def test_what_turns_and_crops_is_resampled_once():
    """Turned, cropped and turned by a quarter in one go, as the frame's own function does it."""
    steps = [
        Step("fine turn", {"degrees": 2.0}),
        Step("crop", {"box": (0.1, 0.1, 0.9, 0.8)}),
        Step("quarter turn", {"turns": 3}),
    ]
    at_once = framed(scene(), angle_deg=2.0, box=(0.1, 0.1, 0.9, 0.8), turns=3)
    assert np.array_equal(treat(scene(), steps).picture, at_once)
    one_by_one = treat(treat(scene(), steps[1:2]).picture, steps[:1]).picture
    assert np.array_equal(treat(scene(), [steps[1], steps[0]]).picture, one_by_one), (
        "another order is another picture"
    )


def test_nothing_is_cut_off_between_two_steps():
    """Lighter beyond white and back is as it was."""
    view = np.full((8, 8, 3), 230, np.uint8)
    there_and_back = [
        Step("yellowing", {"stain": (0.3, 0.3, 0.3)}),
        Step("neutral", {"shift": (-0.3, -0.3, -0.3)}),
    ]
    assert np.array_equal(treat(view, there_and_back).picture, view)


def test_16_bits_go_in_as_well():
    deep = as_deep(scene())
    assert np.abs(treat(deep, [FADING]).picture.astype(int) - treat(scene(), [FADING]).picture).max() <= 2


@pytest.mark.parametrize(
    "step",
    [
        Step("sparkle"),
        Step("two lights", {"second": "not there"}),
        Step("tone curve", {"points": [[0, 0], [0.5, 0.5], [0.4, 1]]}),
        Step("crop", {"box": (0.5, 0, 0.4, 1)}),
    ],
)
def test_what_cannot_be_done_is_refused(step):
    with pytest.raises(WrongPicture):
        treat(scene(), [step])


@pytest.mark.slow
def test_a_preview_looks_as_the_treated_view_does():
    view = scene(900, 600)
    steps = [step for step in SEVERAL if step.name != "output"]
    shown = Preview(view, long_side=450).shown(SEVERAL).picture
    whole = treat(view, steps).picture
    reduced = cv2.resize(whole, (shown.shape[1], shown.shape[0]), interpolation=cv2.INTER_AREA)
    assert shown.shape[0] in (403, 404, 405, 406)
    inner = np.s_[4:-4, 4:-4]
    assert np.abs(shown.astype(int)[inner] - reduced[inner]).mean() < 3


def test_a_preview_is_as_light_as_what_goes_out():
    """Lines of black and white, averaged as a lens does, are half of the light: code 188 (IEC 61966-2-1)."""
    lines = np.zeros((64, 64, 3), np.uint8)
    lines[:, ::2] = 255
    assert (Preview(lines, long_side=32).shown([]).picture == 188).all()


def test_a_preview_does_slow_steps_once(monkeypatch):
    done = []
    texture = WHOLE["texture"]
    monkeypatch.setitem(WHOLE, "texture", lambda *given: done.append(1) or texture(*given))
    preview = Preview(scene(), long_side=200)
    slow = Step("texture", {"peaks": [(0.1, 0.05)]})
    for by in (0.1, 0.2, 0.3):
        preview.shown([slow, Step("density", {"by": by})])
    preview.shown([Step("density", {"by": 0.1})])
    preview.shown([slow])
    assert len(done) == 1
    assert list(KINDS)[: len(IN_FULL_SIZE)] == list(IN_FULL_SIZE), "they come first in every treatment"
