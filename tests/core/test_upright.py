"""Which way is up: the rule for faces and the habit of a batch, on scripted votes and batches.

Both rules are our own; what the vote of faces is worth on real photographs is in tests/reading.
"""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from solander.core.prints import Outline, Side, View
from solander.core.upright import CLEAR_MAJORITY, ENOUGH, Lain, Upright, habit, laid_shape, turn_by_faces

VIEW = View("0" * 64, 0, Outline(((0, 0), (90, 0), (90, 60), (0, 60)), 0.9), Side.RECTO, 90, 60)
turns = st.integers(0, 3)


@pytest.mark.parametrize(
    ("votes", "turn"),
    [
        ((0, 0, 0, 0), None),
        ((0.9, 0, 0, 0), 0),
        ((0, 0, 0, 0.81), 3),
        ((0, 1.8, 0.9, 0), 1),  # just two to one
        ((0, 1.7, 0.9, 0), None),
        ((0.9, 0.9, 0, 0), None),
        ((0, 0.8, 2.6, 0.85), 2),
    ],
)
def test_faces_need_two_votes_to_one(votes: tuple[float, ...], turn: int | None) -> None:
    assert turn_by_faces(votes) == turn


@given(st.lists(st.floats(0, 50), min_size=4, max_size=4), turns)
def test_turning_the_picture_turns_the_answer(votes: list[float], turned: int) -> None:
    """A picture turned on by `turned` needs as many quarter turns less."""
    answer, moved = turn_by_faces(votes), turn_by_faces(votes[turned:] + votes[:turned])
    assert moved == (None if answer is None else (answer - turned) % 4)


@pytest.mark.parametrize(
    ("size", "shape"), [((150, 100), "wide"), ((100, 150), "tall"), ((100, 100), "square"), ((100, 104), "square")]
)
def test_shapes(size: tuple[float, float], shape: str) -> None:
    assert laid_shape(*size) == shape


def _batch(*of: int | None, shape: str = "wide") -> list[Lain]:
    return [Lain(place, shape, turn) for place, turn in enumerate(of)]


def test_a_clear_majority_of_enough_is_a_habit() -> None:
    assert habit(_batch(1, 1, 1, 1, 1, None)) == {5: 1}
    assert habit(_batch(1, 1, 1, 1, None)) == {}, "four are not enough"
    assert habit(_batch(1, 1, 1, 1, 0, None)) == {}, "four of five are no clear majority"
    assert habit(_batch(*[1] * 9, 0, None)) == {10: 1}


def test_another_shape_tells_nothing() -> None:
    tall = [Lain(10, "tall", None)]
    assert habit([*_batch(0, 0, 0, 0, 0, 0), *tall]) == {}


def test_a_habit_changes_in_the_course_of_a_box() -> None:
    before, after = [0] * 12, [3] * 12
    found = habit(_batch(None, *before, None, *after, None))
    assert found == {0: 0, 26: 3}, "where it changes, at 13, nobody can tell"


@given(st.lists(st.none() | turns, max_size=40))
def test_a_habit_is_one_that_enough_neighbours_have(of: list[int | None]) -> None:
    found = habit(_batch(*of))
    assert all(of[place] is None for place in found)
    for turn in found.values():
        assert of.count(turn) >= CLEAR_MAJORITY * ENOUGH


@given(turns, turns)
def test_a_turned_view_says_how_large_it_is_and_how_it_lay(once: int, again: int) -> None:
    view = VIEW.turned(once, Upright.FACES).turned(again, Upright.PERSON)
    assert (view.turn, view.upright, view.laid_size) == (again, Upright.PERSON, (90, 60))
    assert (view.width, view.height) == ((60, 90) if again % 2 else (90, 60))
    assert (view.key == VIEW.key) == (again == 0)
