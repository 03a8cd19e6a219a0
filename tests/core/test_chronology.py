"""Chronology against worked examples, a shortest-path reference, a linear programme and brute force."""

from __future__ import annotations

import json
import random
from itertools import pairwise, product
from math import inf
from pathlib import Path

import pytest

from solander.core.chronology import (
    Between,
    Chain,
    Contradiction,
    Difference,
    Months,
    Network,
    Pieces,
    Solution,
    answer,
    best_guesses,
    problems_in,
    put_in_order,
    read_problem,
    reasons_of,
    solve,
)
from solander.core.dates import day, day_text
from solander.core.errors import InvalidValue

# From shared/standards/dating-worked.json, unchanged.
WORKED = json.loads((Path(__file__).parent / "data" / "dating-worked.json").read_text("utf-8"))["examples"]


@pytest.mark.parametrize("example", WORKED, ids=[example["id"] for example in WORKED])
def test_worked_example(example):
    found = answer(read_problem(example))
    assert {key: found[key] for key in example["answer"]} == example["answer"]


def test_a_reprint_mends_the_contradiction_of_w5():
    problem = next(example for example in WORKED if example["id"] == "W5")
    mended = {**problem, "statements": problem["statements"][:3]}
    ranges = answer(read_problem(mended))["ranges"]
    assert ranges["exposure"] == [None, "1962-05-02"]
    assert ranges["print"] == ["1968-01-01", None]


# -- references ---------------------------------------------------------------------------------------------


def random_statements(rng, *, things, holes=False):
    statements = []
    for number in range(rng.randint(1, 9)):
        ident = f"s{number}"
        if rng.random() < 0.55:
            a, b = rng.sample(things, 2)
            least, most = sorted(rng.randint(-8, 8) for _ in range(2))
            statements.append(Difference(ident, a, b, *opened(rng, least, most)))
        elif holes and rng.random() < 0.6:
            ends = sorted(rng.sample(range(14), 4))
            statements.append(Pieces(ident, rng.choice(things), (ends[:2], ends[2:])))
        else:
            first, last = sorted(rng.randint(0, 20) for _ in range(2))
            statements.append(Between(ident, rng.choice(things), *opened(rng, first, last)))
    return statements


def opened(rng, least, most):
    side = rng.random()
    return (None if side < 0.3 else least), (None if side > 0.7 else most)


def floyd(things, statements):
    """Ranges by all shortest paths; None when a circle falls short."""
    nodes = ["origin", *things]
    far = {(a, b): 0 if a == b else inf for a in nodes for b in nodes}
    for said in statements:
        a, b = (said.a, said.b) if isinstance(said, Difference) else ("origin", said.x)
        least, most = (
            (said.min_days, said.max_days) if isinstance(said, Difference) else (said.earliest, said.latest)
        )
        far[a, b] = min(far[a, b], inf if most is None else most)
        far[b, a] = min(far[b, a], inf if least is None else -least)
    for middle, a, b in product(nodes, nodes, nodes):
        far[a, b] = min(far[a, b], far[a, middle] + far[middle, b])
    if any(far[node, node] < 0 for node in nodes):
        return None
    bound = {thing: (-far[thing, "origin"], far["origin", thing]) for thing in things}
    return {thing: tuple(None if abs(end) == inf else end for end in ends) for thing, ends in bound.items()}


def consistent(things, statements):
    return floyd(things, statements) is not None


@pytest.mark.parametrize("seed", range(40))
def test_equals_shortest_paths(seed):
    """4,000 random cases; each conflict is irreducible and its gap the smallest that mends it."""
    rng = random.Random(seed)
    things = list("abcde")
    for _ in range(100):
        statements = random_statements(rng, things=things)
        found, reference = solve(things, statements), floyd(things, statements)
        if reference is None:
            assert isinstance(found, Contradiction)
            check_conflict(things, [said for said in statements if said.id in found.conflict], found)
        else:
            assert isinstance(found, Solution)
            assert found.ranges == reference


