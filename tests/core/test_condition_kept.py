from __future__ import annotations

import json

import pytest

from solander.core.condition import MEASURED, Condition, Missing, turned_place

WHOLE = Condition(
    2.5,
    0.01,
    0.0,
    "00ff00ff00ff00ff",
    ("glare",),
    ("torn",),
    glare=0.02,
    glare_at="top edge",
    missing=(Missing("left edge", 0.05),),
    measured=MEASURED,
)


def test_a_condition_is_kept_as_json_and_read_again():
    assert Condition.of_kept(json.loads(json.dumps(WHOLE.as_kept()))) == WHOLE


def test_what_an_older_edition_kept_is_read_and_known_as_older():
    kept = {
        "sharpness": 2.0,
        "clipped_dark": 0.0,
        "clipped_light": 0.1,
        "fingerprint": "0" * 16,
        "faults": ["not sharp"],
    }
    old = Condition.of_kept(kept)
    assert (old.faults, old.states, old.measured, old.dust) == (("not sharp",), (), 0, None)


@pytest.mark.parametrize(
    ("place", "turn", "then"),
    [
        ("top edge", 1, "right edge"),
        ("left edge", 1, "top edge"),
        ("bottom edge", 2, "top edge"),
        ("top left corner", 1, "top right corner"),
        ("bottom left corner", 3, "bottom right corner"),
        ("right edge", 4, "right edge"),
        ("middle", 1, "middle"),
    ],
)
def test_a_place_turns_with_its_view(place, turn, then):
    assert turned_place(place, turn) == then
