"""How sheets are cut and bent is what their truths say, checked against OpenCV's camera and plain geometry."""

from __future__ import annotations

from itertools import pairwise

import cv2
import numpy as np
import pytest
from attrs import evolve
from hypothesis import given
from hypothesis import strategies as st

from solander.imaging.simulate import Cut, Frame, Paper, Placement, Wear
from solander.imaging.simulate.cutting import KNIVES
from solander.imaging.simulate.geometry import Chain, Curl, Lens
from solander.imaging.simulate.light import linear_colour

WHITE = np.full((60, 90, 3), 255, np.uint8)
SKEW = Cut(((0.1, 0.5), (0.4, 0.0), (0.3, 0.2), (0.0, 0.45)))
SIZE_MM = (90.0, 60.0)


def white(**more) -> Paper:
    return Paper(WHITE, SIZE_MM, border_mm=0, tone="colour", yellowing=0, texture=0, **more)


@given(st.floats(-800, 3800), st.floats(-600, 3000), st.floats(-0.03, 0.03), st.floats(-0.02, 0.02))
def test_the_lens_bends_as_opencvs_camera_does(x, y, bend, bend_2):
    # Its distorted point is our ideal one: ours is told from the captured radius, OpenCV's from the ideal.
    size = (3000, 2250)
    half = float(np.hypot(*size)) / 2
    matrix = np.array([[half, 0, (size[0] - 1) / 2], [0, half, (size[1] - 1) / 2], [0, 0, 1]])
    point = np.array([[(x - matrix[0, 2]) / half, (y - matrix[1, 2]) / half, 1.0]])
    expected, _ = cv2.projectPoints(point, np.zeros(3), np.zeros(3), matrix, np.array([bend, bend_2, 0, 0.0]))
    assert Lens(size, bend, bend_2).ideal(np.array([[x, y]])) == pytest.approx(expected[:, 0], abs=1e-6)


@pytest.mark.parametrize("tilt", [(0.0, 0.0), (5.0, -8.0)])
def test_a_sheet_lies_where_opencvs_camera_sees_it(tilt):
    size, at = (2400, 1800), Placement((900.0, 1000.0), 33.0, 10.0, tilt)
    chain = Chain(at, (900.0, 600.0), Lens(size))
    turn, tilt_x, tilt_y = (
        cv2.Rodrigues(np.deg2rad(axis))[0] for axis in ([0, 0, 33.0], [tilt[0], 0, 0], [0, tilt[1], 0])
    )
    corners = np.array([[-450, -300, 0], [450, -300, 0], [450, 300, 0], [-450, 300, 0]], float)
    space = corners @ (tilt_x @ tilt_y @ turn).T
    # Our z grows towards the lens, OpenCV's away from it.
    space = (space + np.array([at.centre[0] - 1199.5, at.centre[1] - 899.5, 0])) * [1, 1, -1]
    space[:, 2] += 3600
    matrix = np.array([[3600, 0, 1199.5], [0, 3600, 899.5], [0, 0, 1]])
    expected, _ = cv2.projectPoints(space, np.zeros(3), np.zeros(3), matrix, None)
    assert chain.corners() == pytest.approx(expected[:, 0], abs=1e-6)


@pytest.mark.parametrize("axis", [0.0, 20.0, -35.0])
@pytest.mark.parametrize("bow", [0.015, -0.015])
def test_a_curled_sheet_is_a_cylinder_before_opencvs_camera(bow, axis):
    size, paper_px, at = (2400, 1800), (900.0, 600.0), Placement((900.0, 1000.0), 0.0, 10.0)
    chain = Chain(at, paper_px, Lens(size), bow, axis)
    middle = np.array([1199.5, 899.5])
    curl = Curl(bow, size=paper_px, eye=middle - at.centre, distance=3600.0, axis_deg=axis)
    turn = np.array(
        [
            [np.cos(np.deg2rad(axis)), np.sin(np.deg2rad(axis))],
            [-np.sin(np.deg2rad(axis)), np.cos(np.deg2rad(axis))],
        ]
    )
    length = float(np.abs(turn[0]) @ paper_px)
    radius = length / (2 * curl.sweep)
    flat = np.array([[-450, -300], [450, -300], [450, 300], [-450, 300], [100, -300], [0, 0], [-450, 20]], float)
    along, aside = turn @ flat.T
    rise = radius * (1 - np.cos(along / radius))
    lift = rise if bow > 0 else radius * (1 - np.cos(curl.sweep)) - rise
    ground = np.column_stack([radius * np.sin(along / radius), aside]) @ turn
    space = np.column_stack([ground + at.centre - middle, 3600 - lift])
    matrix = np.array([[3600, 0, middle[0]], [0, 3600, middle[1]], [0, 0, 1]])
    expected, _ = cv2.projectPoints(space, np.zeros(3), np.zeros(3), matrix, None)
    assert chain.to_capture(flat) == pytest.approx(expected[:, 0], abs=0.01)