def check_conflict(things, conflict, found):
    assert not consistent(things, conflict)
    for place in range(len(conflict)):
        assert consistent(things, conflict[:place] + conflict[place + 1 :])

    def mends(days):
        return any(
            consistent(things, [*conflict[:place], said.widened(days), *conflict[place + 1 :]])
            for place, said in enumerate(conflict)
        )

    assert mends(found.gap_days)
    assert found.gap_days == 1 or not mends(found.gap_days - 1)


def test_equals_linear_programme():
    optimize = pytest.importorskip("scipy.optimize")
    rng = random.Random(7)
    things = list("abcd")
    for _ in range(40):
        statements = [Between(f"r{thing}", thing, -50, 50) for thing in things]
        statements += random_statements(rng, things=things)
        found = solve(things, statements)
        reference = [linear(optimize, things, statements, thing) for thing in things]
        if isinstance(found, Contradiction):
            assert reference == [None] * len(things)
        else:
            assert [list(found.ranges[thing]) for thing in things] == reference


def linear(optimize, things, statements, thing):
    rows, limits = [], []
    for said in statements:
        signs = {said.b: 1, said.a: -1} if isinstance(said, Difference) else {said.x: 1}
        ends = (said.min_days, said.max_days) if isinstance(said, Difference) else (said.earliest, said.latest)
        for sign, end in zip((-1, 1), ends, strict=True):
            if end is not None:
                rows.append([sign * signs.get(name, 0) for name in things])
                limits.append(sign * end)
    found = []
    for sign in (1, -1):
        goal = [sign * (name == thing) for name in things]
        result = optimize.linprog(goal, A_ub=rows, b_ub=limits, bounds=(None, None))
        if result.status == 2:
            return None
        found.append(round(sign * result.fun))
    return found


def allowed_days(things, statements):
    """Every thing's possible days by trying all combinations of days 0–13."""
    possible = {thing: set() for thing in things}
    for days in product(range(14), repeat=len(things)):
        when = dict(zip(things, days, strict=True))
        if all(holds(said, when) for said in statements):
            for thing, day_ in when.items():
                possible[thing].add(day_)
    return possible


def holds(said, when):
    if isinstance(said, Pieces):
        return any(first <= when[said.x] <= last for first, last in said.pieces)
    value = when[said.b] - when[said.a] if isinstance(said, Difference) else when[said.x]
    least, most = (said.min_days, said.max_days) if isinstance(said, Difference) else (said.earliest, said.latest)
    return (least is None or least <= value) and (most is None or value <= most)


def days_of(found, thing):
    stretches = found.pieces.get(thing) or (found.ranges[thing],)
    return {day_ for first, last in stretches for day_ in range(first, last + 1)}


@pytest.mark.parametrize("seed", range(15))
def test_holes_are_exact_on_trees_and_sound_elsewhere(seed):
    rng = random.Random(seed)
    things = list("abc")
    for _ in range(12):
        statements = [Between(f"r{thing}", thing, 0, 13) for thing in things]
        statements += random_statements(rng, things=things, holes=True)
        pairs = {frozenset((said.a, said.b)) for said in statements if isinstance(said, Difference)}
        possible = allowed_days(things, statements)
        found = solve(things, statements)
        if isinstance(found, Contradiction):
            assert not any(possible.values())
            conflict = [said for said in statements if said.id in found.conflict]
            check_conflict_with_holes(things, conflict, found)
        elif len(pairs) <= 2:
            assert {thing: days_of(found, thing) for thing in things} == possible
        else:
            assert all(possible[thing] <= days_of(found, thing) for thing in things)
            assert all(found.ranges[thing] == (min(days), max(days)) for thing, days in possible.items())


