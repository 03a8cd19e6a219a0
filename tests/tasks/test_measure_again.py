"""Views that an older edition measured, measured again: as the print lies, also where one was turned since."""

from __future__ import annotations

from pathlib import Path

import cv2
import numpy as np
import pytest
from attrs import evolve

from solander.core.condition import MEASURED
from solander.core.prints import View
from solander.tasks.accession import accession
from solander.tasks.collection import Collection
from solander.tasks.condition_told import states_told
from solander.tasks.measure_again import measure_again, sides_of
from solander.tasks.upright import turn_by_hand


def _picture(folder: Path) -> Path:
    """A pale print on a grey stage whose top left corner is missing, unlike itself when it is turned."""
    stage = np.full((600, 800, 3), 118, np.uint8)
    sheet = np.array([[150, 180], [210, 120], [649, 120], [649, 479], [150, 479]])
    cv2.fillConvexPoly(stage, sheet, (206, 214, 216))
    cv2.circle(stage, (300, 300), 60, (60, 70, 90), -1)
    cv2.rectangle(stage, (420, 380), (600, 440), (140, 60, 40), -1)
    noisy = cv2.GaussianBlur(stage, (0, 0), 0.7) + np.random.default_rng(1).normal(0, 1.0, stage.shape)
    file = folder / "corner.png"
    cv2.imwrite(str(file), np.clip(noisy, 0, 255).astype(np.uint8))
    return file


def _only_view(box: Collection) -> View:
    (print_,) = box.catalogue.prints()
    return print_.views[0]


@pytest.mark.slow
def test_a_view_that_was_turned_is_measured_as_the_print_lies_and_told_as_it_is_shown(tmp_path):
    with Collection.create(tmp_path / "box", title="A box") as box:
        accession(box, [_picture(tmp_path)])
        at_first = _only_view(box)
        turn_by_hand(box, at_first.key, 1)
        turned = _only_view(box)
        with box.catalogue.act("test", "as an older edition") as act, act.work() as work:
            work.set_condition(turned.key, evolve(turned.condition, measured=0, missing=(), fingerprint="f" * 16))
            work.commit()
        (one,) = measure_again(box, sides_of(box))
        condition = one.view.condition
        assert (one.view.turn, condition.measured, condition.fingerprint) == (1, MEASURED, "f" * 16)
        assert [missing.place for missing in condition.missing] == ["top left corner"]
        assert condition.missing[0].depth == pytest.approx(60 / np.sqrt(2) / np.hypot(500, 360), rel=0.25)
        assert "Its top right corner is missing." in [told.words for told in states_told(one.view)]
        # what was never measured gets the fingerprint that turning gave: that of the view as it is shown
        never = evolve(one, view=evolve(one.view, condition=None))
        (anew,) = measure_again(box, [never])
        off = int(anew.view.condition.fingerprint, 16) ^ int(turned.condition.fingerprint, 16)
        assert off.bit_count() <= 3
