"""The forecast of sittings: its range holds as often as it says, and nothing is foretold from nothing."""

from __future__ import annotations

from random import Random

import pytest

from solander.core.pace import LEAST, SittingsLeft, sittings_left


def truth(pace, left: int) -> int:  # type: ignore[no-untyped-def]
    sittings = 0
    while left > 0:
        left -= pace()
        sittings += 1
    return sittings


@pytest.mark.slow
@pytest.mark.parametrize("history", [3, 5, 8, 9, 15, 40])
@pytest.mark.parametrize("spread", [0.3, 0.8])
def test_the_range_holds_about_eight_times_in_ten_whatever_the_evenings_are_like(
    history: int, spread: float
) -> None:
    # Paces of work are skewed: many middling evenings, now and then a long one (log-normal: our model, no source).
    chance, trials, held = Random(history), 120, 0
    for _ in range(trials):
        usual = chance.uniform(10, 120)

        def pace(usual: float = usual) -> int:
            return max(1, round(chance.lognormvariate(0, spread) * usual))

        paces = [pace() for _ in range(history)]
        left = round(usual * chance.uniform(3, 25))
        foretold = sittings_left(paces, left)
        assert foretold is not None
        held += foretold.least <= truth(pace, left) <= foretold.most
    assert held / trials >= 0.7


def test_nothing_is_foretold_from_too_little() -> None:
    assert sittings_left([40] * (LEAST - 1), 100) is None


def test_where_nothing_is_left_nothing_is_needed() -> None:
    assert sittings_left([40, 30, 20], 0) == SittingsLeft(0, 0, 0)


def test_even_evenings_are_foretold_as_they_are() -> None:
    assert sittings_left([20] * 12, 95) == SittingsLeft(5, 5, 5)


def test_the_same_history_foretells_the_same_also_of_very_much() -> None:
    paces = [12, 80, 33, 41, 25, 19, 60, 44, 37, 51]
    found = sittings_left(paces, 100_000)
    assert found == sittings_left(paces, 100_000)
    assert found is not None
    assert found.least < 100_000 / 40.2 < found.most
