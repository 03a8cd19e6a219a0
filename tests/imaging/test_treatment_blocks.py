"""What a JPEG file leaves behind is no paper: a photograph that was packed tightly, cut out, straightened, turned.

The squares of 8 × 8 are those of ITU-T T.81, A.3.1; the photograph comes with scikit-image.
"""

from __future__ import annotations

import cv2
import numpy as np
import pytest
from numpy.typing import NDArray
from skimage import data

from solander.imaging.conventions import Rgb
from solander.imaging.rectify import quarter_turn, straighten
from solander.imaging.treatment.blocks import grid_of, is_of_blocks
from solander.imaging.treatment.texture import texture_peaks

CORNERS = np.array([[83.0, 61.0], [1080.0, 78.0], [1068.0, 780.0], [71.0, 763.0]])


def packed(quality: int) -> Rgb:
    """A capture of a photograph with the grain of a camera, packed as JPEG and unpacked."""
    photo = cv2.resize(data.coffee(), (1200, 840), interpolation=cv2.INTER_CUBIC)
    noisy = photo + np.random.default_rng(1).normal(0, 4, photo.shape)
    return unpacked(noisy.clip(0, 255).astype(np.uint8), quality)


def unpacked(picture: Rgb, quality: int) -> Rgb:
    """The picture as a JPEG file of that quality has it."""
    code = cv2.imencode(".jpg", picture, [cv2.IMWRITE_JPEG_QUALITY, quality])[1]
    return np.asarray(cv2.imdecode(code, cv2.IMREAD_COLOR), np.uint8)


@pytest.mark.slow
@pytest.mark.parametrize("turn", [0, 1, 2, 3])
def test_what_a_file_leaves_behind_is_not_taken_for_the_papers_texture(turn: int) -> None:
    straight = straighten(packed(20), CORNERS)
    view = np.ascontiguousarray(quarter_turn(straight, turn))
    assert texture_peaks(view), "without its grid the squares look like paper, else this shows nothing"
    assert not texture_peaks(view, grid=grid_of(CORNERS, (straight.shape[1], straight.shape[0]), turn))


def test_nor_is_what_the_views_own_file_leaves_behind() -> None:
    """A lattice of eight pixels along the axes of the view, whose capture lay aslant."""
    y, x = np.mgrid[0:800, 0:1100]
    noise = np.random.default_rng(3).normal(0, 6, (*x.shape, 3))
    lattice = sum(
        np.cos(2 * np.pi * (right * x + down * y) / 8) for right, down in ((2, 1), (1, -2), (1, 1), (2, 2))
    )
    view = np.asarray((128 + 4 * lattice[..., None] + noise).clip(0, 255), np.uint8)
    aslant = np.array([[83.0, 61.0], [1180.0, 131.0], [1131.0, 933.0], [34.0, 863.0]])
    assert texture_peaks(view)
    assert not texture_peaks(view, grid=grid_of(aslant, (1100, 800), 0))


@pytest.mark.parametrize("turn", [0, 1, 2, 3])
def test_a_frequency_of_the_capture_is_told_in_the_view(turn: int) -> None:
    """By the pixels themselves: waves drawn in the capture are measured in the turned view by their spectrum."""
    y, x = np.mgrid[0:400, 0:400]
    tilted = np.array([[40.0, 20.0], [360.0, 52.0], [328.0, 372.0], [8.0, 340.0]])
    for wave, of_blocks in (((2 / 8, 1 / 8), True), ((0.2, 0.09), False), ((0, 3 / 8), True)):
        grey = 128 + 90 * np.cos(2 * np.pi * (wave[0] * x + wave[1] * y))
        straight = straighten(np.dstack([grey.clip(0, 255).astype(np.uint8)] * 3), tilted)
        grid = grid_of(tilted, (straight.shape[1], straight.shape[0]), turn)
        assert is_of_blocks(strongest(quarter_turn(straight, turn)), grid) is of_blocks


def strongest(view: Rgb) -> tuple[float, float]:
    """The frequency with the most power, to a fraction of a hundredth by padding."""
    grey: NDArray[np.float64] = view[..., 0].astype(np.float64)
    window = np.outer(np.hanning(grey.shape[0]), np.hanning(grey.shape[1]))
    power = np.abs(np.fft.rfft2((grey - grey.mean()) * window, (2048, 2048)))
    row, column = np.unravel_index(power.argmax(), power.shape)
    return float(column / 2048), float(np.fft.fftfreq(2048)[row])


def test_two_waves_along_the_axes_of_the_frame_alone_are_no_paper() -> None:
    """As rows of a sensor leave them (our own choice); the same waves, turned by five degrees, are taken so."""
    y, x = np.mgrid[0:800, 0:1100]
    noise = np.random.default_rng(3).normal(0, 6, (*x.shape, 3))

    def view(degrees: float) -> Rgb:
        across, down = np.cos(np.radians(degrees)), np.sin(np.radians(degrees))
        waves = np.cos(2 * np.pi * 0.21 * (x * across + y * down)) + np.cos(
            2 * np.pi * 0.21 * (y * across - x * down)
        )
        return np.asarray((128 + 5 * waves[..., None] + noise).clip(0, 255), np.uint8)

    assert texture_peaks(view(0)) == ()
    assert len(texture_peaks(view(5))) == 2
