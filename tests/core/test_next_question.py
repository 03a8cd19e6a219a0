"""The next question: gains equal to asking and solving again, and questions that don't repeat each other."""

from __future__ import annotations

import random
from collections.abc import Mapping, Sequence
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from solander.core.chronology import Between, Difference, Pieces, Solution, Statement, next_question, solve
from solander.core.chronology.next_question import Asked, best_questions
from solander.core.days import day
from solander.core.errors import InvalidValue

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
    things: Sequence[str], statements: Sequence[Statement], thing: str, *, years: Sequence[int] = range(1900, 1940)
) -> float:
    """The expected gain in days by brute force: every possible year is added and everything solved again."""
    before = solved(things, statements)
    gained = possible = 0.0
    for year in years:
        if share := days_of_year(before, thing, year):
            answer = Between("answer", thing, day(year, 1, 1), day(year, 12, 31))
            after = solve(things, [*statements, answer])
            if isinstance(after, Solution):
                possible += share
                gained += share * sum(days_in_era(before, x) - days_in_era(after, x) for x in counted(things))
    return gained / possible if possible else 0.0


def counted(things: Sequence[str]) -> Sequence[str]:
    """All things but the first, which stands for one that is no print's exposure."""
    return things[1:]


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


def asked(things: Sequence[str], statements: Sequence[Statement], **wishes: object) -> list[Asked]:
    given = {"askable": things, "counted": counted(things), "era": ERA, **wishes}
    return best_questions(solved(things, statements), statements, **given)  # type: ignore[arg-type]


@pytest.mark.slow
@pytest.mark.parametrize("holes", [False, True])
@settings(max_examples=40, deadline=None)
@given(seed=st.integers(0, 10**9))
def test_gain_is_what_solving_again_gives(seed: int, holes: bool) -> None:
    things, statements = made(seed, holes=holes)
    for thing in things:
        expected = asked_and_solved_again(things, statements, thing)
        found = asked(things, statements, askable=[thing])
        if found:
            assert found[0].gain_years * YEAR == pytest.approx(expected, abs=1e-6)
        elif not holes:
            assert expected < 30 + 1e-6


@pytest.mark.slow
@settings(max_examples=40, deadline=None)
@given(seed=st.integers(0, 10**9))
def test_first_question_gains_most(seed: int) -> None:
    things, statements = made(seed, holes=False)
    gains = {thing: asked_and_solved_again(things, statements, thing) for thing in things}
    found = asked(things, statements)
    if found:
        # Of nearly equal ones the more even is chosen, which counts up to a hundredth.
        assert gains[found[0].thing] >= max(gains.values()) / 1.0101
        assert found[0].added_years == pytest.approx(found[0].gain_years)
        assert len({each.thing for each in found}) == len(found)
    else:
        assert max(gains.values()) < 30 + 1e-6


@settings(max_examples=40, deadline=None)
@given(seed=st.integers(0, 10**9), first=st.integers(1900, 1939), length=st.integers(0, 8))
def test_gain_with_a_best_guess_expects_its_years_only(seed: int, first: int, length: int) -> None:
    things, statements = made(seed, holes=False)
    thing, years = things[0], range(first, min(first + length, 1939) + 1)
    before = solved(things, statements)
    if not any(days_of_year(before, thing, year) for year in years):
        years = range(1900, 1940)
    guess = day(first, 3, 1), day(first + length, 3, 1)
    found = asked(things, statements, askable=[thing], guesses={thing: guess})
    expected = asked_and_solved_again(things, statements, thing, years=years)
    assert (found[0].gain_years * YEAR if found else 0) == pytest.approx(
        expected if expected >= 30 else 0, abs=1e-6
    )


def album(name: str, prints: int, *, years: tuple[int, int] | None = None) -> tuple[list[str], list[Statement]]:
    """Prints in order, from the first to the last year when these are known."""
    things = [f"{name}{number:02d}" for number in range(prints)]
    statements: list[Statement] = [Difference(f"order {a}", a, b, 0, None) for a, b in pairwise(things)]
    if years:
        statements.append(Between(f"begins {name}", things[0], day(years[0], 1, 1), None))
        statements.append(Between(f"ends {name}", things[-1], None, day(years[1], 12, 31)))
    return things, statements


def test_middle_of_an_undated_album_is_asked_first() -> None:
    things, statements = album("A", 21, years=(1910, 1929))
    first = best_questions(solved(things, statements), statements, askable=things, counted=things, era=ERA)[0]
    assert first.thing == "A10"
    assert first.others == 20
    assert first.prints == 21
    assert first.years == (1910, 1929)
    # Whatever the year, each print before it loses what comes after, each print after it what comes before.
    assert first.gain_years == pytest.approx(19 + 20 * 19 / 2, abs=0.2)


