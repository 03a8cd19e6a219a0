"""Access copies: close to the pixels, with the density in the file."""

from __future__ import annotations

import io

import cv2
import numpy as np
import pytest
import simplejpeg
from PIL import Image

from solander.imaging.encode import encode_jpeg, thumbnail


def script() -> np.ndarray:
    """Coloured ink on old paper, strokes two pixels wide."""
    paper = np.full((240, 600, 3), (240, 232, 215), np.uint8)
    for line, ink in enumerate([(178, 34, 52), (40, 50, 140), (30, 110, 60)]):
        cv2.putText(paper, "Sommer 1958", (20, 70 + 70 * line), cv2.FONT_HERSHEY_SCRIPT_SIMPLEX, 1.8, ink, 2)
    return paper


def lab(rgb: np.ndarray) -> np.ndarray:
    return cv2.cvtColor(rgb.astype(np.float32) / 255, cv2.COLOR_RGB2Lab)


def ink_error(encoded: bytes) -> float:
    ink = np.abs(script().astype(int) - (240, 232, 215)).sum(axis=-1) > 60
    apart = lab(np.asarray(Image.open(io.BytesIO(encoded)))) - lab(script())
    return float(np.linalg.norm(apart, axis=-1)[ink].mean())


def test_thin_coloured_ink_keeps_its_colour() -> None:
    halved = simplejpeg.encode_jpeg(script(), quality=92, colorsubsampling="420")
    assert ink_error(encode_jpeg(script())) < 0.6 * ink_error(halved)


@pytest.mark.parametrize(("dpi", "written"), [(300, 300), (311.4, 311), (1200.5, 1200)])
def test_density_is_written_as_a_whole_number(dpi: float, written: int) -> None:
    with Image.open(io.BytesIO(encode_jpeg(script(), dpi=dpi))) as read:
        assert (read.info["jfif_unit"], read.info["jfif_density"]) == (1, (written, written))


@pytest.mark.parametrize("dpi", [None, 0.2, 70_000])
def test_a_density_that_cannot_be_written_is_left_out(dpi: float | None) -> None:
    with Image.open(io.BytesIO(encode_jpeg(script(), dpi=dpi))) as read:
        assert read.info["jfif_unit"] == 0


def test_any_layout_of_the_array_gives_the_same_file() -> None:
    turned = np.ascontiguousarray(script()[:, ::-1])
    assert encode_jpeg(script()[:, ::-1]) == encode_jpeg(turned)


@pytest.mark.parametrize(
    "wrong",
    [
        np.zeros((4, 4), np.uint8),
        np.zeros((4, 4, 3), np.uint16),
        np.zeros((4, 4, 4), np.uint8),
        np.zeros((0, 4, 3), np.uint8),
        np.zeros((1, 65_501, 3), np.uint8),
    ],
)
def test_what_is_no_picture_is_refused(wrong: np.ndarray) -> None:
    with pytest.raises(ValueError, match=r"picture|pixels"):
        encode_jpeg(wrong)


def test_a_quality_outside_the_scale_is_refused() -> None:
    with pytest.raises(ValueError, match="quality"):
        encode_jpeg(script(), quality=101)


@pytest.mark.parametrize(
    ("size", "small"),
    [((1000, 500), (480, 240)), ((500, 1000), (240, 480)), ((480, 10), (480, 10)), ((9000, 2), (480, 1))],
)
def test_the_longer_side_of_a_small_picture(size: tuple[int, int], small: tuple[int, int]) -> None:
    assert thumbnail(np.zeros((*size, 3), np.uint8)).shape == (*small, 3)


def test_a_small_picture_is_the_mean_of_what_it_covers() -> None:
    fine = np.zeros((960, 960, 3), np.uint8)
    fine[::2] = 200
    assert (thumbnail(fine) == 100).all()
