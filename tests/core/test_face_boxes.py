"""Boxes of faces on paper: turned, overlapped, cut at the edge; their order from the left."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from solander.core.faces import Box, Face, from_left

shares = st.floats(0.05, 0.45)


@given(shares, shares, shares, shares, st.integers(-5, 5))
def test_a_box_turned_is_where_the_turned_picture_shows_it(left, top, width, height, turn):
    """numpy's rot90 is the reference: a marked rectangle turned with the picture."""
    picture = np.zeros((400, 400), bool)
    cells = [round(400 * value) for value in (left, top, width, height)]
    box = Box(*(cell / 400 for cell in cells))
    picture[cells[1] : cells[1] + cells[3], cells[0] : cells[0] + cells[2]] = True
    turned = np.rot90(picture, -turn)
    rows, columns = np.flatnonzero(turned.any(axis=1)), np.flatnonzero(turned.any(axis=0))
    seen = box.turned(turn)
    assert (seen.left, seen.top) == pytest.approx((columns[0] / 400, rows[0] / 400))
    assert (seen.width, seen.height) == pytest.approx((len(columns) / 400, len(rows) / 400))
    back = seen.turned(-turn)
    assert (back.left, back.top, back.width, back.height) == pytest.approx(
        (box.left, box.top, box.width, box.height)
    )


@pytest.mark.parametrize(
    ("one", "other", "iou"),
    [
        (Box(0, 0, 0.2, 0.2), Box(0, 0, 0.2, 0.2), 1.0),
        (Box(0, 0, 0.2, 0.2), Box(0.1, 0, 0.2, 0.2), 1 / 3),
        (Box(0, 0, 0.2, 0.2), Box(0.2, 0, 0.2, 0.2), 0.0),
        (Box(0, 0, 0.2, 0.2), Box(0.5, 0.5, 0.2, 0.2), 0.0),
    ],
)
def test_overlap_is_intersection_over_union(one, other, iou):
    assert one.overlap(other) == pytest.approx(iou, abs=1e-9)


def test_what_reaches_over_the_edge_is_cut_there_and_what_lies_beside_is_none():
    assert Box(-0.1, 0.2, 0.3, 0.1).on_paper() == Box(0.0, 0.2, pytest.approx(0.2), pytest.approx(0.1))
    assert Box(-0.3, 0.2, 0.3, 0.1).on_paper() is None
    assert Box(0.2, 0.2, 0.001, 0.1).on_paper() is None


def test_faces_are_counted_from_the_left_as_the_print_is_shown():
    faces = [Face(str(place), "v", Box(left, 0.1 * place, 0.1, 0.1)) for place, left in enumerate((0.6, 0.1, 0.3))]
    assert [from_left(face, faces, turn=0) for face in faces] == [(3, 3), (1, 3), (2, 3)]
    assert [from_left(face, faces, turn=1)[0] for face in faces] == [3, 2, 1], "turned, down is to the left"