def test_second_question_is_no_neighbour_of_the_first() -> None:
    long, of_long = album("A", 20, years=(1910, 1929))
    short, of_short = album("B", 16, years=(1910, 1929))
    found = best_questions(
        solved([*long, *short], [*of_long, *of_short]),
        [*of_long, *of_short],
        askable=[*long, *short],
        counted=[*long, *short],
        era=ERA,
    )
    assert [each.thing[0] for each in found[:2]] == ["A", "B"]
    assert found[1].added_years == pytest.approx(found[1].gain_years)
    assert found[2].added_years < found[2].gain_years
    assert [each.added_years for each in found] == sorted((each.added_years for each in found), reverse=True)


def test_added_gain_is_what_the_answers_before_leave() -> None:
    """Of two prints of one day the second has nothing left to tell."""
    statements = [Difference("same", "a", "b", 0, 0), Between("in", "a", day(1910, 1, 1), day(1919, 12, 31))]
    found = best_questions(solved("ab", statements), statements, askable="ab", counted="ab", era=ERA)
    assert [each.thing for each in found] == ["a"]
    assert found[0].gain_years == pytest.approx(18, abs=0.05)


def occasion_of(prints: Sequence[str]) -> list[Statement]:
    return [
        *(Difference(f"of {each}", "occasion", each, 0, 31) for each in prints),
        Between("then", prints[0], day(1931, 1, 1), day(1938, 12, 31)),
    ]


def test_occasion_competes_with_its_prints() -> None:
    prints = ["p1", "p2", "p3"]
    statements = occasion_of(prints)
    found = best_questions(
        solved(["occasion", *prints], statements),
        statements,
        askable=["occasion", *prints],
        counted=prints,
        groups={"occasion": prints},
        era=ERA,
        weights=dict.fromkeys(prints, 0.8),
    )
    assert [each.thing for each in found] == ["occasion"]
    assert set(found[0].narrowed) == set(prints)
    assert found[0].prints == found[0].others == 3


@pytest.mark.parametrize("holes", [False, True])
@settings(max_examples=25, deadline=None)
@given(seed=st.integers(0, 10**9))
def test_gain_of_an_occasion_is_that_of_dating_each_of_its_prints(seed: int, holes: bool) -> None:
    """As `evidence_of` takes the date of an occasion: said of each of its prints."""
    rng = random.Random(seed)
    start = rng.randint(ERA[0] + 1500, ERA[1] - 1500)
    truth = {"occasion": start, **{f"p{n}": start + rng.randint(0, 31) for n in range(3)}, "other": start + 200}
    prints = ["p0", "p1", "p2"]
    things, statements = list(truth), random_statements(rng, truth, holes=holes)
    statements += [Difference(f"of {each}", "occasion", each, 0, 31) for each in prints]
    before = solved(things, statements)
    gained = possible = 0.0
    for year in range(1900, 1940):
        inside = (day(year, 1, 1), day(year, 12, 31))
        share = len(set.intersection(*(days_possible(before, each, inside) for each in prints)))
        answers = [Between(f"answer {each}", each, *inside) for each in prints]
        after = share and solve(things, [*statements, *answers])
        if isinstance(after, Solution):
            possible += share
            gained += share * sum(days_in_era(before, x) - days_in_era(after, x) for x in counted(things))
    found = asked(things, statements, askable=["occasion"], groups={"occasion": prints})
    if found:
        assert found[0].gain_years * YEAR == pytest.approx(gained / possible, abs=1e-6)
    elif not holes:
        assert not possible or gained / possible < 30 + 1e-6


def days_possible(solution: Solution, thing: str, inside: tuple[int, int]) -> set[int]:
    first, last = solution.ranges[thing]
    pieces = solution.pieces.get(thing, ((first, last),))
    return {
        each
        for a, b in pieces
        for each in range(
            inside[0] if a is None else max(a, inside[0]), 1 + (inside[1] if b is None else min(b, inside[1]))
        )
    }


def test_weight_of_nothing_is_never_asked() -> None:
    things, statements = album("A", 3, years=(1910, 1929))
    solution = solved(things, statements)
    weights: Mapping[str, float] = dict.fromkeys(things, 0.0)
    assert best_questions(solution, statements, askable=things, counted=things, era=ERA, weights=weights) == []


