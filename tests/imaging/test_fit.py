"""A rough outline by hand finds the paper's edge beside it: against the simulator, which knows the truth."""

from __future__ import annotations

import cv2
import numpy as np
import pytest

from solander.imaging.conventions import corner_error
from solander.imaging.fit import bows_beside, fit_to_paper
from solander.imaging.simulate import Camera, Paper, Placement, Shadow, Stage, drawn_picture, simulate_capture

pytestmark = pytest.mark.slow

SIZE = (900, 700)
PERSON = np.array([[5.0, -4.0], [-4.0, 5.0], [6.0, 3.0], [-5.0, -5.0]])
"""Pixels by which a person may miss the four corners: about 1 % of the print's diagonal."""


MOST = {"grey": 0.3, "wood": 0.4, "black felt": 0.3, "white paper": 0.8}
"""Corner error in % of the diagonal that 95 of 100 captures may have on these stages (the aims of the finder): on
white paper a white border's edge is no clearer than that of its shadow."""


@pytest.mark.parametrize("stage", MOST)
@pytest.mark.parametrize("border_mm", [0, 4])
def test_a_rough_outline_is_brought_to_the_true_edge(stage: str, border_mm: float) -> None:
    paper = Paper(drawn_picture(3, (480, 340), style="town"), (128, 89), border_mm=border_mm, seed=3)
    placement = Placement((450.0, 350.0), 6.0, 4.8)
    seen = simulate_capture(
        [paper], [placement], Stage(stage), size=SIZE, seed=3, camera=Camera(noise=1.5), shadow=Shadow((2, 2), 3)
    )
    (truth,) = seen.truths
    drawn = truth + PERSON
    fitted = fit_to_paper(seen.rgb, drawn)
    assert fitted.sides == (True, True, True, True)
    assert corner_error(drawn, truth) > 0.8
    assert corner_error(fitted.corners, truth) < MOST[stage]


@pytest.mark.parametrize("curl", [0.0, 0.012])
def test_the_sides_of_a_drawn_outline_bow_as_the_paper_does(curl: float) -> None:
    """The simulator bends the paper by `curl`, a share of the long sides' length; it knows the true corners."""
    paper = Paper(drawn_picture(4, (480, 340), style="harbour"), (128, 89), border_mm=4, curl=curl, seed=4)
    placement = Placement((700.0, 525.0), 0.0, 7.5)
    seen = simulate_capture(
        [paper], [placement], Stage("grey"), size=(1400, 1050), seed=4, camera=Camera(noise=1.0)
    )
    (truth,) = seen.truths
    bows = bows_beside(seen.rgb, truth)
    if not curl:
        assert bows is None
        return
    assert bows is not None
    fitted = fit_to_paper(seen.rgb, truth)
    assert corner_error(fitted.corners, truth) < 0.8
    largest = np.abs(bows).max()
    assert largest > 1.0
    assert bows_beside(seen.rgb, truth + [[60.0, 0.0]] * 4) is None  # another edge, if any: not its bows


def test_a_side_without_an_edge_stays_where_it_was_drawn() -> None:
    """White paper whose right side fades into the stage."""
    rgb = np.full((500, 700, 3), 120, np.uint8)
    rgb[100:400, 150:551] = np.linspace(235, 120, 401)[None, :, None]
    rgb = np.asarray(cv2.GaussianBlur(rgb, (0, 0), 0.8), np.uint8)  # as a lens does it: a step has no sub-pixels
    drawn = np.array([[153.0, 96.0], [551.0, 103.0], [549.0, 397.0], [147.0, 404.0]])
    fitted = fit_to_paper(rgb, drawn)
    assert fitted.sides == (True, False, True, True)
    left = fitted.corners[[0, 3], 0]
    assert np.allclose(left, 149.5, atol=0.3)
    right = fitted.corners[[1, 2]]
    along = (drawn[2] - drawn[1]) / np.linalg.norm(drawn[2] - drawn[1])
    across = (right - drawn[1]) @ np.array([along[1], -along[0]])
    assert np.abs(across).max() < 1e-6


def test_on_an_empty_stage_nothing_moves() -> None:
    noise = np.random.default_rng(1).normal(128, 2, (400, 500, 1)).repeat(3, axis=2)
    drawn = np.array([[100.0, 80.0], [400.0, 85.0], [395.0, 300.0], [104.0, 310.0]])
    fitted = fit_to_paper(noise.round().astype(np.uint8), drawn)
    assert np.array_equal(fitted.corners, drawn)
    assert fitted.sides == (False, False, False, False)
