"""Lens and curl in straightening, against the simulator's own geometry."""

from __future__ import annotations

import cv2
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.typing import NDArray

from solander.imaging.conventions import whole_frame
from solander.imaging.curl import Bows, curl_of
from solander.imaging.in_view import InView
from solander.imaging.lens import Lens
from solander.imaging.rectify import KNOT, _bent_map, paper_mm, straight_size, straighten
from solander.imaging.scale import Plane
from solander.imaging.simulate.geometry import Chain, Placement
from solander.imaging.simulate.geometry import Lens as BentGlass

FRAME = (2000, 1500)
FOCAL = 1.5  # of the simulator's camera, in long sides of the frame
PAPER = (1050.0, 700.0)
SHARES = np.stack(np.meshgrid(np.linspace(0.01, 0.99, 13), np.linspace(0.01, 0.99, 13)), axis=-1).reshape(-1, 2)
NOISE = np.random.default_rng(3).integers(0, 256, (70, 100, 3), dtype=np.uint8)


def curled(curl: float, *, axis_deg: float = 0.0, tilt: tuple[float, float] = (0.0, 0.0)) -> Chain:
    at = Placement((1030.0, 690.0), 4.0, 7.0, tilt)
    return Chain(placement=at, paper_px=PAPER, lens=BentGlass(FRAME), curl=curl, curl_axis_deg=axis_deg)


def bows_of(chain: Chain) -> Bows:
    """How far the sides' middles lie outside: parabolas through the true sides."""
    found = []
    for side in chain.border(65).reshape(4, 65, 2):
        chord = side[-1] - side[0]
        normal = np.array([chord[1], -chord[0]]) / np.hypot(*chord)
        along = (side - side[0]) @ chord / (chord @ chord)
        found.append(float(-np.polyfit(2 * along - 1, (side - side[0]) @ normal, 2)[0]))
    return found[0], found[1], found[2], found[3]


def deviation(sheet: InView, chain: Chain) -> float:
    """The largest distance inside the view from where the simulator put it, in % of the diagonal."""
    truth = chain.to_capture((SHARES - 0.5) * PAPER)
    corners = chain.corners()
    return float(100 * np.hypot(*(sheet.seen(SHARES) - truth).T).max() / np.hypot(*(corners[2] - corners[0])))


@pytest.mark.parametrize("curl", [0.004, 0.01, -0.01, 0.02, -0.02])
def test_a_curled_print_comes_out_flat(curl: float) -> None:
    chain = curled(curl)
    flat = deviation(InView(chain.corners(), FRAME), chain)
    bent = deviation(InView(chain.corners(), FRAME, bows=bows_of(chain), focal=FOCAL), chain)
    assert bent < 0.05
    assert bent < 0.15 * flat


@pytest.mark.parametrize(
    ("curl", "axis_deg", "tilt"), [(0.015, 8, (0, 0)), (0.01, 0, (2, -2)), (-0.01, -8, (1, 2))]
)
def test_what_is_no_upright_cylinder_is_at_least_flatter(curl: float, axis_deg: float, tilt) -> None:
    chain = curled(curl, axis_deg=axis_deg, tilt=tilt)
    flat = deviation(InView(chain.corners(), FRAME), chain)
    assert deviation(InView(chain.corners(), FRAME, bows=bows_of(chain), focal=FOCAL), chain) < 0.6 * flat


@pytest.mark.parametrize("curl", [0.01, 0.02, -0.02])
def test_a_curled_print_is_as_long_as_its_paper(curl: float) -> None:
    chain = curled(curl)
    width, height = straight_size(chain.corners(), frame=FRAME, bows=bows_of(chain), focal=FOCAL)
    assert width / height == pytest.approx(1.5, rel=0.005)


@pytest.mark.parametrize("curl", [0.0, 0.01, -0.02])
def test_paper_is_measured_along_its_curl(curl: float) -> None:
    """The stage is what the simulator's camera sees at 7 px a millimetre."""
    chain = curled(curl)
    plane = Plane(np.diag([7.0, 7.0, 1.0]), FRAME)
    size = paper_mm(chain.corners(), plane, bows=bows_of(chain) if curl else None, focal=FOCAL)
    assert size == pytest.approx((150, 100), rel=0.005)


