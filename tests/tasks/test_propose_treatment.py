"""One cautious proposal a print: nothing for an undamaged one, with reasons for others."""

from __future__ import annotations

import re

import cv2
import numpy as np
import pytest
from attrs import evolve

from solander.core.condition import Condition
from solander.core.treatments import Step
from solander.imaging.condition import examine
from solander.imaging.condition_limits import print_states
from solander.imaging.simulate import drawn_picture
from solander.imaging.treatment import needs
from solander.imaging.treatment.treat import treat
from solander.tasks.propose_treatment import offers_of, propose_treatment, with_neutral_dark

PICTURE = cv2.resize(drawn_picture(3), (480, 320), interpolation=cv2.INTER_AREA)
PICTURE[160:200, 240:280] = 24
BLACK = (284 / 528, 204 / 368)
"""Where that black patch lies once there is a border, as shares."""

GREY = cv2.cvtColor(cv2.cvtColor(PICTURE, cv2.COLOR_RGB2GRAY), cv2.COLOR_GRAY2RGB)


def bordered(picture, paper=(252, 251, 249)):
    return cv2.copyMakeBorder(picture, 24, 24, 24, 24, cv2.BORDER_CONSTANT, value=paper)


@pytest.mark.parametrize("view", [PICTURE, GREY, bordered(PICTURE), bordered(GREY, (245, 242, 233))])
def test_an_undamaged_print_is_proposed_nothing(view):
    proposal = propose_treatment(view)
    assert proposal.treatment.steps == ()
    assert not proposal.asks_neutral


def test_a_yellow_monochrome_print_is_proposed_to_lose_its_stain():
    proposal = propose_treatment(bordered(GREY, (240, 226, 180)))
    assert proposal.treatment.sentences == ("yellow stain taken off, the tone kept",)
    (step,) = proposal.treatment
    assert step.who == "measured"
    assert "the bare border is yellow by a density of" in step.reason


def test_a_stained_colour_print_asks_for_a_neutral_dark_and_then_has_its_dyes_restored():
    view = treat(
        bordered(PICTURE), [Step("fading", {"stain": (-0.02, -0.04, -0.12), "gain": (0.6, 0.85, 0.75)})]
    ).picture
    proposal = propose_treatment(view)
    assert proposal.treatment.sentences == ("paper border made neutral",)
    assert proposal.asks_neutral
    treatment = with_neutral_dark(proposal, view, BLACK)
    assert [step.name for step in treatment] == ["fading"]
    assert treatment.steps[0].parameters["gain"][0] > 1.2 * treatment.steps[0].parameters["gain"][1]
    assert with_neutral_dark(proposal, view, (0.01, 0.01)) is None, "bare paper is no dark"


def test_texture_is_not_looked_for_where_there_is_writing():
    y, x = np.mgrid[:600, :900]
    waves = [
        np.cos(order * 2 * np.pi * (x * np.cos(angle) + y * np.sin(angle)) / 9) / order
        for angle in (0.2, 0.2 + np.pi / 3)
        for order in (1, 2)
    ]
    silk = np.clip(128 + 8 * np.sum(waves, axis=0)[..., None] + np.zeros(3), 0, 255).astype(np.uint8)
    assert propose_treatment(silk).treatment.sentences == ("texture of the paper taken out",)
    assert propose_treatment(silk, shows_writing=True).treatment.steps == ()


def test_a_pattern_of_very_many_peaks_is_proposed_by_its_strongest():
    """Dots every 28 pixels repeat up to the finest frequency: more peaks than a step holds."""
    page = np.random.default_rng(1).normal(150, 3, (1100, 1100))
    page[::28, ::28] += 80
    page[1::28, ::28] += 60
    step = propose_treatment(np.dstack([page.clip(0, 255).astype(np.uint8)] * 3)).treatment.step("texture")
    assert step is not None
    assert len(step.parameters["peaks"]) == 200


def measured(view, **others):
    """The condition as the take-in measures and keeps it."""
    seen = examine(view)
    told = {"yellowing": seen.image.yellowing, "dye_balance": seen.image.dye_balance, "states": print_states(seen)}
    return evolve(Condition(None, 0.0, 0.0, "0" * 16), **told, **others)


def test_what_the_condition_tells_is_not_measured_again_and_stands_in_the_reason(monkeypatch):
    yellow, clean = bordered(GREY, (240, 226, 180)), bordered(GREY)
    proposal = propose_treatment(yellow, condition=measured(yellow))
    assert proposal.treatment.key == propose_treatment(yellow).treatment.key
    (step,) = proposal.treatment
    assert "the bare border is yellow by a density of" in step.reason
    assert "its white has yellowed (b* " in step.reason
    monkeypatch.setattr(needs, "find_border", None)  # whoever looks at the border fails
    assert propose_treatment(clean, condition=measured(clean)).treatment.steps == ()
    with pytest.raises(TypeError):
        propose_treatment(clean)


def test_a_faded_dye_stands_in_the_reason():
    view = treat(
        bordered(PICTURE), [Step("fading", {"stain": (-0.02, -0.04, -0.2), "gain": (0.45, 0.95, 0.9)})]
    ).picture
    (step,) = propose_treatment(view, condition=measured(view)).treatment
    assert re.search("the cyan dye of its darks has [3-7][0-9] % of the others", step.reason)


def test_dust_uneven_light_and_glare_are_offered_for_what_was_measured_and_never_proposed():
    condition = measured(GREY, faults=("glare", "dust", "uneven light"), dust=31, light_lost=0.224)
    assert [(one.name, one.reason) for one in offers_of(condition)] == [
        ("marks", "31 specks of dust"),
        ("even light", "22 % of the light is lost across it"),
        ("two lights", "a lamp is mirrored in it"),
    ]
    assert propose_treatment(GREY, condition=condition).treatment.steps == ()
    assert offers_of(measured(GREY)) == offers_of(None) == ()
