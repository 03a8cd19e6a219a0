from __future__ import annotations

import pytest
from attrs import evolve

from solander.core.condition import Condition, Missing
from solander.core.prints import Outline, Side, View
from solander.tasks.condition_told import capture_told, states_told
from solander.tasks.enter_print import capture_sentences
from solander.tasks.stand_faults import best_rise, faults_told

OUTLINE = Outline(((0.0, 0.0), (1000.0, 0.0), (1000.0, 700.0), (0.0, 700.0)), 0.99)
SOUND = Condition(2.0, 0.0, 0.0, "0" * 16, edge_rise=2.0, measured=1)


def _view(condition: Condition = SOUND, *, turn: int = 0) -> View:
    return View("a" * 64, 0, OUTLINE, Side.RECTO, 1000, 700, turn=turn, ppi=400.0, condition=condition)


def _faulty(*faults: str, **more: object) -> Condition:
    return evolve(SOUND, faults=faults, **more)


def test_nothing_is_told_of_a_sound_view_or_of_one_that_was_not_measured():
    assert capture_told(_view()) == states_told(_view()) == faults_told(_view()) == ()
    assert capture_told(evolve(_view(), condition=None)) == ()


def test_a_mirrored_lamp_is_told_where_the_view_shows_it():
    glare = _faulty("glare", glare=0.05, glare_at="left edge")
    (told,) = capture_told(_view(glare))
    assert told.words == "A lamp mirrors near its left edge: move the lamp aside."
    (turned,) = capture_told(_view(glare, turn=1))
    assert turned.words == "A lamp mirrors near its top edge: move the lamp aside."


@pytest.mark.parametrize(
    ("angle", "turn", "words"), [(4.0, 0, "to the side"), (4.0, 1, "up or down"), (45.0, 0, "moved while")]
)
def test_a_shake_is_told_with_its_direction(angle, turn, words):
    (told,) = capture_told(_view(_faulty("shaken", shake_px=9.0, shake_deg=angle), turn=turn))
    assert words in told.words


def test_the_state_of_the_print_is_no_fault_of_its_capture():
    aged = evolve(SOUND, states=("yellowed", "missing corner", "torn"), missing=(
        Missing("top left corner", 0.08), Missing("right edge", 0.06), Missing("right edge", 0.05),
    ))  # fmt: skip
    assert faults_told(_view(aged)) == ()
    assert [told.words for told in states_told(_view(aged))] == [
        "Its paper has yellowed.", "Its top left corner is missing.", "It is torn at its right edge.",
    ]  # fmt: skip


def test_one_question_is_asked_about_the_foremost_fault():
    view = _view(_faulty("dust", "uneven light", "not sharp"))
    assert capture_sentences("P-0001", view) == ["The front of P-0001 is not sharp: capture it again?"]
    assert capture_sentences("P-0001", _view(_faulty("dust", "tilted"))) == []


def test_a_picture_less_sharp_than_the_stage_comes_to_is_told():
    others = [_view(evolve(SOUND, edge_rise=rise)) for rise in (1.9, 2.0, 2.1, 2.2, 4.9)]
    best = best_rise(others)
    assert best == pytest.approx(1.95)
    soft = _view(evolve(SOUND, edge_rise=4.4))
    assert [told.key for told in faults_told(soft, best_rise=best)] == ["not-sharp"]
    assert faults_told(_view(evolve(SOUND, edge_rise=2.8)), best_rise=best) == ()
    assert best_rise(others[:4]) is None
