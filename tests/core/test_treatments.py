"""Treatments as data: kept and read, ordered, refused with a clear sentence, told in each language."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from solander.core.errors import InvalidValue
from solander.core.language import speaking
from solander.core.sentence import Sentence
from solander.core.treatment_steps import KINDS
from solander.core.treatments import UNTREATED, Step, Treatment, read_treatment
from solander.look.languages import language_of

share = st.floats(0, 1)
density = st.lists(st.floats(-1, 3), min_size=3, max_size=3)
rising = st.lists(st.integers(0, 100), min_size=2, max_size=8, unique=True).map(sorted)


@st.composite
def curves(draw):
    one = draw(rising)
    other = draw(st.lists(st.integers(0, 100), min_size=len(one), max_size=len(one), unique=True).map(sorted))
    return [[a / 100, b / 100] for a, b in zip(one, other, strict=True)]


PARAMETERS = {
    "two lights": st.fixed_dictionaries({"second": st.text(min_size=1, max_size=40)}),
    "even light": st.fixed_dictionaries({"field": st.text(min_size=1, max_size=40)}),
    "marks": st.fixed_dictionaries(
        {"strokes": st.lists(st.lists(share, min_size=5, max_size=5), min_size=1, max_size=4)}
    ),
    "texture": st.fixed_dictionaries(
        {"peaks": st.lists(st.lists(st.floats(-0.5, 0.5), min_size=2, max_size=2), min_size=1, max_size=6)},
        optional={"strength": share},
    ),
    "fading": st.fixed_dictionaries(
        {"stain": density, "gain": st.lists(st.floats(0.25, 4.6), min_size=3, max_size=3)},
        optional={"side_absorptions": st.lists(st.floats(-1, 2), min_size=9, max_size=9)},
    ),
    "yellowing": st.fixed_dictionaries({"stain": density}, optional={"share": share}),
    "neutral": st.fixed_dictionaries({"shift": density}, optional={"place": st.tuples(share, share)}),
    "density": st.fixed_dictionaries({"by": st.floats(-0.4, 0.4)}),
    "tone curve": st.fixed_dictionaries({"points": curves()}),
    "detail": st.fixed_dictionaries({}, optional={"shadows": share, "highlights": share}),
    "keystone": st.just({"corners": [[0.1, 0.1], [0.9, 0.05], [0.95, 0.9], [0.0, 1.0]]}),
    "fine turn": st.fixed_dictionaries({"degrees": st.floats(-15, 15)}),
    "crop": st.fixed_dictionaries(
        {"box": st.just([0.1, 0.2, 0.9, 0.8])}, optional={"to": st.sampled_from(["picture", "border", "box"])}
    ),
    "quarter turn": st.fixed_dictionaries({"turns": st.integers(1, 3)}),
    "output": st.fixed_dictionaries({"long_side": st.integers(16, 65500)}, optional={"sharpening": share}),
}
"""What each kind may be given: a kind that is missing here fails the first test."""

reasons = st.one_of(st.just(""), st.text(max_size=30), st.just(Sentence("as %(one)s told", one="the border")))


@st.composite
def treatments(draw):
    names = draw(st.sets(st.sampled_from(sorted(PARAMETERS))))
    names -= {"yellowing"} if "fading" in names else set()
    return Treatment.of(
        Step(name, draw(PARAMETERS[name]), draw(st.booleans()), draw(st.text(max_size=10)), draw(reasons))
        for name in names
    )


def test_every_kind_of_step_is_tried_here():
    assert set(PARAMETERS) == set(KINDS)


@settings(deadline=None, max_examples=60)
@given(treatments())
def test_a_treatment_comes_back_from_json_as_it_was(treatment):
    line = json.dumps(treatment.as_json(), ensure_ascii=False)
    again = read_treatment(json.loads(line))
    assert again == treatment
    assert again.key == treatment.key
    assert again.sentences == treatment.sentences


@settings(deadline=None, max_examples=30)
@given(treatments(), st.randoms())
def test_steps_come_into_one_order_however_they_are_added(treatment, chance):
    mixed = list(treatment)
    chance.shuffle(mixed)
    assert Treatment.of(mixed) == treatment
    assert [step.name for step in treatment] == [name for name in KINDS if treatment.step(name)]


@settings(deadline=None, max_examples=30)
@given(treatments())
def test_a_step_that_is_switched_off_decides_no_pixel_and_is_not_forgotten(treatment):
    for step in treatment.applied:
        without = treatment.switched(step.name, on=False)
        assert without.key != treatment.key
        assert without.key == treatment.without(step.name).key
        assert without.switched(step.name, on=True) == treatment
        assert step.told not in without.sentences


def test_what_decides_no_pixel_does_not_change_the_key():
    one = Treatment((Step("density", {"by": 0.1}, who="Ada", reason="too light"),))
    other = Treatment((Step("density", {"by": 0.1}),))
    assert one.key == other.key
    assert UNTREATED.key == ""


def test_a_step_replaces_the_one_of_its_kind():
    treatment = Treatment.of([Step("density", {"by": 0.1}), Step("quarter turn", {"turns": 1})])
    denser = treatment.with_step(Step("density", {"by": 0.2}))
    assert [step.name for step in denser] == ["density", "quarter turn"]
    assert denser.step("density").parameters == {"by": 0.2}


@pytest.mark.parametrize(
    ("name", "parameters", "why"),
    [
        ("density", {"by": 2}, "“by” must be a number from -0.4 to 0.4"),
        ("density", {"by": float("nan")}, "“by” must be a number from -0.4 to 0.4"),
        ("density", {"by": 10**400}, "“by” must be a number from -0.4 to 0.4"),
        ("density", {"by": True}, "“by” must be a number"),
        ("density", {}, "“by” is missing"),
        ("density", {"by": 0.1, "hue": 3}, "it has no “hue”"),
        ("fading", {"stain": [0, 0], "gain": [1, 1, 1]}, "“stain” must be a list of 3."),
        ("tone curve", {"points": [[0, 0], [0.5, 0.6], [0.4, 1]]}, "points that rise both ways"),
        ("crop", {"box": [0.5, 0, 0.5, 1]}, "a box that holds something"),
        ("crop", {"box": [0, 0, 1, 1], "to": "sky"}, "one of picture, border and box"),
        ("keystone", {"corners": [[0, 0], [1, 1], [1, 0], [0, 1]]}, "clockwise from the top left"),
        ("quarter turn", {"turns": 4}, "a whole number from 1 to 3"),
        ("sparkle", {}, "“sparkle” is no step of a treatment"),
    ],
)
def test_what_cannot_be_done_is_told_in_one_sentence(name, parameters, why):
    with pytest.raises(InvalidValue) as refused:
        Step(name, parameters)
    assert why in str(refused.value)


@pytest.mark.parametrize(
    "given_",
    [
        None,
        [],
        {"steps": []},
        {"treatment": 2, "steps": []},
        {"treatment": 1, "steps": "density"},
        {"treatment": 1, "steps": [3]},
        {"treatment": 1, "steps": [{"name": "density", "parameters": [1]}]},
        {"treatment": 1, "steps": [{"name": "density", "parameters": {"by": 0.1}, "who": 3}]},
        {"treatment": 1, "steps": 2 * [{"name": "density", "parameters": {"by": 0.1}}]},
    ],
)
def test_what_is_no_treatment_is_refused(given_):
    with pytest.raises(InvalidValue, match="That is no treatment"):
        read_treatment(given_)


def test_a_print_is_not_both_faded_in_colour_and_yellowed_in_monochrome():
    both = [Step("fading", {"stain": [0, 0, 0], "gain": [1, 1, 1]}), Step("yellowing", {"stain": [0, 0, 0.1]})]
    with pytest.raises(InvalidValue, match="either"):
        Treatment.of(both)
    assert Treatment.of(both[:1]).steps


def test_a_treatment_is_a_list_of_sentences_in_each_language():
    treatment = Treatment.of(
        [
            Step("neutral", {"shift": [0, 0.02, 0.1]}),
            Step("fading", {"stain": [0, 0, 0.1], "gain": [1.8, 1.1, 1.25]}),
            Step("crop", {"box": [0.1, 0.1, 0.9, 0.9], "to": "picture"}),
        ]
    )
    assert treatment.sentences == (
        "faded dyes restored: cyan 1.80×, magenta 1.10×, yellow 1.25×",
        "paper border made neutral",
        "cropped to the picture",
    )
    with speaking(language_of("de")):
        assert "1,80" in treatment.steps[0].told.told()
        assert treatment.steps[2].told.told() != treatment.sentences[2]


def test_the_order_is_that_of_the_architecture_page_and_no_step_is_undescribed():
    """docs/treatments.md names each kind of step."""
    told = (Path(__file__).parents[2] / "docs" / "treatments.md").read_text("utf-8")
    assert [name for name in KINDS if f"**{name}**" not in told] == []
