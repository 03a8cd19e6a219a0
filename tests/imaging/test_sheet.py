"""The stage sheet read back from captures, under cameras of OpenCV's own model."""

from __future__ import annotations

import cv2
import numpy as np
import pytest
from attrs import evolve, frozen
from numpy.typing import NDArray

from solander.imaging.conventions import Rgb
from solander.imaging.lens import lens_from_sheets
from solander.imaging.scale import plane_of_sheet
from solander.imaging.sheet import FIELD_MM, PATTERN_MM, pattern, read_sheet

pytestmark = pytest.mark.slow

RASTER = 11.2  # px per mm: every box of the pattern then ends on whole pixels
FRAME = (1280, 960)


@frozen(eq=False)
class Camera:
    """A camera over the sheet: OpenCV's pinhole with k1, k2; its sheet is at `place`, turned by `turn`."""

    focal_px: float = 1280.0
    bend: tuple[float, float] = (-0.06, 0.01)
    turn: tuple[float, float, float] = (0.0, 0.0, 1.57)
    distance_mm: float = 300.0

    @property
    def matrix(self) -> NDArray[np.float64]:
        return np.array(
            [[self.focal_px, 0, (FRAME[0] - 1) / 2], [0, self.focal_px, (FRAME[1] - 1) / 2], [0, 0, 1]]
        )

    @property
    def place(self) -> NDArray[np.float64]:
        turned = cv2.Rodrigues(np.array(self.turn))[0]
        return np.array([0, 0, self.distance_mm]) - turned @ [PATTERN_MM[0] / 2, PATTERN_MM[1] / 2, 0]

    def captured(self, mm: NDArray[np.float64]) -> NDArray[np.float64]:
        flat = np.column_stack([mm, np.zeros(len(mm))])
        seen, _ = cv2.projectPoints(
            flat, np.array(self.turn), self.place, self.matrix, np.array([*self.bend, 0, 0])
        )
        return np.asarray(seen.reshape(-1, 2))

    def capture(self, *, covered: tuple[float, float, float, float] | None = None) -> Rgb:
        """The sheet as this camera takes it; `covered` (left, top, right, bottom, mm) is hidden by a print."""
        sheet = np.full([round(side * RASTER) for side in PATTERN_MM[::-1]], 255, np.uint8)
        for left, top, width, height in pattern():
            x, y, right, bottom = (round(v * RASTER) for v in (left, top, left + width, top + height))
            sheet[y:bottom, x:right] = 0
        for box, grey in ((FIELD_MM, 160), (covered, 90)):
            if box:
                left, top, right, bottom = (round(v * RASTER) for v in box)
                sheet[top:bottom, left:right] = grey
        grid = np.stack(np.meshgrid(np.arange(FRAME[0]), np.arange(FRAME[1])), axis=-1).reshape(-1, 1, 2)
        until = (cv2.TERM_CRITERIA_EPS + cv2.TERM_CRITERIA_MAX_ITER, 30, 1e-9)
        bend = np.array([*self.bend, 0, 0])
        rays = cv2.undistortPoints(grid.astype(float), self.matrix, bend, criteria=until).reshape(-1, 2)
        to_ray = np.column_stack([cv2.Rodrigues(np.array(self.turn))[0][:, :2], self.place])
        flat = np.linalg.inv(to_ray) @ np.column_stack([rays, np.ones(len(rays))]).T
        places = ((flat[:2] / flat[2]).T * RASTER - 0.5).astype(np.float32).reshape(*FRAME[::-1], 2)
        smooth = cv2.GaussianBlur(sheet, (0, 0), 1.3)
        seen = cv2.remap(smooth, places[..., 0], places[..., 1], cv2.INTER_LINEAR, borderValue=230)
        noise = np.random.default_rng(5).normal(0, 2, seen.shape)
        return np.repeat(np.clip(seen + noise, 0, 255).astype(np.uint8)[..., None], 3, axis=2)


@pytest.fixture(scope="module")
def tilted() -> tuple[Camera, Rgb]:
    camera = Camera(turn=(0.05, -0.03, 1.6))
    return camera, camera.capture()


def test_the_corners_lie_where_opencv_puts_them(tilted: tuple[Camera, Rgb]) -> None:
    camera, rgb = tilted
    seen = read_sheet(rgb)
    assert seen is not None
    assert len(seen.mm) > 60
    off = np.hypot(*(seen.px - camera.captured(seen.mm)).T)
    assert np.median(off) < 0.06
    assert off.max() < 0.25


def test_scale_tilt_and_lens_come_out_true(tilted: tuple[Camera, Rgb]) -> None:
    camera, rgb = tilted
    seen = read_sheet(rgb)
    assert seen is not None
    fit = lens_from_sheets([seen])
    assert fit is not None
    half = 0.5 * float(np.hypot(*FRAME)) / camera.focal_px
    true_shift = 50 * (camera.bend[0] * half**2 + camera.bend[1] * half**4)
    assert fit.lens.shift_at_corner() == pytest.approx(true_shift, abs=0.1)
    assert 0 < fit.sigma < 0.2
    plane = plane_of_sheet(seen, fit.lens)
    assert plane is not None
    true_tilt = np.degrees(np.arccos(cv2.Rodrigues(np.array(camera.turn))[0][2, 2]))
    assert plane.tilt_deg(camera.focal_px / FRAME[0]) == pytest.approx(true_tilt, abs=0.05)
    length = np.array([[30.0, 40.0], [130.0, 40.0]])
    measured = np.linalg.norm(np.diff(plane.millimetres(camera.captured(length)), axis=0))
    assert measured == pytest.approx(100, abs=0.02)


@pytest.mark.slow
def test_a_print_over_half_the_pattern_leaves_enough() -> None:
    camera = Camera()
    seen = read_sheet(camera.capture(covered=(0, 0, 100, 230)))
    assert seen is not None
    assert seen.mm[:, 0].min() > 100
    assert np.hypot(*(seen.px - camera.captured(seen.mm)).T).max() < 0.25
    fit = lens_from_sheets([seen])
    assert fit is not None
    plane = plane_of_sheet(seen, fit.lens)
    assert plane is not None
    card = np.array([[10.0, 30.0], [100.0, 30.0], [100.0, 90.0], [10.0, 90.0]])
    assert plane.size_mm(camera.captured(card)) == pytest.approx((90, 60), abs=0.3)


@pytest.mark.slow
def test_several_captures_of_one_camera_say_more() -> None:
    cameras = [Camera(turn=(0.0, 0.02, 1.57)), evolve(Camera(), turn=(0.06, 0.0, 0.2), distance_mm=420.0)]
    seen = [sheet for camera in cameras if (sheet := read_sheet(camera.capture()))]
    alone, together = lens_from_sheets(seen[:1]), lens_from_sheets(seen)
    assert alone is not None
    assert together is not None
    assert together.captures == 2
    assert together.sigma < alone.sigma


def test_no_sheet_is_no_sheet() -> None:
    rng = np.random.default_rng(2)
    noise = cv2.resize(
        rng.integers(0, 256, (30, 40, 3), dtype=np.uint8), (800, 600), interpolation=cv2.INTER_NEAREST
    )
    assert read_sheet(noise) is None
    assert read_sheet(np.full((300, 400, 3), 200, np.uint8)) is None
    assert lens_from_sheets([]) is None
