from __future__ import annotations

import numpy as np
import pytest
from attrs import evolve

from solander.imaging.choice import FEATURES, Choice
from solander.imaging.confidence import EVIDENCE, WEIGHTS, confidence_in, evidence
from solander.imaging.conventions import corner_error, iou
from solander.imaging.edges import Line
from solander.imaging.locate import locate_prints
from solander.imaging.refine import Refined
from solander.imaging.search import Candidate
from solander.imaging.simulate import drawn_picture, random_capture

QUAD = np.array([[100.0, 100], [700, 100], [700, 500], [100, 500]])
SEEN = Candidate(QUAD, (0.0,) * 4, support=0.95)
FITTED = Refined(QUAD, (1.0,) * 4, spread=2e-4, doubt=1e-4, moved=5e-4, softness=(3.0,) * 4)
EDGE = Choice(Line(0.0, 0.0, 0.0, 12.0, 1.0), 10.0, np.ones(len(FEATURES)), 1.0, 0.0, np.zeros(3, np.float32))
SEEN_PLAINLY = evolve(SEEN, support=1.0, chosen=(EDGE,) * 4)
SURE = 0.9


def test_every_piece_of_evidence_has_its_weight():
    assert len(evidence(SEEN, FITTED)) == len(EVIDENCE) == len(WEIGHTS)


@pytest.mark.parametrize(
    "worse",
    [{"doubt": 3e-3}, {"spread": 3e-3}, {"moved": 1e-2}, {"softness": (3.0, 3.0, 3.0, 12.0)}],
    ids=lambda worse: next(iter(worse)),
)
def test_worse_fits_make_less_sure(worse):
    assert confidence_in(SEEN, evolve(FITTED, **worse)) < confidence_in(SEEN, FITTED)


def test_a_near_rival_makes_less_sure():
    rival = evolve(SEEN, quad=QUAD + 20, merit=39.5)
    assert confidence_in(evolve(SEEN, merit=40.0, rivals=(rival,)), FITTED) < confidence_in(SEEN, FITTED)


def test_what_may_be_something_else_than_one_print_is_always_asked_about():
    assert confidence_in(SEEN_PLAINLY, FITTED) > SURE
    assert confidence_in(evolve(SEEN_PLAINLY, doubted=True), FITTED) < SURE
    assert confidence_in(SEEN_PLAINLY, FITTED, at_rim=0.1) < SURE  # a board on which a print lies


def test_without_curves_hardly_anything_is_sure():
    assert 0 < confidence_in(SEEN, Refined(QUAD)) < 0.2


@pytest.mark.slow
def test_what_is_accepted_is_right_and_most_is_accepted():
    """A small sample of the evaluation, in captures that no weight was fitted on."""
    pictures = [drawn_picture(seed) for seed in range(6)]
    accepted = []
    for case in ("grey stage", "green stage", "wood", "white on white", "doors and mounts", "rounded"):
        for seed in range(500, 503):
            capture = random_capture(seed, pictures, case=case, size=(1600, 1200))
            best = max(locate_prints(capture.rgb), key=lambda f: iou(f.corners, capture.truths[0]), default=None)
            if best is not None and best.confidence >= SURE:
                accepted.append(corner_error(best.corners, capture.truths[0]))
    assert len(accepted) >= 12
    assert np.percentile(accepted, 95) <= 0.3
