"""Views for reading: even paper, pale ink apart, nothing stored and nothing changed."""

from __future__ import annotations

import cv2
import numpy as np
import pytest
from skimage import exposure

from solander.imaging.conventions import Rgb, WrongPicture
from solander.imaging.legibility import LEGIBILITY_VIEWS, faint_ink, flattened, mirrored, relief


def _written(ink: tuple[int, int, int], paper: tuple[int, int, int] = (210, 200, 180)) -> tuple[Rgb, np.ndarray]:
    """A page lit from one side with strokes two pixels wide, and where they are."""
    page = np.empty((200, 320, 3), np.float32)
    page[:] = paper
    strokes = np.zeros(page.shape[:2], bool)
    strokes[40:160:12, 40:280] = strokes[41:160:12, 40:280] = True
    page[strokes] = ink
    light = np.linspace(0.6, 1.0, 320, dtype=np.float32)[None, :, None]
    return np.rint(page * light).astype(np.uint8), strokes


def test_flattened_paper_is_white_and_even_and_ink_stays_dark() -> None:
    rgb, strokes = _written((60, 50, 50))
    flat = flattened(rgb).astype(int)
    bare = ~strokes
    assert flat[bare].mean() > 250
    assert np.ptp(flat[bare].mean(axis=1)) < 30 < np.ptp(rgb[bare].mean(axis=1))
    assert flat[strokes].mean() < 110


def test_pulled_colours_lie_around_one_middle_in_a_large_view_too() -> None:
    """A mean of millions of pixels, summed in single precision, is off by code values, and is stretched then."""
    page, _ = _written((205, 188, 182))
    small, large = faint_ink(page), faint_ink(np.tile(page, (8, 4, 1)))
    assert np.abs(small.mean(axis=(0, 1)) - 160).max() < 4
    assert np.abs(large.mean(axis=(0, 1), dtype=np.float64) - 160).max() < 4


def test_a_pale_ink_stands_out_three_times_as_far() -> None:
    rgb, strokes = _written((205, 188, 182))
    before = np.linalg.norm(rgb[strokes].mean(axis=0) - rgb[~strokes].mean(axis=0))
    after_view = faint_ink(rgb)
    after = np.linalg.norm(after_view[strokes].mean(axis=0) - after_view[~strokes].mean(axis=0))
    assert after > 3 * before


def _nearby(grey: np.ndarray) -> np.ndarray:
    """How far each pixel stands off its surroundings."""
    return np.float32(grey) - cv2.blur(np.float32(grey), (25, 25))


def test_relief_raises_local_contrast_as_another_library_does() -> None:
    """scikit-image's CLAHE is the second opinion: both make strokes stand off further, and agree on where."""
    rgb, _ = _written((200, 190, 172))
    ours = _nearby(relief(rgb)[..., 1])
    theirs = _nearby(exposure.equalize_adapthist(rgb[..., 1], clip_limit=0.03))
    assert ours.std() > 3 * _nearby(rgb[..., 1]).std()
    assert np.corrcoef(ours.ravel(), theirs.ravel())[0, 1] > 0.9


def test_mirrored_twice_is_the_view_itself() -> None:
    rgb, _ = _written((60, 50, 50))
    assert np.array_equal(mirrored(mirrored(rgb)), rgb)
    assert np.array_equal(mirrored(rgb)[:, 0], rgb[:, -1])


@pytest.mark.parametrize("name", LEGIBILITY_VIEWS)
def test_every_view_keeps_size_and_leaves_its_picture_alone(name: str) -> None:
    rgb, _ = _written((60, 50, 50))
    before = rgb.copy()
    seen = LEGIBILITY_VIEWS[name](rgb)
    assert (seen.shape, seen.dtype) == (rgb.shape, np.uint8)
    assert np.array_equal(rgb, before)


@pytest.mark.parametrize("name", LEGIBILITY_VIEWS)
def test_every_view_takes_one_pixel_and_refuses_grey(name: str) -> None:
    view = LEGIBILITY_VIEWS[name]
    assert view(np.full((1, 1, 3), 128, np.uint8)).shape == (1, 1, 3)
    with pytest.raises(WrongPicture):
        view(np.zeros((5, 5), np.uint8))  # type: ignore[arg-type]