def check_conflict_with_holes(things, conflict, found):
    assert isinstance(solve(things, conflict), Contradiction)
    for place in range(len(conflict)):
        assert isinstance(solve(things, conflict[:place] + conflict[place + 1 :]), Solution)

    def mends(days):
        return any(
            isinstance(solve(things, [*conflict[:place], said.widened(days), *conflict[place + 1 :]]), Solution)
            for place, said in enumerate(conflict)
        )

    assert mends(found.gap_days)
    assert found.gap_days == 1 or not mends(found.gap_days - 1)


# -- one statement at a time --------------------------------------------------------------------------------


@pytest.mark.parametrize("seed", range(20))
def test_adding_equals_solving_at_once_and_refusals_change_nothing(seed):
    rng = random.Random(seed)
    things = list("abcd")
    for _ in range(40):
        network, kept = Network(things), []
        for said in random_statements(rng, things=things, holes=True):
            before = network.solution()
            if network.add(said) is None:
                kept.append(said)
            else:
                assert network.solution() == before
                assert isinstance(solve(things, [*kept, said]), Contradiction)
        assert network.solution() == solve(things, kept)


def test_ties_without_any_date_may_contradict():
    network = Network(["a", "b", "c"])
    assert network.add(Difference("s1", "a", "b", 1, None)) is None
    assert network.add(Difference("s2", "b", "c", 1, None)) is None
    assert network.add(Difference("s3", "c", "a", 0, None)) == Contradiction(("s1", "s2", "s3"), 2)


def test_a_long_album_between_two_wrong_dates():
    things = [f"p{number}" for number in range(300)]
    network = Network(things)
    for a, b in pairwise(things):
        assert network.add(Difference(f"{a} {b}", a, b, 0, None)) is None
    assert network.add(Between("first", "p0", 1000, 1010)) is None
    contradiction = network.add(Between("last", "p299", 900, 990))
    assert len(contradiction.conflict) == 301
    assert contradiction.gap_days == 10


def test_reasons_name_the_chain():
    found = answer_to("W2")
    assert reasons_of("f3", found).earliest == ("s5", "s4", "s3", "s1")
    assert reasons_of("f12", found).latest == ("s6",)
    assert reasons_of("f9", found).latest == ("s4", "s6")


def test_reasons_alone_make_the_bound():
    """Solving with nothing but the reasons of a bound gives that bound."""
    rng = random.Random(5)
    things = list("abcd")
    for _ in range(300):
        statements = random_statements(rng, things=things, holes=True)
        found = solve(things, statements)
        if isinstance(found, Contradiction):
            continue
        for thing in things:
            why = reasons_of(thing, found)
            for side, ids in enumerate((why.earliest, why.latest)):
                again = solve(things, [said for said in statements if said.id in ids])
                assert again.ranges[thing][side] == found.ranges[thing][side]


def answer_to(ident):
    problem = read_problem(next(example for example in WORKED if example["id"] == ident))
    return solve(problem.things, problem.statements)


def test_months_snap_an_open_range():
    found = solve(["x"], [Months("m", "x", {6, 7, 8}), Between("b", "x", day(1952, 9, 10), None)])
    assert day_text(found.ranges["x"][0]) == "1953-06-01"
    assert reasons_of("x", found).earliest == ("m", "b")


def test_months_that_exclude_each_other_contradict_even_without_an_end():
    statements = [
        Between("b", "x", day(1952, 9, 10), None),
        Months("m", "x", {6}),
        Months("n", "y", {7}),
        Difference("d", "x", "y", 0, 0),
    ]
    found = solve(["x", "y"], statements)
    assert isinstance(found, Contradiction)
    assert set(found.conflict) >= {"m", "n", "d"}
    assert found.gap_days == 1


