"""Fading, yellowing and borders against prints that were aged with known numbers; colour differences are CIEDE2000
by scikit-image, which `test_colour.py` checks against the pairs of Sharma, Wu and Dalal."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from treatment_stand_in import BLACK, PAPER, Step, bordered, densities_of, lab, printed, scene

from solander.imaging.conventions import WrongPicture
from solander.imaging.treatment.border import find_border
from solander.imaging.treatment.deep import as_deep, as_rgb
from solander.imaging.treatment.fading import MOST_GAIN, darkest_density, density_at, fading_from, restore_dyes
from solander.imaging.treatment.needs import needs_of
from solander.imaging.treatment.treat import treat
from solander.imaging.treatment.yellowing import is_monochrome, yellowing_of

_DIFFERENCE = pytest.importorskip(
    "skimage.color", reason="scikit-image, the yardstick, is not installed"
).deltaE_ciede2000

KEPT, STAIN = np.array([0.55, 0.85, 0.75]), np.array([0.02, 0.04, 0.12])
ABSORB = np.array([[0.90, 0.09, 0.01], [0.17, 0.76, 0.07], [0.07, 0.20, 0.73]])


def difference(one, other) -> float:
    return float(_DIFFERENCE(lab(one), lab(other))[::2, ::2].mean())


def faded(print_, kept=KEPT, stain=STAIN):
    return printed((densities_of(print_) @ np.linalg.inv(ABSORB).T * kept) @ ABSORB.T + stain)


@pytest.mark.slow
@settings(max_examples=6, deadline=None)
@given(st.integers(14, 60), st.sampled_from([PAPER, (245, 242, 233), (228, 214, 172)]))
def test_the_border_is_found_with_its_width_and_colour(width, paper):
    border = find_border(bordered(scene(), width, paper))
    assert border is not None
    height = 320 + 2 * width
    assert border.widths[0] == pytest.approx(width / height, abs=0.01)
    assert border.widths[1] == pytest.approx(width / (480 + 2 * width), abs=0.01)
    assert border.density == pytest.approx(densities_of(np.full((1, 1, 3), paper, np.uint8))[0, 0], abs=0.01)


@pytest.mark.parametrize("picture", [scene(), np.full((200, 300, 3), 250, np.uint8), scene()[:30, :30]])
def test_where_there_is_no_border_none_is_found(picture):
    assert find_border(picture) is None


def test_a_dark_frame_is_no_bare_paper():
    assert find_border(bordered(scene(), 24, (40, 40, 40))) is None


@pytest.mark.slow
def test_faded_dyes_come_back_by_border_and_one_neutral_dark():
    """The prints of docs/measured.md are photographs; this one is drawn."""
    print_ = bordered(scene())
    now = faded(print_)
    border = find_border(now)
    fading = fading_from(border.density, density_at(now, BLACK))
    step = Step("fading", {"stain": fading.stain, "gain": fading.gain})
    before, after = difference(now, print_), difference(treat(now, [step]).picture, print_)
    assert before > 6
    assert after < before / 3
    grey_world = Step("neutral", {"shift": (densities_of(now).mean((0, 1)) - densities_of(now).mean()).tolist()})
    assert difference(treat(now, [grey_world]).picture, print_) > 2 * after


def test_with_known_dyes_and_loss_the_print_is_as_it_was():
    print_ = bordered(scene())
    now = faded(print_)
    known = restore_dyes(as_deep(now), _known(1 / KEPT), ABSORB)
    assert difference(as_rgb(known), print_) < 0.8


@settings(max_examples=30, deadline=None)
@given(st.lists(st.floats(0.02, 1), min_size=3, max_size=3), st.lists(st.floats(0, 0.3), min_size=3, max_size=3))
def test_no_gain_goes_beyond_the_cap_and_what_was_held_is_told(kept, stain):
    neutral = np.array(stain) + 1.5 * np.array(kept)
    fading = fading_from(stain, neutral)
    if fading is None:
        assert min(neutral - stain) < 0.26
        return
    assert max(fading.gain) <= MOST_GAIN
    assert min(fading.gain) >= 1
    assert fading.held == (max(kept) / min(kept) / 0.88 > MOST_GAIN + 1e-3) or max(fading.gain) > MOST_GAIN - 0.01


def test_a_light_place_tells_no_fading_and_side_absorptions_must_be_sound():
    assert fading_from((0.0, 0.0, 0.1), (0.1, 0.4, 0.5)) is None
    with pytest.raises(WrongPicture):
        fading_from((0, 0, 0), (1, 1, 1), side_absorptions=np.ones((3, 3)))


@pytest.mark.parametrize(
    ("tone", "strength"), [("neutral", (1, 1, 1)), ("sepia", (0.82, 1, 1.3)), ("selenium", (0.96, 1.04, 0.98))]
)
def test_a_stain_goes_and_a_tone_stays(tone, strength):
    print_ = printed(densities_of(bordered(scene(grey=True))) * strength)
    now = printed(densities_of(print_) + np.array([0.01, 0.05, 0.2]))
    found = yellowing_of(now, find_border(now))
    treated = treat(now, [Step("yellowing", {"stain": found.stain})]).picture
    assert difference(now, print_) > 4
    assert difference(treated, print_) < 1.5
    middle = (slice(100, 200), slice(200, 300))
    chroma = [
        float(np.hypot(*np.moveaxis(lab(each)[middle][..., 1:], -1, 0)).mean()) for each in (print_, treated)
    ]
    assert chroma[1] == pytest.approx(chroma[0], abs=2.0)
    if tone == "sepia":
        assert found.tone[1] > 0.1


def test_colour_is_not_taken_for_a_tone():
    assert is_monochrome(scene(grey=True))
    assert is_monochrome(printed(densities_of(scene(grey=True)) * (0.8, 1, 1.3)))
    assert not is_monochrome(scene())
    assert yellowing_of(scene()) is None


@pytest.mark.parametrize("paper", [PAPER, (245, 242, 233), None])
@pytest.mark.parametrize("grey", [True, False])
def test_an_undamaged_print_needs_nothing(paper, grey):
    view = scene(grey=grey) if paper is None else bordered(scene(grey=grey), 24, paper)
    needs = needs_of(view)
    assert (needs.stain, needs.fading, needs.texture) == (None, None, ())


def test_a_stained_print_needs_that_stain_taken_off():
    now = faded(bordered(scene()))
    needs = needs_of(now)
    assert not needs.monochrome
    assert needs.stain == pytest.approx((0, 0.02, 0.1), abs=0.02)
    assert darkest_density(now, needs.border)[0] < darkest_density(bordered(scene()), needs.border)[0]


def _known(gain):
    from solander.imaging.treatment.fading import Fading

    return Fading(tuple(STAIN), tuple(gain))
