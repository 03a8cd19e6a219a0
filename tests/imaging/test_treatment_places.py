"""Texture, glare of two lights, marks, uneven light, detail, frame, output: each against what is known."""

from __future__ import annotations

import cv2
import numpy as np
import pytest
from treatment_stand_in import Step, scene

from solander.imaging.conventions import WrongPicture
from solander.imaging.linear_light import encode_light
from solander.imaging.treatment.deep import as_deep, as_rgb, light_of_codes
from solander.imaging.treatment.detail import with_detail
from solander.imaging.treatment.even_light import evened
from solander.imaging.treatment.frame import framed
from solander.imaging.treatment.grain import grain_of, plainest
from solander.imaging.treatment.marks import find_marks, mask_of, without_marks
from solander.imaging.treatment.output import for_size
from solander.imaging.treatment.texture import texture_peaks, without_texture
from solander.imaging.treatment.treat import treat
from solander.imaging.treatment.two_lights import merge_two_lights

VIEW = scene(900, 600)


def _pattern(shape, period=9.3):
    y, x = np.mgrid[: shape[0], : shape[1]]
    waves = [
        np.cos(order * 2 * np.pi * (x * np.cos(angle) + y * np.sin(angle)) / period) / order
        for angle in (0.2, 0.2 + np.pi / 3, 0.2 + 2 * np.pi / 3)
        for order in (1, 2)
    ]
    pattern = np.sum(waves, axis=0)
    return (pattern / pattern.std())[..., None]


def _rgb(codes):
    return np.rint(np.clip(codes, 0, 1) * 255).astype(np.uint8)


@pytest.mark.slow
def test_texture_is_found_where_it_was_put_and_taken_out():
    noisy = VIEW / 255 + np.random.default_rng(2).normal(0, 0.01, VIEW.shape)
    silk = _rgb(noisy + 0.03 * _pattern(VIEW.shape))
    peaks = texture_peaks(silk)
    assert any(np.hypot(*peak) == pytest.approx(1 / 9.3, abs=0.002) for peak in peaks)
    treated = as_rgb(without_texture(as_deep(silk), peaks))
    assert cv2.PSNR(treated, VIEW) > cv2.PSNR(silk, VIEW) + 5
    half = as_rgb(without_texture(as_deep(silk), peaks, strength=0.5))
    assert cv2.PSNR(silk, VIEW) < cv2.PSNR(half, VIEW) < cv2.PSNR(treated, VIEW)


def test_no_texture_is_found_in_a_picture_or_in_noise_or_in_one_wave():
    assert texture_peaks(VIEW) == ()
    assert texture_peaks(np.random.default_rng(1).integers(90, 160, (600, 700, 3), dtype=np.uint8)) == ()
    assert texture_peaks(VIEW[:100, :100]) == ()
    x = np.mgrid[:600, :900][1]
    fence = _rgb(VIEW / 255 + 0.03 * np.cos(2 * np.pi * (x * 0.8 + 0.3) / 9)[..., None])
    assert texture_peaks(fence) == (), "a pattern that runs one way is no paper"


@pytest.mark.slow
def test_glare_goes_where_it_moved_and_noise_is_halved_elsewhere():
    rng = np.random.default_rng(4)
    light = light_of_codes()[as_deep(VIEW)]
    y, x = np.mgrid[:600, :900]
    seen = []
    for centre in (220, 680):
        glare = 0.6 * np.exp(-(((x - centre) / 70) ** 2) - (((y - 300) / 70) ** 2))
        seen.append(as_deep(_rgb(encode_light(light + glare[..., None] + rng.normal(0, 0.004, light.shape)))))
    merged = merge_two_lights(*seen)
    error = [np.abs(each.astype(float) - as_deep(VIEW)).mean() for each in (seen[0], seen[1], merged.picture)]
    assert error[2] < 0.6 * min(error[:2])
    assert 0.02 < merged.one_sided < 0.4
    assert merged.lost == 0
    assert np.abs(merged.moved).max() < 0.2


def test_a_second_capture_that_lies_off_is_laid_over_the_first():
    moved = np.roll(as_deep(VIEW), (3, -5), axis=(0, 1))
    assert merge_two_lights(as_deep(VIEW), moved).moved == pytest.approx((-5, 3), abs=0.2)


@pytest.mark.parametrize("other", [VIEW[:300], np.ascontiguousarray(VIEW[::-1, ::-1]), np.full_like(VIEW, 90)])
def test_two_captures_that_are_no_pair_are_refused(other):
    with pytest.raises(WrongPicture):
        merge_two_lights(as_deep(VIEW), as_deep(other))


def _plain_with_dust():
    rng = np.random.default_rng(8)
    plain = np.clip(
        120 + 30 * np.sin(np.mgrid[:400, :600][1] / 90)[..., None] + rng.normal(0, 2, (400, 600, 3)), 0, 255
    )
    dusty = plain.copy()
    truth = np.zeros((400, 600), np.uint8)
    for centre in ((80, 60), (300, 200), (500, 350), (150, 300)):
        cv2.circle(truth, centre, 2, 1, -1)
    cv2.line(truth, (350, 80), (420, 180), 1, 2)
    dusty[truth > 0] = 235
    return plain.astype(np.uint8), dusty.astype(np.uint8), truth