def test_the_corners_of_a_trimmed_sheet_are_where_its_sides_meet():
    corners = SKEW.corners(SIZE_MM)
    (x0, y0), (x1, y1), (x2, y2), (x3, y3) = corners + np.array(SIZE_MM) / 2
    # Told by each side at the two places that matter, to the second order in half a per cent.
    assert [y0, y1, x1, x2, y2, y3, x3, x0] == pytest.approx(
        [0.1, 0.5, 90 - 0.0, 90 - 0.45, 60 - 0.0, 60 - 0.4, 0.2, 0.3], abs=0.005
    )


def test_a_trimmed_sheet_covers_the_quadrilateral_of_its_corners():
    px = 10.0
    coverage = white(cut=SKEW).raster(px)[..., 3]
    corners = SKEW.corners(SIZE_MM) * px + np.array([449.5, 299.5])
    x, y = corners.T
    area = abs(x @ np.roll(y, -1) - y @ np.roll(x, -1)) / 2
    assert coverage.sum() == pytest.approx(area, rel=2e-5)
    for start, end in pairwise([*corners, corners[0]]):
        for share in (0.2, 0.5, 0.8):
            across = np.array([start[1] - end[1], end[0] - start[0]]) / np.hypot(*(end - start))
            for away, inside in ((-1.2, 0.0), (1.2, 1.0)):
                column, row = np.rint(start + (end - start) * share + away * across).astype(int)
                if 0 <= row < 600 and 0 <= column < 900:
                    assert coverage[row, column] == pytest.approx(inside, abs=0.001)


@pytest.mark.parametrize("bow", [-0.08, 0.03, 0.08])
def test_a_bowed_cut_gives_or_takes_two_thirds_of_its_arc(bow):
    # Area under a flat arc (parabola): two thirds of length × height.
    ends = ((0.1, 0.1), (0.1, 0.1), (0.1, 0.1), (0.1, 0.1))
    straight, bowed = (
        white(cut=Cut(ends, bows)).raster(10.0)[..., 3].sum() for bows in ((0, 0, 0, 0), (bow, 0, 0, 0))
    )
    assert straight - bowed == pytest.approx(2 / 3 * bow * 10 * 900, abs=2.0)


@pytest.mark.parametrize("knife", KNIVES)
@pytest.mark.parametrize("seed", range(3))
def test_a_deckled_edge_reaches_its_rectangle_again_and_again_and_no_deeper_than_told(knife, seed):
    px = 12.0
    coverage = white(cut=Cut(knife=knife, deckle_mm=1.0), seed=seed).raster(px)[..., 3]
    for side in (coverage, coverage[::-1], coverage.T, coverage[:, ::-1].T):
        inner = side[:, 40:-40]
        assert (inner[round(1.0 * px) + 1] == 1).all()
        near = inner[:2].min(axis=0) > 0.5
        thirds = np.array_split(near, 3)
        assert all(third.any() for third in thirds)
        assert near.mean() < 0.6


def test_wear_bites_into_a_sheet_only_at_its_rim():
    fresh, worn = (white(wear=wear, seed=5).raster(10.0) for wear in (Wear(), Wear(rim=1, dents=1, tears=1)))
    lost = fresh[..., 3] - worn[..., 3]
    assert lost.min() >= 0
    assert lost[0, 0] == 1
    assert not lost[60:-60, 60:-60].any()
    assert (fresh[60:-60, 60:-60] == worn[60:-60, 60:-60]).all()


def test_a_bevel_lights_the_edge_and_leaves_the_face():
    plain, lit = (
        white(wear=Wear(bevel=(0.3, -0.3, 0, 0))).raster(10.0) if on else white().raster(10.0) for on in (0, 1)
    )
    assert lit[0, 400, 1] == pytest.approx(1.3 * plain[0, 400, 1], rel=1e-3)
    assert lit[-1, 400, 1] == pytest.approx(0.7 * plain[-1, 400, 1], rel=1e-3)
    assert (lit[5:-5] == plain[5:-5]).all()
    assert (lit[..., 3] == plain[..., 3]).all()


def test_frames_follow_one_another_from_the_border_inwards():
    frames = (Frame(1, (40, 40, 40)), Frame(2, (120, 120, 120)))
    paper = evolve(white(stock=(200, 200, 200), frames=frames), border_mm=4)
    row = paper.raster(10.0)[300, :, 1]
    expected = [(200, 20), (40, 45), (120, 60), (255, 400)]
    assert [row[column] for _, column in expected] == pytest.approx(
        [linear_colour((code, code, code))[1] for code, _ in expected], rel=1e-3
    )
