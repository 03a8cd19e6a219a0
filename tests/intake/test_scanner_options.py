"""What `scanimage --all-options` prints, for drivers of several kinds, and what a scanner is then asked for.

The first text is printed by SANE's own test driver (sane-backends 1.1.1); the others are in the manner of drivers
for flatbeds and for feeders, shortened, from memory.
"""

from __future__ import annotations

import pytest

from solander.core.errors import CannotBegin
from solander.intake.scanner_options import Wish, options_for, read_abilities, source_for

TEST_DRIVER = """
    --mode Gray|Color [Gray]
        Selects the scan mode (e.g., lineart, monochrome, or color).
    --depth 1|8|16 [8]
        Number of bits per sample, typical values are 1 for "line-art" and 8
    --three-pass[=(yes|no)] [inactive]
    --resolution 1..1200dpi (in steps of 1) [50]
    --source Flatbed|Automatic Document Feeder [Flatbed]
    -l 0..200mm (in steps of 1) [0]
    -x 0..200mm (in steps of 1) [80]
    -y 0..200mm (in steps of 1) [100]
"""
FLATBED = """
    --mode Lineart|Gray|24bit Color|48bit Color [24bit Color]
    --resolution auto||75|150|300|600|1200|2400dpi [75]
    --depth 8|16bit [inactive]
    -x 0..216.7mm [216.7]
    -y 0..297.011mm [297.011]
"""
FEEDER = """
    --source Flatbed|ADF Front|ADF Duplex [Flatbed]
    --mode Black & White|True Gray|24bit Color [24bit Color]
    --resolution 100|200|300dpi [200]
    -x 0..5100pel [5100]
"""


def asked(text: str, **wish: object) -> tuple[list[str], float]:
    abilities = read_abilities(text)
    wished = Wish(**wish)
    return options_for(abilities, wished, source_for(abilities, wished))


def test_colour_of_the_whole_glass_at_the_resolution_that_is_wished_for() -> None:
    everything = ["-x", "200", "-y", "200"]
    assert asked(TEST_DRIVER) == (
        ["--source=Flatbed", "--mode=Color", "--depth=8", "--resolution=600", *everything],
        600,
    )
    assert asked(TEST_DRIVER, bits=16, feeder=True, dpi=300) == (
        ["--source=Automatic Document Feeder", "--mode=Color", "--depth=16", "--resolution=300", *everything],
        300,
    )


def test_the_next_higher_resolution_that_is_offered_else_the_highest() -> None:
    assert asked(FLATBED, dpi=400)[1] == 600
    assert asked(FLATBED, dpi=4800)[1] == 2400
    assert asked(TEST_DRIVER, dpi=4800)[1] == 1200
    assert asked(FEEDER, dpi=250) == (["--source=Flatbed", "--mode=24bit Color", "--resolution=300"], 300)


def test_where_many_bits_are_a_mode_that_mode_is_asked_for() -> None:
    options, _ = asked(FLATBED, bits=16)
    assert "--mode=48bit Color" in options
    assert not [option for option in options if option.startswith("--depth")]
    assert "--mode=24bit Color" in asked(FLATBED)[0]


def test_a_feeder_for_one_side_or_both() -> None:
    assert "--source=ADF Front" in asked(FEEDER, feeder=True)[0]
    assert "--source=ADF Duplex" in asked(FEEDER, feeder=True, both_sides=True)[0]


@pytest.mark.parametrize(
    ("text", "wish", "why"),
    [
        (FLATBED, {"feeder": True}, "this scanner has no feeder"),
        (TEST_DRIVER, {"feeder": True, "both_sides": True}, "its feeder sees one side only"),
        (FEEDER, {"bits": 16}, "does not offer 16 bits"),
        ("    --mode Lineart|Gray [Gray]", {}, "tells no colours"),
    ],
)
def test_what_it_cant_do_is_said(text: str, wish: dict, why: str) -> None:
    with pytest.raises(CannotBegin, match=why) as caught:
        asked(text, **wish)
    assert caught.value.todo


def test_a_driver_without_options_is_asked_for_nothing() -> None:
    assert asked("") == ([], 600)