def test_dust_and_scratches_on_plain_ground_are_found_shown_and_painted_over():
    plain, dusty, truth = _plain_with_dust()
    strokes = find_marks(dusty)
    mask = mask_of(strokes, (600, 400))
    assert len(strokes) == 5
    assert (mask[truth > 0] == 255).mean() > 0.9
    treated = as_rgb(without_marks(as_deep(dusty), strokes))
    assert cv2.PSNR(treated, plain) > cv2.PSNR(dusty, plain) + 8
    assert np.array_equal(treated[mask == 0], dusty[mask == 0])
    assert np.array_equal(treated, as_rgb(without_marks(as_deep(dusty), strokes)))
    assert find_marks(plain) == ()


def test_nothing_is_found_on_a_face():
    _, dusty, _ = _plain_with_dust()
    face = (0.05, 0.05, 0.2, 0.25)  # around the first speck
    assert len(find_marks(dusty, [face])) == 4
    assert not mask_of(find_marks(dusty, [face]), (600, 400))[20:120, 30:150].any()


def test_light_is_even_after_the_blank_sheet_that_saw_it():
    light = light_of_codes()[as_deep(VIEW)]
    y, x = np.mgrid[:600, :900]
    fall = (1 - 0.3 * ((x - 450) ** 2 + (y - 300) ** 2) / (450**2 + 300**2))[..., None] * np.ones(3)
    dim = as_deep(_rgb(encode_light(light * fall)))
    even = as_rgb(evened(dim, cv2.resize(fall, (90, 60), interpolation=cv2.INTER_AREA)))
    assert np.abs(even.astype(int) - VIEW).mean() < 0.6
    assert np.abs(as_rgb(dim).astype(int) - VIEW).mean() > 4
    with pytest.raises(WrongPicture):
        evened(dim, np.zeros((4, 4, 3)))


def test_detail_opens_shadows_holds_highlights_and_keeps_hues():
    deep = as_deep(VIEW)
    assert np.abs(as_rgb(with_detail(deep)).astype(int) - VIEW).max() == 0
    opened = with_detail(deep, shadows=1.0)
    grey = cv2.cvtColor(VIEW, cv2.COLOR_RGB2GRAY)
    assert opened[grey < 40].mean() > 1.15 * deep[grey < 40].mean()
    assert (as_rgb(opened) >= VIEW).all()
    held = with_detail(deep, highlights=1.0)
    assert held[grey > 200].mean() < 0.97 * deep[grey > 200].mean()
    ratio = light_of_codes()[opened] / np.maximum(light_of_codes()[deep], 1e-9)
    fit = (VIEW > 20).all(axis=2) & (VIEW < 250).all(axis=2)
    assert np.ptp(ratio[fit], axis=1).max() < 0.02


@pytest.mark.parametrize("turns", [0, 1, 2, 3])
def test_without_angle_no_pixel_is_resampled(turns):
    box = (0.1, 0.2, 0.9, 0.8)
    assert np.array_equal(framed(VIEW, box=box, turns=turns), np.rot90(VIEW[120:480, 90:810], -turns))


def test_a_fine_turn_turns_clockwise_and_back():
    turned = framed(VIEW, angle_deg=4.0)
    assert turned.shape == VIEW.shape
    spot = np.zeros((200, 300, 3), np.uint8)
    spot[96:104, 246:254] = 255  # to the right of the middle: clockwise takes it down
    rows = np.nonzero(framed(spot, angle_deg=10.0).max(axis=2) > 128)[0]
    assert rows.mean() > 110


def test_corners_straighten_as_the_homography_says():
    """The corners of an upright box give that box."""
    corners = [(90 / 900, 120 / 600), (810 / 900, 120 / 600), (810 / 900, 480 / 600), (90 / 900, 480 / 600)]
    assert np.abs(framed(VIEW, corners=corners).astype(int) - VIEW[120:480, 90:810]).max() <= 1
    with pytest.raises(WrongPicture):
        framed(VIEW, corners=[(0, 0), (1, 1), (1, 0), (0, 1)])
    with pytest.raises(WrongPicture):
        framed(VIEW, box=(0.5, 0, 0.5, 1))


def test_sharpening_is_for_the_smaller_size_alone():
    deep = as_deep(VIEW)
    assert for_size(deep, 900) is deep
    soft, sharp = for_size(deep, 300, sharpening=0), for_size(deep, 300, sharpening=1.0)
    assert soft.shape == sharp.shape == (200, 300, 3)

    def edges(picture):
        return float(np.abs(np.diff(picture.astype(float), axis=1)).mean())

    assert edges(sharp) > 1.1 * edges(soft)


def test_a_smaller_picture_is_as_light_as_the_larger_one():
    """Black and white lines come to half the light, which is encoded as 188 and not as 128 (IEC 61966-2-1)."""
    lines = np.zeros((64, 64, 3), np.uint16)
    lines[::2] = 65535
    assert (as_rgb(for_size(lines, 32, sharpening=0)) == 188).all()


def test_grain_is_measured_and_kept_by_colour_steps():
    rng = np.random.default_rng(6)
    grained = _rgb(0.5 + rng.normal(0, 0.02, (240, 360, 1)) * np.ones(3))
    assert grain_of(grained) == pytest.approx(0.02 * 255, rel=0.1)
    where = plainest(grained)
    treated = treat(grained, [Step("yellowing", {"stain": (0, 0.02, 0.1)})]).picture
    assert grain_of(treated, where=where) == pytest.approx(grain_of(grained, where=where), rel=0.1)
    assert np.isnan(grain_of(grained[:10, :10]))
