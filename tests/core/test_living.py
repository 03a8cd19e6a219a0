"""Who counts as living: not known to be dead and born less than 110 years ago, or undated."""

from __future__ import annotations

from datetime import date

import pytest

from solander.core.living import counts_as_living
from solander.core.people import Person

TODAY = date(2026, 11, 25)


@pytest.mark.parametrize(
    ("born", "died", "living"),
    [
        ("", "", True),
        ("1950-03-01", "", True),
        ("1950", "2001", False),
        ("", "1931~", False),
        ("", "[..1950]", False),
        ("", "2062", True),
        ("1950", "2026-11-26", True),
        ("1916-11-25", "", False),
        ("1916-11-26", "", True),
        ("1916", "", True),
        ("1915", "", False),
        ("191X", "", True),
        ("190X", "", False),
    ],
)
def test_the_rule_at_its_edges(born: str, died: str, living: bool) -> None:
    assert counts_as_living(Person("Somebody", born=born, died=died), TODAY) is living
