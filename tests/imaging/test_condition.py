"""Each measure against a picture of which the truth is known.

Sources: ISO 12233 has the edge's rise (test_measure.py); the densities are those of Beer and Lambert's law; b* is
checked against the library colour-science; unevenness is 100 (Ymax − Ymin) / Ymax in linear light.
"""

from __future__ import annotations

import cv2
import numpy as np
import pytest

from solander.imaging.condition import examine, tilt_of
from solander.imaging.condition_dust import specks
from solander.imaging.condition_dyes import image_state
from solander.imaging.condition_light import clipped_shares
from solander.imaging.condition_limits import (
    CAPTURE_FAULTS,
    DUSTY,
    FADED,
    GLARE,
    MIRRORING,
    MISSING_CORNER,
    SHAKEN,
    STATES,
    TILTED,
    TORN,
    UNEVEN,
    YELLOWED,
    capture_faults,
    print_states,
)
from solander.imaging.condition_motion import motion_of
from solander.imaging.conventions import WrongPicture
from solander.imaging.measure import NOT_SHARP, paper_rises, view_edges
from solander.imaging.rectify import straighten
from solander.imaging.simulate.faulty import FAULTY, faulty_capture
from solander.imaging.simulate.geometry import Placement
from solander.imaging.simulate.light import encoded
from solander.imaging.simulate.pictures import drawn_picture


def _discs(seed: int = 1) -> np.ndarray:
    """Round things, whose edges face all ways, drawn at four times the size."""
    rng = np.random.default_rng(seed)
    fine = np.full((2400, 3200), 70, np.uint8)
    for _ in range(70):
        x, y, r, grey = *rng.integers(0, 2400, 2), rng.integers(90, 260), rng.integers(40, 220)
        cv2.circle(fine, (int(x * 4 / 3), int(y)), int(r), int(grey), -1)
    return cv2.resize(fine, (800, 600), interpolation=cv2.INTER_AREA)


