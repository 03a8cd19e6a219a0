from __future__ import annotations

import cv2
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from solander.imaging.conventions import whole_frame
from solander.imaging.in_view import InView
from solander.imaging.lens import Lens
from solander.imaging.rectify import quarter_turn, straight_size, straighten

NOISE = np.random.default_rng(7).integers(0, 256, (90, 120, 3), dtype=np.uint8)
SMOOTH = np.ascontiguousarray(cv2.GaussianBlur(NOISE, (0, 0), 3.0))


def _box(x: float, y: float, width: float, height: float) -> np.ndarray:
    return np.array([[x, y], [x + width, y], [x + width, y + height], [x, y + height]]) - 0.5


@given(st.integers(-9, 9))
def test_a_quarter_turn_is_rot90(turns):
    assert np.array_equal(quarter_turn(NOISE, turns), np.rot90(NOISE, -turns))


@given(st.integers(0, 100), st.integers(0, 70), st.integers(4, 20), st.integers(4, 20))
def test_an_outline_on_pixel_edges_gives_those_pixels(x, y, width, height):
    assert np.array_equal(straighten(NOISE, _box(x, y, width, height)), NOISE[y : y + height, x : x + width])


@given(st.integers(0, 3))
def test_starting_at_another_corner_turns_the_picture(turns):
    corners = _box(20, 10, 60, 40)
    turned = straighten(NOISE, np.roll(corners, turns, axis=0))
    assert np.array_equal(turned, quarter_turn(straighten(NOISE, corners), turns))


@settings(deadline=None, max_examples=30)
@given(st.integers(-8, 8), st.integers(-8, 8), st.floats(-6, 6), st.floats(-6, 6))
def test_moving_picture_and_outline_together_changes_nothing(dx, dy, a, b):
    corners = _box(30, 25, 60, 40) + np.array([[a, b], [b, -a], [-b, a], [-a, -b]])
    moved = np.roll(SMOOTH, (dy, dx), axis=(0, 1))
    here = straighten(SMOOTH, corners, size=(60, 40)).astype(int)
    there = straighten(moved, corners + np.array([dx, dy]), size=(60, 40)).astype(int)
    assert np.abs(here - there).max() <= 2


def test_the_whole_frame_is_the_picture_itself():
    assert np.array_equal(straighten(NOISE, whole_frame(120, 90)), NOISE)


def test_another_program_agrees():
    """Outside check: scikit-image's own warp (bicubic, float64), where it is installed."""
    transform = pytest.importorskip("skimage.transform", reason="scikit-image is not installed: no second opinion")
    corners = np.array([[22.0, 14.0], [95.0, 20.0], [88.0, 71.0], [18.0, 60.0]])
    ours = straighten(SMOOTH, corners, size=(70, 50)).astype(float)
    to_capture = transform.ProjectiveTransform.from_estimate(whole_frame(70, 50), corners)
    theirs = transform.warp(SMOOTH, to_capture, output_shape=(50, 70), order=3, preserve_range=True)
    difference = np.abs(ours - theirs)
    assert difference.mean() < 0.5
    assert np.percentile(difference, 99) < 2.0


def _seen(size_mm: tuple[float, float], tilt: tuple[float, float], focal: float) -> np.ndarray:
    """A rectangle in front of a camera with a 4000 × 3000 frame, tilted about both axes (radians)."""
    w, h = np.array(size_mm) / 2
    flat = np.array([[-w, -h, 0], [w, -h, 0], [w, h, 0], [-w, h, 0]])
    about_x, about_y = (
        cv2.Rodrigues(np.array([tilt[0], 0.0, 0.0]))[0],
        cv2.Rodrigues(np.array([0.0, tilt[1], 0.0]))[0],
    )
    placed = flat @ (about_x @ about_y).T + [6.0, -9.0, 2.2 * max(size_mm)]
    return placed[:, :2] / placed[:, 2:] * focal * 4000 + [1999.5, 1499.5]


@pytest.mark.parametrize("tilt", [(0.02, 0.0), (0.1, 0.0), (0.2, 0.15), (-0.3, 0.2), (0.35, -0.35)])
@pytest.mark.parametrize("size_mm", [(150.0, 100.0), (90.0, 90.0), (60.0, 105.0)])
def test_the_aspect_survives_a_tilted_view(size_mm, tilt):
    width, height = straight_size(_seen(size_mm, tilt, 1.0), frame=(4000, 3000))
    assert width / height == pytest.approx(size_mm[0] / size_mm[1], rel=0.005)


def test_without_tilt_the_size_is_the_sides_length():
    assert straight_size(_box(3, 4, 61, 40), frame=(120, 90)) == (61, 40)


@pytest.mark.parametrize(
    "camera",
    [
        {},
        {"lens": Lens(-0.08, 0.02)},
        {"bows": (8.0, -3.0, 12.0, 4.0)},
        {"lens": Lens(0.05), "bows": (9.0, 0, 4, 1)},
    ],
)
def test_a_place_on_the_paper_is_found_again_in_the_capture_and_back(camera):
    corners = np.array([[100, 120], [900, 90], [950, 700], [80, 720.0]])
    shares = np.array([[0.1, 0.2], [0.5, 0.5], [0.97, 0.03], [0.33, 0.81]])
    view = InView(corners, (1000, 800), **camera)
    assert view.shares(view.seen(shares)) == pytest.approx(shares, abs=1e-6)


def test_a_place_on_the_paper_is_where_the_straight_picture_shows_it():
    """The two maps are told apart by what they move: a white spot, straightened by `straighten`."""
    capture = np.zeros((400, 500, 3), np.uint8)
    corners = np.array([[60, 50], [430, 80], [450, 350], [40, 330.0]])
    across, down = InView(corners, (500, 400)).seen([[0.25, 0.6]])[0]
    capture[round(down) - 1 : round(down) + 2, round(across) - 1 : round(across) + 2] = 255
    straight = straighten(capture, corners, size=(200, 100))[..., 0].astype(float)
    y, x = np.unravel_index(straight.argmax(), straight.shape)
    assert ((x + 0.5) / 200, (y + 0.5) / 100) == pytest.approx((0.25, 0.6), abs=0.011)
