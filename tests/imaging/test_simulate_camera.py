"""A simulated camera spoils pictures and leaves edges where they are."""

from __future__ import annotations

import numpy as np
import pytest

from solander.imaging.simulate import Camera
from solander.imaging.simulate.sensor import through_mosaic

TELEPHONE = Camera(
    blur_px=0.8, corner_blur_px=0.6, noise=3, mosaic=True, smoothing=0.8, sharpening=0.7, jpeg_quality=85
)


def bars(left: float, right: float, *, size: tuple[int, int] = (320, 240)) -> np.ndarray:
    """A bright upright bar on dark, its edges anywhere between pixels, in linear light."""
    x = np.arange(size[0])
    share = np.clip(x + 0.5 - left, 0, 1) * np.clip(right - x + 0.5, 0, 1)
    row = 0.05 + 0.6 * share
    return np.repeat(np.repeat(row[None, :, None], size[1], axis=0), 3, axis=2).astype(np.float32)


def middle_of_bar(rgb: np.ndarray) -> float:
    """The bar's centre of light: two like edges are blurred alike, so the middle must stay."""
    row = rgb[40:-40].astype(float).mean(axis=(0, 2))
    row = row - np.median(row)
    row[row < 20] = 0
    return float(row @ np.arange(len(row)) / row.sum())


@pytest.mark.parametrize("left", [101.0, 101.25, 101.5, 102.75])
def test_a_telephone_leaves_a_bar_in_its_place(left):
    seen = TELEPHONE.expose(bars(left, left + 117.5), np.random.default_rng(2))
    assert middle_of_bar(seen) == pytest.approx(left + 117.5 / 2, abs=0.05)


@pytest.mark.parametrize("axis", [0, 1])
def test_the_mosaic_is_symmetric(axis):
    # Turned by half a turn and back, light through the mosaic (whose squares change colour by it) stays in place.
    light = bars(60.25, 120.5, size=(200, 200))
    light = light if axis else np.ascontiguousarray(light.swapaxes(0, 1))
    there = through_mosaic(light.copy(), np.random.default_rng(1), 0.0)
    back = through_mosaic(np.ascontiguousarray(light[::-1, ::-1]), np.random.default_rng(1), 0.0)[::-1, ::-1]
    profile = (there - back)[40:-40, 40:-40].mean(axis=(0 if axis else 1, 2))
    assert abs(profile.sum()) <= 0.01


def test_noise_of_a_mosaic_goes_with_the_root_of_the_light_and_is_shared_by_neighbours():
    deviations = []
    for light in (0.09, 0.36):
        flat = np.full((200, 200, 3), light, np.float32)
        green = through_mosaic(flat, np.random.default_rng(3), 3.0)[..., 1]
        deviations.append(float(green.std()))
        residual = green - green.mean()
        assert float((residual[:, 1:] * residual[:, :-1]).mean() / residual.var()) > 0.15
    assert deviations[1] / deviations[0] == pytest.approx(
        ((0.85 * 2 + 0.15) / (0.85 * 0.5 + 0.15)) ** 0.5, rel=0.03
    )


def test_fringes_move_red_outwards_blue_inwards_and_leave_green():
    camera = Camera(blur_px=0.8, noise=0, fringe_px=2.0)
    size = (600, 450)
    seen = camera.expose(bars(500.0, 560.0, size=size), np.random.default_rng(1))
    red, green, blue = (middle_of_bar(np.repeat(seen[..., [channel]], 3, axis=2)) for channel in range(3))
    away = (530.0 - 299.5) / (0.5 * np.hypot(*size)) * 2.0
    assert green == pytest.approx(530.0, abs=0.03)
    assert red - green == pytest.approx(away, abs=0.1)
    assert green - blue == pytest.approx(away, abs=0.1)


def test_sharpening_sets_halos_and_smoothing_takes_noise():
    soft, sharp = (
        Camera(noise=0, sharpening=amount).expose(bars(100.0, 200.0), np.random.default_rng(1))
        for amount in (0, 0.8)
    )
    assert sharp.max() > soft.max() + 5
    assert sharp.min() < soft.min() - 5
    flat = np.full((200, 200, 3), 0.2, np.float32)
    rough, smooth = (
        Camera(noise=4, mosaic=True, smoothing=amount).expose(flat.copy(), np.random.default_rng(1))
        for amount in (0, 0.9)
    )
    assert smooth.std() < 0.5 * rough.std()
    assert smooth.mean() == pytest.approx(rough.mean(), abs=0.2)


def test_the_corners_are_darker_and_softer():
    light = np.full((300, 400, 3), 0.5, np.float32)
    light[:, ::8] = 0.1
    seen = Camera(noise=0, falloff=0.3, corner_blur_px=2.0).expose(light, np.random.default_rng(1)).astype(float)
    middle, corner = seen[130:170, 180:220], seen[:40, :40]
    assert corner.mean() < 0.92 * middle.mean()
    assert corner.std() / corner.mean() < 0.7 * middle.std() / middle.mean()