def _stroke(length: float, degrees: float) -> np.ndarray:
    """A straight movement as a kernel: a thin line drawn at sixteen times the size."""
    size, fine = 2 * int(length) + 3, 16
    big = np.zeros((size * fine, size * fine), np.uint8)
    middle = (size * fine - 1) / 2
    reach = length * fine / 2 * np.array([np.cos(np.radians(degrees)), np.sin(np.radians(degrees))])
    start, end = np.rint(middle - reach).astype(int), np.rint(middle + reach).astype(int)
    cv2.line(big, (int(start[0]), int(start[1])), (int(end[0]), int(end[1])), 255, fine // 2)
    kernel = cv2.resize(big, (size, size), interpolation=cv2.INTER_AREA).astype(np.float32)
    return kernel / kernel.sum()


@pytest.mark.parametrize(("length", "degrees"), [(8, 0), (8, 90), (10, 40), (12, 135)])
def test_a_known_movement_is_measured_in_length_and_direction(length, degrees):
    moved = cv2.filter2D(_discs(), -1, _stroke(length, degrees))
    seen = motion_of(*view_edges(moved), np.full(2, np.nan))
    assert seen.length_px == pytest.approx(length, rel=0.3)
    assert min(abs(seen.angle_deg - degrees), 180 - abs(seen.angle_deg - degrees)) < 12


@pytest.mark.parametrize("high", [1, 3, 6, 8, 10, 12, 24, 26, 40])
def test_a_strip_however_slim_is_looked_at(high):
    # An outline may be drawn by hand around anything: a ruler, the back of a folded sheet.
    capture = np.random.default_rng(1).normal(90, 2, (900, 1200, 3)).clip(0, 255).astype(np.uint8)
    capture[400 : 400 + high, 100:1100] = 240
    corners = [(99.5, 399.5), (1099.5, 399.5), (1099.5, 399.5 + high), (99.5, 399.5 + high)]
    assert examine(capture[400 : 400 + high, 100:1100], capture=capture, corners=corners).torn == ()


def test_a_lens_out_of_focus_is_no_movement():
    blurred = cv2.GaussianBlur(_discs(), (0, 0), 3.0)
    assert motion_of(*view_edges(blurred), np.full(2, np.nan)).length_px < 4.5


def test_the_papers_edges_alone_tell_no_movement():
    assert motion_of(np.empty(0), np.empty(0), np.array([9.0, 2.0])).length_px == 0


def test_clipped_shares_are_counted():
    luma = np.full((100, 200), 128, np.uint8)
    luma[:10], luma[90:95] = 2, 253
    assert clipped_shares(luma) == (0.1, 0.05)


@pytest.mark.parametrize("tilt", [(0.0, 0.0), (4.0, 0.0), (0.0, 8.0), (-5.0, 5.0)])
def test_a_known_tilt_is_measured(tilt):
    """The simulated camera stands 1.5 long sides of the frame away, which is its focal length."""
    size = (1600, 1200)
    plane = Placement((820.0, 590.0), 3.0, 8.0, tilt).homography(size)
    paper = np.array([[-500, -350], [500, -350], [500, 350], [-500, 350]], float)
    corners = cv2.perspectiveTransform(paper[None], plane)[0]
    true = np.degrees(np.arccos(np.cos(np.radians(tilt[0])) * np.cos(np.radians(tilt[1]))))
    assert tilt_of(corners, size, focal=1.5) == pytest.approx(true, abs=0.1)


def _sheet(lost: float = 0.0, *, cut: float = 0.0, tear: float = 0.0) -> tuple[np.ndarray, np.ndarray]:
    """A pale sheet on a grey stage under light that lessens by `lost` from left to right across it; a corner of
    `cut` pixels off, a wedge of `tear` pixels in."""
    light = np.full((720, 960, 3), 0.18, np.float32)
    sheet = np.zeros((720, 960), np.uint8)
    cv2.rectangle(sheet, (200, 150), (759, 569), 1, -1)
    if cut:
        cv2.fillConvexPoly(sheet, np.array([[200, 150], [200 + int(cut), 150], [200, 150 + int(cut)]]), 0)
    if tear:
        cv2.fillConvexPoly(sheet, np.array([[480, 569], [492, 569], [486, 569 - int(tear)]]), 0)
    light[sheet > 0] = (0.7, 0.68, 0.62)
    share = (np.arange(960) - 199.5) / 560
    light *= (1 - lost * np.clip(share, -0.3, 1.3)).astype(np.float32)[None, :, None]
    code = encoded(cv2.GaussianBlur(light, (0, 0), 0.8)) / 64 + np.random.default_rng(3).normal(0, 1, light.shape)
    corners = np.array([[199.5, 149.5], [759.5, 149.5], [759.5, 569.5], [199.5, 569.5]])
    return np.clip(np.rint(code), 0, 255).astype(np.uint8), corners


def _examined(rgb, corners):
    return examine(straighten(rgb, corners), capture=rgb, corners=corners, focal=1.5)


@pytest.mark.parametrize("lost", [0.0, 0.2, 0.4])
def test_known_loss_of_light_is_measured_and_where(lost):
    seen = _examined(*_sheet(lost)).uneven
    assert seen.share == pytest.approx(lost, abs=0.03)
    assert not lost or seen.darkest == "right edge"


def test_a_corner_that_was_torn_off_is_found_with_its_depth():
    seen = _examined(*_sheet(cut=70)).torn
    assert [one.place for one in seen] == ["top left corner"]
    assert seen[0].depth == pytest.approx(70 / np.sqrt(2) / 700, abs=0.015)


def test_a_tear_is_found_with_its_depth():
    seen = _examined(*_sheet(tear=80)).torn
    assert [one.place for one in seen] == ["bottom edge"]
    assert seen[0].depth == pytest.approx(80 / 700, abs=0.03)


def test_a_whole_sheet_misses_nothing():
    assert _examined(*_sheet()).torn == ()


@pytest.mark.parametrize("count", [0, 6, 30])
def test_specks_are_counted(count):
    rng = np.random.default_rng(5)
    ramp = np.tile(np.linspace(90, 190, 900), (700, 1)) + rng.normal(0, 1.5, (700, 900))
    for number in range(count):
        x, y = 60 + 130 * (number % 6) + 7 * (number // 6), 60 + 110 * (number // 6)
        cv2.circle(ramp, (x, y), 2, 245.0 if number % 2 else 25.0, -1)
    assert specks(np.clip(ramp, 0, 255).astype(np.uint8)) == count


def test_leaves_and_grain_are_no_dust():
    rng = np.random.default_rng(7)
    leaves = cv2.GaussianBlur(rng.normal(128, 160, (700, 900)), (0, 0), 1.5)
    assert specks(np.clip(leaves, 0, 255).astype(np.uint8)) == 0


def _wedge(kept=(1.0, 1.0, 1.0), stain=(0.0, 0.0, 0.0)) -> np.ndarray:
    """Greys with patches of dyes beside them, within a white border; by Beer and Lambert's law."""
    density = np.zeros((200, 300, 3))
    density[20:180, 20:280] = np.linspace(0.02, 1.6, 260)[None, :, None]
    for i, dyes in enumerate(((1.0, 0.2, 0.3), (0.2, 1.0, 0.3), (0.3, 0.2, 1.0), (0.9, 0.9, 0.1))):
        density[30 + 36 * i : 54 + 36 * i, 60:150] = dyes
    light = 0.9 * 10 ** -(density * np.array(kept) + np.array(stain))
    return cv2.convertScaleAbs(encoded(light.astype(np.float32)), alpha=1 / 64)


@pytest.mark.parametrize("cyan", [1.0, 0.8, 0.55])
def test_the_dye_that_is_left_is_read_in_the_blacks(cyan):
    state = image_state(_wedge((cyan, 1.0, 1.0)))
    assert state.colour
    assert state.dye_balance == pytest.approx(cyan, abs=0.04)


def test_stained_paper_does_not_change_what_is_told_of_the_dyes():
    assert image_state(_wedge((0.6, 1, 1), (0.02, 0.06, 0.15))).dye_balance == pytest.approx(0.6, abs=0.04)


@pytest.mark.slow  # the other library takes seconds to begin
@pytest.mark.parametrize("blue", [0.0, 0.1, 0.25])
def test_yellowing_is_b_of_the_white_by_another_library(blue):
    colour = pytest.importorskip("colour")
    white = 0.9 * 10 ** -np.array([0.1 * blue, 0.35 * blue, blue])
    level = white * (0.875 / float(white @ [0.2126, 0.7152, 0.0722]))
    space = colour.RGB_COLOURSPACES["sRGB"]
    xyz = np.asarray(space.matrix_RGB_to_XYZ) @ level
    expected = colour.XYZ_to_Lab(xyz, space.whitepoint)[2]
    assert image_state(_wedge(stain=(0.1 * blue, 0.35 * blue, blue))).yellowing == pytest.approx(expected, abs=0.8)


def test_bluish_darks_near_the_edges_are_told_in_their_share():
    rng = np.random.default_rng(2)
    grey = np.clip(np.full((200, 300), 60.0) + rng.normal(0, 12, (200, 300)), 10, 120)
    plain = np.repeat(grey[..., None], 3, axis=2).astype(np.uint8)
    assert image_state(plain).mirroring < 0.05
    shining = plain.astype(int)
    shining[:, :40] += (10, 16, 34)  # of the edge's four sides one
    told = image_state(np.clip(shining, 0, 255).astype(np.uint8)).mirroring
    assert told == pytest.approx(24 * 200 / (300 * 200 - 252 * 152), abs=0.06)


def test_a_colour_print_tells_nothing_of_silver_and_a_grey_one_nothing_of_dyes():
    assert np.isnan(image_state(_wedge()).mirroring)
    grey = np.repeat(np.linspace(20, 230, 300).astype(np.uint8)[None, :, None], 200, axis=0).repeat(3, axis=2)
    assert np.isnan(image_state(grey).dye_balance)


def test_without_its_capture_a_view_leaves_open_what_only_that_tells():
    seen = examine(drawn_picture(3)[:600, :800])
    assert np.isnan([seen.edge_rise, seen.uneven.share, seen.tilt_deg]).all()
    assert seen.torn == ()


def test_a_picture_of_a_few_pixels_is_measured_without_fail():
    assert capture_faults(examine(np.full((9, 9, 3), 120, np.uint8))) == ()


def test_what_is_no_picture_is_refused():
    with pytest.raises(WrongPicture):
        examine(np.zeros((20, 20), np.uint8))


def test_every_fault_that_is_simulated_is_one_that_is_told():
    assert set(FAULTY) == {*CAPTURE_FAULTS, *STATES}


_KINDS = [NOT_SHARP, SHAKEN, GLARE, UNEVEN, TILTED, DUSTY, FADED, YELLOWED, MIRRORING, MISSING_CORNER, TORN]


@pytest.mark.slow
@pytest.mark.parametrize("kind", _KINDS)
def test_a_heavy_fault_is_told_of_a_simulated_capture(kind):
    """One of each; how many of many: benchmarks/condition.py."""
    capture = faulty_capture(4, [drawn_picture(2)], kind, 2, width=1600, stage="blue")
    seen = _examined(capture.rgb, capture.corners)
    assert kind in capture_faults(seen) + print_states(seen)


@pytest.mark.slow
def test_nothing_is_told_of_a_sound_simulated_capture():
    capture = faulty_capture(4, [drawn_picture(2)], width=1600, stage="blue")
    seen = _examined(capture.rgb, capture.corners)
    assert capture_faults(seen) + print_states(seen) == ()
    assert np.fmax(*paper_rises(capture.rgb, capture.corners)) < 4
