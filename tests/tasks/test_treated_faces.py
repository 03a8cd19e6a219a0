"""Faces keep to their heads in treated pictures: a dot drawn in a box is found again where the box has gone."""

from __future__ import annotations

import numpy as np
import pytest
from attrs import evolve

from solander.core.faces import Box, NamedFace
from solander.core.prints import Outline, Side, View
from solander.core.treatments import Step, Treatment
from solander.imaging.treatment.treat import treat
from solander.tasks.treated_faces import faces_in_treated

SIZE = 600, 400
CORNERS = ((0.0, 0.0), (599.0, 0.0), (599.0, 399.0), (0.0, 399.0))
VIEW = View("a" * 64, 0, Outline(CORNERS, 1.0), Side.RECTO, *SIZE)
FACE = NamedFace("Anna", Box(0.55, 0.3, 0.05, 0.08))

KEYSTONE = Step("keystone", {"corners": [[0.05, 0.02], [0.96, 0.06], [0.93, 0.97], [0.02, 0.9]]})
TURN, CROP = Step("fine turn", {"degrees": 4.0}), Step("crop", {"box": [0.2, 0.1, 0.9, 0.8]})
QUARTER, SMALLER = Step("quarter turn", {"turns": 3}), Step("output", {"long_side": 300})


@pytest.mark.parametrize(
    "steps", [[], [CROP], [TURN], [QUARTER], [KEYSTONE, TURN, CROP, QUARTER], [TURN, CROP, QUARTER, SMALLER]]
)
def test_the_box_goes_where_the_pixels_go(steps: list[Step]) -> None:
    treatment = Treatment.of(steps)
    picture = np.full((SIZE[1], SIZE[0], 3), 40, np.uint8)
    box = FACE.box
    rows = slice(round(box.top * SIZE[1]), round((box.top + box.height) * SIZE[1]))
    columns = slice(round(box.left * SIZE[0]), round((box.left + box.width) * SIZE[0]))
    picture[rows, columns] = 220
    treated = treat(picture, treatment.applied).picture
    (found,) = faces_in_treated([FACE], evolve(VIEW, treatment=treatment))
    ys, xs = np.nonzero(treated[..., 0] > 130)
    size = np.array(treated.shape[1::-1])
    seen = np.array([xs.min(), ys.min(), xs.max() + 1, ys.max() + 1]) / np.tile(size, 2)
    told = np.array(
        [found.box.left, found.box.top, found.box.left + found.box.width, found.box.top + found.box.height]
    )
    assert np.abs((seen - told) * np.tile(size, 2)).max() < 1.6  # pixels


def test_a_face_that_is_cut_off_is_not_told() -> None:
    off = Treatment.of([Step("crop", {"box": [0.0, 0.0, 0.5, 1.0]})])
    assert faces_in_treated([FACE], evolve(VIEW, treatment=off)) == ()
    assert faces_in_treated([FACE], evolve(VIEW, treatment=off.switched("crop", on=False))) == (FACE,)