# -- bad input ----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "build",
    [
        lambda: Between("s9", "x", 5, 4),
        lambda: Difference("s9", "x", "x", 0, 1),
        lambda: Difference("s9", "x", "y", 2, 1),
        lambda: Months("s9", "x", {13}),
        lambda: Months("s9", "x", set()),
        lambda: Pieces("s9", "x", [(3, 1)]),
        lambda: Pieces("s9", "x", []),
        lambda: Network(["x"]).add(Difference("s9", "x", "y", 0, 1)),
        lambda: solve(["x"], [Between("s9", "x", 0, 1), Between("s9", "x", 0, 1)]),
        lambda: statement(kind="between", x="x", **{"from": "1936-02-30"}),
        lambda: statement(kind="between", x="x", **{"from": 1936}),
        lambda: statement(kind="between"),
        lambda: statement(kind="guess", x="x"),
        lambda: statement(kind="diff", a="x", b="y", min_days=0.5),
        lambda: statement(kind="diff", a="x", b="y", min_days=10**400),
        lambda: statement(kind="months", x="x", months=6),
        lambda: statement(kind="pieces", x="x", pieces=[["1936-01-01"]]),
    ],
)
def test_bad_statement_is_named(build):
    with pytest.raises(InvalidValue, match="s9"):
        build()


def statement(**said):
    return read_problem({"id": "p", "things": ["x", "y"], "statements": [{"id": "s9", **said}]})


@pytest.mark.parametrize("data", [None, [], "text", {}, {"things": "x", "statements": []}])
def test_bad_problem_is_refused(data):
    with pytest.raises(InvalidValue):
        read_problem(data)


def test_one_example_and_a_whole_file_are_both_read():
    assert problems_in({"examples": WORKED}) == WORKED
    assert problems_in(WORKED[0]) == [WORKED[0]]
    with pytest.raises(InvalidValue):
        problems_in({"examples": 3})


# -- one order for all --------------------------------------------------------------------------------------


def ordered(things, statements, *, chains=(), accession=None):
    network = Network(things)
    for said in statements:
        assert network.add(said) is None
    solution = network.solution()
    guesses = best_guesses(solution, chains)
    return put_in_order(things, solution, guesses=guesses, precedes=network.precedes(), accession=accession)


@pytest.mark.parametrize("seed", range(20))
def test_order_keeps_precedence_and_ranges(seed):
    rng = random.Random(seed)
    things = list("abcdef")
    for _ in range(30):
        statements = random_statements(rng, things=things, holes=True)
        found = solve(things, statements)
        if isinstance(found, Contradiction):
            continue
        placed = ordered(things, statements, chains=[Chain(("a", "b", "c"), (False, False))])
        assert sorted(each.thing for each in placed) == things
        check_order(placed, statements, found)


def check_order(placed, statements, found):
    place = {each.thing: n for n, each in enumerate(placed)}
    guess = {each.thing: each.guess for each in placed}
    for thing, (first, last) in found.ranges.items():
        assert guess[thing] is None or (first is None or first <= guess[thing])
        assert guess[thing] is None or (last is None or guess[thing] <= last)
    for said in statements:
        if not isinstance(said, Difference) or None in (guess[said.a], guess[said.b]):
            continue
        if said.min_days is not None and said.min_days > 0:
            assert place[said.a] < place[said.b]


def test_an_unrelated_date_moves_nothing_else():
    things = ["a", "b", "c", "d"]
    first = [Between("s1", "a", 10, 20), Between("s2", "c", 40, 50), Difference("s3", "a", "b", 0, None)]
    chains = [Chain(("a", "b"), (True,)), Chain(("c", "d"), (False,))]
    before = ordered(things, first, chains=chains)
    after = ordered([*things, "e"], [*first, Between("s4", "e", 0, 1000)], chains=chains)
    assert [each for each in after if each.thing != "e"] == before


def test_nothing_dated_keeps_accession_order():
    placed = ordered(["b", "a", "c"], [], accession={"a": 1, "b": 2, "c": 3})
    assert [(each.thing, each.guess) for each in placed] == [("a", None), ("b", None), ("c", None)]


def test_things_that_precede_each_other_share_a_day():
    placed = ordered(
        ["a", "b"],
        [Difference("s1", "a", "b", 0, None), Difference("s2", "b", "a", 0, None), Between("s3", "a", 5, 5)],
    )
    assert [(each.thing, each.guess) for each in placed] == [("a", 5), ("b", 5)]
