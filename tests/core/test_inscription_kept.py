"""What was read is kept as JSON and turns with its print; what a person writes down is text with few marks."""

from __future__ import annotations

import json

import pytest

from solander.core.inscriptions import Fact, FactKind, Inscription, Line, Word
from solander.core.inscriptions.kept import READ, Writing
from solander.core.inscriptions.records import Corners
from solander.core.inscriptions.transcript import Stretch, as_written, stretches_of
from solander.core.statements import Sure


def _box(left: float, top: float, right: float, low: float) -> Corners:
    return (left, top), (right, top), (right, low), (left, low)


LINE = Line(
    (Word("Nan", 0.94, 0.0, 0.3, 0.9), Word("1952", 0.812, 0.5, 1.0, 0.7)),
    _box(10, 20, 110, 40),
    0.87,
    also="Nan 1962",
    ink=(30, 40, 90),
)
MAKER = Line((Word("VELOX", 0.99),), _box(0, 0, 50, 10), 0.99, agreed=True)
FACT = Fact(FactKind.DATE, "1952", "Nan 1952", 0, Sure.GUESS, ("Nan",), ("1952",))
TOLD = Inscription((LINE, Line((), _box(10, 60, 90, 80), 0.0)), (MAKER,), (4.0, 0.0, 1.0, 0.0))
WRITING = Writing(TOLD, 300, 200, (FACT,), "a reader")


def test_what_was_read_is_kept_as_json_and_read_again() -> None:
    again = Writing.of_kept(json.loads(json.dumps(WRITING.as_kept())))
    assert again == WRITING
    assert again.read == READ
    assert again.is_written


def test_a_back_on_which_nothing_stands_is_kept_too() -> None:
    blank = Writing(Inscription(), 30, 20)
    assert Writing.of_kept(json.loads(json.dumps(blank.as_kept()))) == blank
    assert not blank.is_written


@pytest.mark.parametrize("turn", range(-3, 6))
def test_places_are_kept_as_the_print_lay_whichever_way_it_is_shown(turn: int) -> None:
    seen = WRITING.seen(turn)
    size = (300, 200) if turn % 2 == 0 else (200, 300)
    back = Writing.of_seen(seen, size, turn, facts=(FACT,), reader="a reader")
    assert back == WRITING


def test_a_quarter_turn_clockwise_takes_the_upper_left_to_the_upper_right() -> None:
    seen = WRITING.seen(1)
    # The picture was 200 high: its first row becomes the last column, 199.
    assert seen.lines[0].corners[0] == (200 - 1 - 20, 10)
    assert seen.lines[0].angle_deg == pytest.approx(90)
    assert seen.lines[0].length == pytest.approx(LINE.length)
    # Upright after no turn as it lay: after three more once it was turned by one.
    assert seen.votes == (0.0, 1.0, 0.0, 4.0)
    assert seen.votes.index(4.0) == 3


def test_lines_are_put_below_each_other_and_those_left_alone_are_left_out() -> None:
    assert as_written([" Skegness ", "", "August 1952"], "\r\n  to Mother\r\n\r\nfrom Bill \n") == (
        "Skegness\nAugust 1952\n  to Mother\n\nfrom Bill"
    )
    assert as_written([], " \n ") == ""
    assert as_written(["", ""]) == ""


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("for _dear Nan_, 1952", [("for ", False), ("dear Nan", True), (", 1952", False)]),
        ("_1952_", [("1952", True)]),
        ("no_mark_here", [("no_mark_here", False)]),
        ("a _ b _ c", [("a _ b _ c", False)]),
        ("_one\ntwo_", [("_one\ntwo_", False)]),
        ("", []),
    ],
)
def test_underlines_are_marked_in_plain_text(text: str, found: list[tuple[str, bool]]) -> None:
    assert stretches_of(text) == [Stretch(*one) for one in found]
