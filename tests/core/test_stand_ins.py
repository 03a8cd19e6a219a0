"""Names of people without a name."""

from __future__ import annotations

import pytest

from solander.core.stand_ins import stand_in_name, stand_in_number


@pytest.mark.parametrize(
    ("said", "number"),
    [
        ("Unknown person 12", 12),
        ("unknown person no. 3", 3),
        ("UNKNOWN  PERSON #7", 7),
        ("Unknown person", None),
        ("Unknown person 0", None),
        ("Unknown person 12 and Joe", None),
        ("Joe", None),
    ],
)
def test_a_stand_in_is_known_as_people_write_it(said: str, number: int | None) -> None:
    assert stand_in_number(said) == number


def test_every_stand_in_is_read_as_its_number() -> None:
    assert [stand_in_number(stand_in_name(number)) for number in (1, 12, 4711)] == [1, 12, 4711]
