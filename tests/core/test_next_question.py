"""The next question: gains equal to asking and solving again, and questions that don't repeat each other."""

from __future__ import annotations

import random
from collections.abc import Sequence

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from solander.core.chronology import Between, Difference, Pieces, Solution, Statement, solve
from solander.core.chronology.next_question import best_questions
from solander.core.days import day, from_day

ERA = (day(1900, 1, 1), day(1939, 12, 31))
YEAR = 365.2425


def solved(things: Sequence[str], statements: Sequence[Statement]) -> Solution:
    found = solve(things, statements)
    assert isinstance(found, Solution)
    return found


def days_in_era(solution: Solution, thing: str) -> int:
    first, last = solution.ranges[thing]
    first = ERA[0] if first is None else min(max(first, ERA[0]), ERA[1])
    last = ERA[1] if last is None else max(min(last, ERA[1]), ERA[0])
    return last - first


def days_of_year(solution: Solution, thing: str, year: int) -> int:
    first, last = solution.ranges[thing]
    pieces = solution.pieces.get(thing, ((first, last),))
    start, end = day(year, 1, 1), day(year, 12, 31)
    return sum(
        max(0, min(end, end if b is None else b) - max(start, start if a is None else a) + 1) for a, b in pieces
    )


def asked_and_solved_again(
    things: Sequence[str], statements: Sequence[Statement], thing: str, counted: Sequence[str]
) -> float:
    """The expected gain in days by brute force: every possible year is added and everything solved again."""
    before = solved(things, statements)
    gained = possible = 0.0
    for year in range(from_day(ERA[0])[0], from_day(ERA[1])[0] + 1):
        share = days_of_year(before, thing, year)
        after = share and solve(
            things, [*statements, Between("answer", thing, day(year, 1, 1), day(year, 12, 31))]
        )
        if isinstance(after, Solution):
            possible += share
            gained += share * sum(days_in_era(before, x) - days_in_era(after, x) for x in counted)
    return gained / possible if possible else 0.0


def random_statements(rng: random.Random, truth: dict[str, int], *, holes: bool) -> list[Statement]:
    """Statements that are true of the days in `truth`."""
    names = sorted(truth)
    found: list[Statement] = []
    for number in range(rng.randint(1, 2 * len(names))):
        a, b = rng.sample(names, 2)
        apart, slack = truth[b] - truth[a], rng.choice([0, 31, 400, 3000])
        least = None if rng.random() < 0.3 else apart - rng.randint(0, slack)
        most = None if least is not None and rng.random() < 0.6 else apart + rng.randint(0, slack)
        found.append(Difference(f"d{number}", a, b, least, most))
    for x in names:
        if rng.random() < 0.5:
            before, after = (None if rng.random() < 0.3 else rng.choice([0, 20, 400, 4000, 12000]) for _ in "ab")
            first = None if before is None else truth[x] - before
            last = None if after is None else truth[x] + after
            found.append(Between(f"b{x}", x, first, last))
        elif holes and rng.random() < 0.5:
            shifts = {0, *(rng.randint(-6, 6) for _ in range(3))}
            centres = [truth[x] + 366 * shift for shift in shifts]
            found.append(Pieces(f"p{x}", x, [(c - 40, c + 40) for c in centres]))
    return found


def made(seed: int, *, holes: bool) -> tuple[list[str], list[Statement]]:
    rng = random.Random(seed)
    things = [f"t{number}" for number in range(rng.randint(2, 7))]
    truth = {thing: rng.randint(ERA[0] + 1500, ERA[1] - 1500) for thing in things}
    return things, random_statements(rng, truth, holes=holes)


def all_questions(things: Sequence[str], statements: Sequence[Statement], thing: str, counted: Sequence[str]):
    return best_questions(
        solved(things, statements), statements, askable=[thing], counted=counted, era=ERA, count=1
    )


@pytest.mark.parametrize("holes", [False, True])
@settings(max_examples=200, deadline=None)
@given(seed=st.integers(0, 10**9))
def test_gain_is_what_solving_again_gives(seed: int, holes: bool) -> None:
    things, statements = made(seed, holes=holes)
    counted = things[: max(1, len(things) - 1)]
    for thing in things:
        expected = asked_and_solved_again(things, statements, thing, counted)
        found = all_questions(things, statements, thing, counted)
        if found:
            assert found[0].gain_years * YEAR == pytest.approx(expected, abs=1e-6)
        elif not holes:
            assert expected < 30 + 1e-6
