"""Months and pieces on ranges that are open, and what is known where ties close a circle."""

from __future__ import annotations

import random
from itertools import permutations, product

import pytest

from solander.core.chronology import Between, Contradiction, Difference, Months, Network, Pieces, Solution, solve
from solander.core.days import day, from_day

pytestmark = pytest.mark.slow

SUMMER = Months("summer", "x", {6, 7, 8})


def test_months_without_any_bound_wait_for_one():
    network = Network(["x"])
    assert network.add(SUMMER) is None
    alone = network.solution()
    assert alone.ranges == {"x": (None, None)}
    assert alone.pieces == {}
    assert alone.unlisted == {"x": ("summer",)}
    assert network.add(Between("after", "x", day(1952, 9, 10), None)) is None
    assert network.solution().ranges == {"x": (day(1953, 6, 1), None)}
    assert network.solution().unlisted == {"x": ("summer",)}
    assert network.add(Between("before", "x", None, day(1955, 7, 4))) is None
    assert network.solution().pieces == {"x": (*summers(1953, 1954), (day(1955, 6, 1), day(1955, 7, 4)))}
    assert network.solution().unlisted == {}


def summers(*years):
    return tuple((day(year, 6, 1), day(year, 8, 31)) for year in years)


def test_pieces_of_an_open_range_are_named_until_they_can_be_listed():
    network = Network(["x"])
    network.add(Pieces("either", "x", [(None, 10), (20, None)]))
    assert network.solution().unlisted == {"x": ("either",)}
    network.add(Between("from", "x", 12, None))
    assert network.solution().ranges == {"x": (20, None)}
    assert network.solution().unlisted == {}


@pytest.mark.parametrize("seed", range(16))
def test_months_are_exact_in_whatever_order_bounds_arrive(seed):
    """Every order of two kinds of months, pieces and bounds gives the days that brute force leaves."""
    rng = random.Random(seed)
    start = day(1950, rng.randint(1, 12), rng.randint(1, 28))
    last = start + rng.randint(30, 1500)
    cut = rng.randint(start, last)
    statements = [
        Months("m", "x", rng.sample(range(1, 13), 5)),
        Months("n", "x", rng.sample(range(1, 13), 7)),
        Pieces("p", "x", [(None, cut), (cut + 100, None)]),
        Between("b", "x", start, None),
        Between("c", "x", None, last),
    ]
    both = statements[0].months & statements[1].months
    left = {d for d in range(start, last + 1) if from_day(d)[1] in both and not cut < d < cut + 100}
    for order in permutations(statements):
        found = solve(["x"], order)
        assert days_left(found) == left


def days_left(found, thing="x"):
    if isinstance(found, Contradiction):
        return set()
    stretches = found.pieces.get(thing, (found.ranges[thing],))
    return {d for first, last in stretches for d in range(first, last + 1)}


def test_two_kinds_of_months_hold_together_at_an_open_range():
    """September is the first that both allow, though each by itself allows an earlier day."""
    statements = [Between("b", "x", 1, None), Months("m", "x", {2, 9}), Months("n", "x", {4, 7, 9, 12})]
    for order in permutations(statements):
        assert solve(["x"], order).ranges["x"] == (day(1, 9, 1), None)


def test_months_that_exclude_each_other_contradict_without_any_bound():
    found = solve(["x"], [SUMMER, Months("winter", "x", {12, 1, 2})])
    assert found == Contradiction(("summer", "winter"), 92)


def test_months_tied_to_others_that_exclude_them_contradict_when_a_bound_arrives():
    """Without any bound that stays unseen (documented in `propagation`)."""
    tied = [SUMMER, Months("winter", "y", {12, 1, 2}), Difference("same day", "x", "y", 0, 0)]
    assert isinstance(solve(["x", "y"], tied), Solution)
    found = solve(["x", "y"], [*tied, Between("after", "x", day(1952, 9, 10), None)])
    assert isinstance(found, Contradiction)


# -- where ties close a circle -------------------------------------------------------------------------------


@pytest.mark.parametrize("seed", range(10))
def test_round_a_circle_ranges_and_contradictions_are_exact_and_no_day_is_lost(seed):
    """600 circles of three things with two to four single days each, against all combinations."""
    rng = random.Random(seed)
    for _ in range(60):
        days = {x: sorted(rng.sample(range(14), rng.randint(2, 4))) for x in "abc"}
        ties = [
            Difference(a + b, a, b, *sorted(rng.randint(-8, 8) for _ in range(2))) for a, b in ("ab", "bc", "ac")
        ]
        possible = combinations(days, ties)
        found = solve("abc", [*(single_days(x, days[x]) for x in "abc"), *ties])
        if isinstance(found, Contradiction):
            assert not possible
            continue
        for place, x in enumerate("abc"):
            used = {days_[place] for days_ in possible}
            assert found.ranges[x] == (min(used), max(used))
            assert used <= days_left(found, x)


def single_days(x, days):
    return Pieces(f"p{x}", x, [(each, each) for each in days])


def combinations(days, ties):
    found = []
    for combination in product(*days.values()):
        when = dict(zip(days, combination, strict=True))
        if all(tie.min_days <= when[tie.b] - when[tie.a] <= tie.max_days for tie in ties):
            found.append(combination)
    return found


def test_round_a_circle_an_inner_day_may_be_left_that_nothing_uses():
    """Day 10 of a needs 3 of b and 13 of c, which lie too far apart; each tie alone allows it (documented)."""
    days = {"a": [4, 10, 11, 12], "b": [3, 13], "c": [3, 13]}
    ties = [
        Difference("ab", "a", "b", -8, 2),
        Difference("bc", "b", "c", -5, 0),
        Difference("ac", "a", "c", -5, 3),
    ]
    assert {combination[0] for combination in combinations(days, ties)} == {4, 11, 12}
    found = solve("abc", [*(single_days(x, days[x]) for x in "abc"), *ties])
    assert found.pieces["a"] == ((4, 4), (10, 12))


def test_two_ties_of_one_pair_count_as_one():
    """Each alone would let the hole close; together they keep it."""
    statements = [
        Pieces("p", "a", [(0, 2), (7, 8)]),
        Difference("near", "a", "b", -2, 2),
        Difference("after", "a", "b", 0, None),
    ]
    assert solve("ab", statements).pieces["b"] == ((0, 4), (7, 10))
