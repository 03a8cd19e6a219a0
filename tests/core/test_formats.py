"""Measured sizes are named where they fit, and left alone where they don't."""

from __future__ import annotations

import csv
from importlib import resources

import pytest

from solander.core.formats import FORMATS, format_of


@pytest.mark.parametrize(
    ("size", "name"),
    [
        ((89.3, 127.4), "3½ × 5 in"),
        ((127.0, 89.0), "3½ × 5 in"),
        ((90.4, 129.6), "9 × 13 cm"),
        ((101.2, 152.0), "4 × 6 in"),
        ((100.2, 149.5), "10 × 15 cm"),
        ((88.6, 89.4), "3½ × 3½ in"),
        ((63.0, 102.0), "carte de visite"),
        ((85.0, 120.0), None),
        ((89.5, 128.5), None),  # half-way between 3½ × 5 in and 9 × 13 cm
        ((300.0, 400.0), None),
    ],
)
def test_what_a_size_is_called(size: tuple[float, float], name: str | None) -> None:
    found = format_of(size)
    assert (found and found.name) == name


def test_what_is_measured_badly_is_not_named() -> None:
    assert format_of((101.0, 152.0), unsure_mm=0.2) is not None
    assert format_of((101.0, 152.0), unsure_mm=1.5) is None


def test_every_format_is_called_by_its_own_name() -> None:
    ambiguous = {one.name for one in FORMATS if format_of((one.shorter_mm, one.longer_mm)) is not one}
    assert ambiguous == set()
    assert all(one.shorter_mm <= one.longer_mm and one.source for one in FORMATS)


def test_sizes_with_a_source_in_the_table_of_dating_facts_are_in_this_one() -> None:
    """The dating table names its sources; its sizes are sizes of ours."""
    text = resources.files("solander.authorities").joinpath("dating_evidence.csv").read_text("utf-8")
    told = [row["size_mm"] for row in csv.DictReader(text.splitlines()) if row["size_mm"]]
    assert told
    for sizes in told:
        for size in sizes.split(";"):
            shorter, longer = map(float, size.split("x"))
            assert any(one.off((shorter, longer)) < 0.1 for one in FORMATS), size