def test_open_sides_end_with_the_era() -> None:
    found = best_questions(solved("a", []), [], askable="a", counted="a", era=ERA)
    assert found[0].days == found[0].years == (None, None)
    assert found[0].gain_years == pytest.approx(39, abs=0.01)
    assert found[0].own_years == found[0].gain_years


@pytest.mark.parametrize(
    "statements",
    [
        pytest.param([Between("s", "a", day(1931, 2, 1), day(1931, 11, 30))], id="within one year"),
        pytest.param([Between("s", "a", None, day(1899, 12, 31))], id="before the era"),
        pytest.param([Between("s", "a", day(1940, 1, 1), None)], id="after the era"),
    ],
)
def test_nothing_is_asked_where_a_year_tells_nothing(statements: list[Statement]) -> None:
    assert best_questions(solved("a", statements), statements, askable="a", counted="a", era=ERA) == []


def test_nothing_to_ask_about() -> None:
    assert best_questions(solved("a", []), [], askable=[], counted="a", era=ERA) == []
    assert best_questions(solved("", []), [], askable=[], counted=[], era=ERA) == []


@pytest.mark.parametrize(
    ("wishes", "why"),
    [
        ({"askable": ["b"]}, "no thing “b”"),
        ({"counted": ["a", "c"]}, "no thing “c”"),
        ({"groups": {"a": ["d"]}}, "no thing “d”"),
        ({"era": ERA[::-1]}, "era ends before it begins"),
    ],
)
def test_wishes_that_cannot_be_met_are_refused(wishes: dict[str, object], why: str) -> None:
    with pytest.raises(InvalidValue, match=why):
        asked("a", [], **wishes)


def test_summer_of_several_years_is_asked_for_its_year() -> None:
    """Holes reach the prints of the occasion, and the year leaves one summer to all of them."""
    prints = ["p1", "p2"]
    summers = [(day(year, 6, 1), day(year, 8, 31)) for year in range(1931, 1939)]
    statements = [
        *(Difference(f"of {each}", "occasion", each, 0, 31) for each in prints),
        Pieces("summer", "occasion", summers),
    ]
    found = best_questions(
        solved(["occasion", *prints], statements), statements, askable=["occasion"], counted=prints, era=ERA
    )
    # From 1 June of the first to the end of September of the last summer, down to four months of one year.
    assert found[0].gain_years * YEAR == pytest.approx(2 * (summers[-1][1] - summers[0][1]), abs=3)


@pytest.mark.parametrize("years", [(1931, 1932), (1931, 1938), (1931, 1935)])
@pytest.mark.parametrize("stated", ["of the occasion", "of each print"])
def test_prints_of_an_occasion_are_not_asked_about_after_it(years: tuple[int, int], stated: str) -> None:
    """A year leaves one summer of it; the days up to its end are in no print's range and left to no question."""
    prints = ["p1", "p2"]
    summers = [(day(year, 6, 1), day(year, 8, 31)) for year in years]
    about = ["occasion"] if stated == "of the occasion" else prints
    statements: list[Statement] = [Pieces(f"summer of {each}", each, summers) for each in about]
    statements += [Difference(f"of {each}", "occasion", each, 0, 31) for each in prints]
    found = best_questions(
        solved(["occasion", *prints], statements),
        statements,
        askable=["occasion", *prints],
        counted=prints,
        groups={"occasion": prints},
        era=ERA,
        weights=dict.fromkeys(prints, 0.8),
    )
    assert [each.thing for each in found] == ["occasion"]


def test_sample_of_too_many_questions_finds_as_good_ones(monkeypatch: pytest.MonkeyPatch) -> None:
    rng = random.Random(5)
    things, statements = [], []
    for number in range(12):
        first = rng.randint(1901, 1915)
        more, said = album(f"{number:02d}-", rng.randint(30, 90), years=(first, first + rng.randint(3, 20)))
        things += more
        statements += said
        for dated in rng.sample(more, 2):
            found = solve(
                things, [*statements, Between(f"d {dated}", dated, day(first, 1, 1), day(first + 3, 1, 1))]
            )
            if isinstance(found, Solution):
                statements.append(Between(f"d {dated}", dated, day(first, 1, 1), day(first + 3, 1, 1)))
    solution = solved(things, statements)
    every = best_questions(solution, statements, askable=things, counted=things, era=ERA)
    monkeypatch.setattr(next_question, "_MOST_TOUCHED", 100)
    some = best_questions(solution, statements, askable=things, counted=things, era=ERA)
    assert len(some) == len(every) == 5
    assert some[0].gain_years >= 0.95 * every[0].gain_years
    assert sum(each.added_years for each in some) >= 0.9 * sum(each.added_years for each in every)
