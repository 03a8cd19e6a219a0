"""Flat field and profile against simulated captures whose light and colours are known."""

from __future__ import annotations

import numpy as np
import pytest

from solander.imaging.colour import difference, lab_of, linear_of_lab
from solander.imaging.evenness import MOST_GAIN, flat_of, read_blank
from solander.imaging.simulate.chart import RigCamera, chart_shot, sheet_shot
from solander.imaging.stand_light import StandLight, corrected

FRAME = (900, 600)
UNEVEN = RigCamera(fall=0.25, vignette=0.2, noise=1.0)


def whole(frame):
    return lambda shares: shares * np.array(frame) - 0.5


@pytest.fixture(scope="module")
def blank():
    return read_blank(sheet_shot(UNEVEN, frame=FRAME))


def places(frame=FRAME):
    return np.stack(np.meshgrid(np.arange(frame[0]), np.arange(frame[1])), axis=-1).astype(float)


def test_unevenness_is_that_of_the_light(blank):
    light = UNEVEN.light_at(places(), FRAME)
    step = 19
    inner = light[step:-step, step:-step]
    lowest, highest = 100 * (1 - inner.min() / inner.max()), 100 * (1 - light.min() / light.max())
    assert lowest - 0.5 < blank.unevenness < highest + 0.5
    assert blank.darkest[0] > 0.9
    assert blank.darkest[1] > 0.9


def test_the_flat_field_is_the_light(blank):
    light = UNEVEN.light_at(places(), FRAME)
    found = flat_of(blank).light_at(places(), FRAME)
    assert np.abs(found / (light / light.max())[..., None] - 1).max() < 0.005


def test_a_blank_sheet_comes_out_even(blank):
    other = sheet_shot(UNEVEN, frame=FRAME, seed=7)
    flat = StandLight(flat_of(blank))
    assert read_blank(corrected(other, flat, FRAME, whole(FRAME))).unevenness < 1.0


def test_the_field_turns_with_the_capture(blank):
    sheet = sheet_shot(UNEVEN, frame=FRAME, seed=3)
    flat, turned_frame = flat_of(blank), FRAME[::-1]
    upright = corrected(sheet, StandLight(flat), FRAME, whole(FRAME))
    turned = corrected(
        np.ascontiguousarray(np.rot90(sheet, -1)), StandLight(flat.turned(1)), turned_frame, whole(turned_frame)
    )
    assert np.abs(np.rot90(turned, 1).astype(int) - upright).max() <= 2
    assert flat.turned(4) == flat


def test_the_gain_is_bounded():
    dark = read_blank(sheet_shot(RigCamera(fall=0.8, noise=0.3), frame=FRAME))
    assert flat_of(dark).light_at(places(), FRAME).min() >= 1 / MOST_GAIN


def test_nothing_known_changes_nothing():
    sheet = sheet_shot(UNEVEN, frame=FRAME)
    assert (corrected(sheet, StandLight(), FRAME, whole(FRAME)) == sheet).all()


def test_a_picture_of_things_is_no_blank_sheet():
    assert read_blank(chart_shot(RigCamera(), frame=FRAME, share=0.7).rgb) is None


def test_a_sheet_on_a_dark_table_counts_where_it_lies():
    picture = np.full((600, 900, 3), 30, np.uint8)
    picture[60:540, 90:810] = 200
    blank = read_blank(picture)
    assert 0.5 < blank.share < 0.7
    assert blank.unevenness < 1


def test_the_profile_brings_known_colours_back():
    """A view in true colours: linear sRGB put through the inverse of the camera's own matrix."""
    matrix = np.array([[0.9, 0.07, 0.03], [0.05, 0.9, 0.05], [0.02, 0.08, 0.9]])
    inverse = np.hstack([np.linalg.inv(matrix), np.zeros((3, 3))])
    truth = np.clip(linear_of_lab([[60, 20, 10], [45, -20, 15], [80, 0, 5]]), 0, 1)
    code = np.rint(255 * _encoded(truth @ matrix.T)).astype(np.uint8)
    view = np.repeat(np.repeat(code[None], 40, axis=0), 30, axis=1)
    out = corrected(view, StandLight(colour=tuple(inverse.ravel())), (90, 40), whole((90, 40)))
    shown = _decoded(out[20, ::30] / 255)
    assert difference(lab_of(shown), lab_of(truth)).max() < 0.6


def _encoded(light):
    return np.where(light <= 0.0031308, light * 12.92, 1.055 * light ** (1 / 2.4) - 0.055)


def _decoded(code):
    return np.where(code <= 0.04045, code / 12.92, ((code + 0.055) / 1.055) ** 2.4)