@given(st.floats(-0.05, 0.05), st.floats(-0.02, 0.02))
def test_a_lens_that_is_known_is_taken_out(k1: float, k2: float) -> None:
    lens, flat = Lens(k1, k2), curled(0.0)
    sheet = InView(lens.captured(flat.corners(), FRAME), FRAME, lens=lens)
    truth = lens.captured(flat.to_capture((SHARES - 0.5) * PAPER), FRAME)
    assert np.abs(sheet.seen(SHARES) - truth).max() < 0.01


def test_sides_bowed_by_a_known_lens_are_no_curl() -> None:
    lens, flat = Lens(-0.04), curled(0.0)
    middles = [(a + b) / 2 for a, b in zip(flat.corners(), np.roll(flat.corners(), -1, axis=0), strict=True)]
    corners, seen = lens.captured(flat.corners(), FRAME), lens.captured(np.array(middles), FRAME)
    ahead = np.roll(corners, -1, axis=0) - corners
    normal = np.stack([ahead[:, 1], -ahead[:, 0]], axis=1) / np.linalg.norm(ahead, axis=1)[:, None]
    bows = tuple(((seen - corners - ahead / 2) * normal).sum(axis=1))
    sheet = InView(corners, FRAME, lens=lens, bows=bows)
    assert sheet.curl is None
    assert np.abs(sheet.seen(SHARES) - lens.captured(flat.to_capture((SHARES - 0.5) * PAPER), FRAME)).max() < 0.2


def test_without_lens_and_bows_the_pixels_stay_those_of_a_homography() -> None:
    corners = np.array([[12.0, 9.0], [85.0, 12.0], [82.0, 60.0], [9.0, 55.0]])
    plain = straighten(NOISE, corners)
    assert np.array_equal(straighten(NOISE, corners, lens=Lens(), bows=(0.0, 0.0, 0.0, 0.0)), plain)
    size = (plain.shape[1], plain.shape[0])
    onto = cv2.getPerspectiveTransform(whole_frame(*size).astype(np.float32), corners.astype(np.float32))
    flags = cv2.INTER_CUBIC | cv2.WARP_INVERSE_MAP
    assert np.array_equal(
        plain, cv2.warpPerspective(NOISE, onto, size, flags=flags, borderMode=cv2.BORDER_REPLICATE)
    )


def test_the_map_between_its_knots_is_that_of_every_pixel() -> None:
    chain, lens = curled(0.02), Lens(-0.04, 0.01)
    sheet = InView(lens.captured(chain.corners(), FRAME), FRAME, lens=lens, bows=bows_of(chain), focal=FOCAL)
    across, down = _bent_map(sheet, (1050, 700))
    pixels = np.stack(np.meshgrid(np.arange(3.0, 1050, 37), np.arange(5.0, 700, 29)), axis=-1)
    rows, columns = pixels[..., 1].astype(int), pixels[..., 0].astype(int)
    exact = sheet.seen((pixels + 0.5) / [1050, 700])
    assert np.abs(np.stack([across[rows, columns], down[rows, columns]], axis=-1) - exact).max() < 0.01
    assert 1050 % KNOT


def test_straight_sides_are_no_curl() -> None:
    corners = curled(0.0).corners()
    assert curl_of(corners, (0.1, -0.1, 0.1, 0.2), frame=FRAME, focal=FOCAL) is None
    assert curl_of(corners, (9.0, 9.0, 9.0, 9.0), frame=FRAME, focal=FOCAL) is None


@pytest.mark.slow
def test_a_picture_on_a_curled_print_is_the_picture_again() -> None:
    """Whole pixels: a smooth picture bent by the simulator and straightened differs by noise only."""
    chain = curled(0.015)
    picture = cv2.resize(cv2.GaussianBlur(NOISE, (0, 0), 2), (1050, 700), interpolation=cv2.INTER_CUBIC)
    grid = np.stack(np.meshgrid(np.arange(2000.0), np.arange(1500.0)), axis=-1)
    places: NDArray[np.float32] = (chain.to_paper(grid) + np.array(PAPER) / 2 - 0.5).astype(np.float32)
    seen = cv2.remap(picture, places[..., 0], places[..., 1], cv2.INTER_CUBIC, borderMode=cv2.BORDER_REPLICATE)
    size = {"size": (1050, 700), "focal": FOCAL}
    flat = straighten(seen, chain.corners(), **size).astype(int)
    bent = straighten(seen, chain.corners(), bows=bows_of(chain), **size).astype(int)
    inside = (slice(4, -4), slice(4, -4))
    error, before = (float(np.abs(one - picture)[inside].mean()) for one in (bent, flat))
    assert error < 0.5
    assert before > 4 * error
