"""Solving in arrays against plain propagation and against networkx, on thousands of random cases."""

from __future__ import annotations

import random
from itertools import pairwise

import pytest

from solander.core.chronology import Between, Contradiction, Difference, Months, Network, Pieces, reasons_of, solve
from solander.core.chronology.all_at_once import solved_at_once
from solander.core.chronology.contradictions import things_of
from solander.core.days import day

pytestmark = pytest.mark.slow


def random_case(rng, *, things, most, holes):
    statements = []
    for number in range(rng.randint(1, most)):
        ident, roll = f"s{number}", rng.random()
        if roll < 0.6:
            a, b = rng.sample(things, 2)
            least, most_days = sorted(rng.randint(-8, 12) for _ in range(2))
            statements.append(Difference(ident, a, b, *opened(rng, least, most_days)))
        elif holes and roll < 0.75:
            ends = sorted(rng.sample(range(30), 4))
            pieces = [[ends[0], ends[1]], [ends[2], rng.choice([None, ends[3]])]]
            statements.append(Pieces(ident, rng.choice(things), pieces))
        elif holes and roll < 0.8:
            statements.append(Months(ident, rng.choice(things), rng.sample(range(1, 13), rng.randint(3, 8))))
        else:
            first, last = sorted(rng.randint(0, 25) for _ in range(2))
            statements.append(Between(ident, rng.choice(things), *opened(rng, first, last)))
    return statements


def opened(rng, least, most):
    side = rng.random()
    return (None if side < 0.35 else least), (None if side > 0.65 else most)


def plainly(things, statements):
    """One by one, the way that edits go; None when they contradict."""
    network = Network(things)
    if any(network.add(said) is not None for said in statements):
        return None
    return network.solution()


def in_arrays(things, statements):
    return solved_at_once({thing: place for place, thing in enumerate(things)}, tuple(statements))


@pytest.mark.parametrize("holes", [False, True])
@pytest.mark.parametrize("seed", range(20))
def test_arrays_equal_plain_propagation(seed, holes):
    """6,000 cases, among them circles, contradictions, open bounds, holes, things that nothing is said of."""
    rng = random.Random(seed)
    for _ in range(150):
        things = [f"t{number}" for number in range(rng.randint(2, 9))]
        statements = random_case(rng, things=things, most=3 * len(things), holes=holes)
        assert in_arrays(things, statements) == plainly(things, statements)


@pytest.mark.parametrize("seed", range(10))
def test_arrays_equal_shortest_paths_of_networkx(seed):
    networkx = pytest.importorskip("networkx")
    rng = random.Random(seed)
    for _ in range(100):
        things = [f"t{number}" for number in range(rng.randint(2, 7))]
        statements = random_case(rng, things=things, most=2 * len(things), holes=False)
        found = in_arrays(things, statements)
        assert (found and found.ranges) == by_networkx(networkx, things, statements)


def by_networkx(networkx, things, statements):
    graph = networkx.DiGraph()
    graph.add_nodes_from(["origin", *things])
    for said in statements:
        a, b = (said.a, said.b) if isinstance(said, Difference) else ("origin", said.x)
        least, most = (
            (said.min_days, said.max_days) if isinstance(said, Difference) else (said.earliest, said.latest)
        )
        for source, target, days in ((a, b, most), (b, a, None if least is None else -least)):
            if days is not None:
                old = graph.get_edge_data(source, target, {"weight": days})["weight"]
                graph.add_edge(source, target, weight=min(old, days))
    if networkx.negative_edge_cycle(graph):
        return None
    latest = networkx.single_source_bellman_ford_path_length(graph, "origin")
    earliest = networkx.single_source_bellman_ford_path_length(graph.reverse(), "origin")
    return {thing: (negated(earliest.get(thing)), latest.get(thing)) for thing in things}


def negated(days):
    return None if days is None else -days


def album(rng, size):
    things = [f"p{number}" for number in range(size)]
    days = sorted(rng.randint(0, 3000) for _ in things)
    statements = [Difference(f"o{a}", a, b, 0, None) for a, b in pairwise(things)]
    for number, (thing, when) in enumerate(zip(things, days, strict=True)):
        if rng.random() < 0.1:
            statements.append(Between(f"d{number}", thing, when - rng.randint(0, 300), when + rng.randint(0, 300)))
        if rng.random() < 0.05:
            early = when - rng.randint(400, 800)
            statements.append(Pieces(f"e{number}", thing, [(early, early + 90), (when - 45, when + 45)]))
        if rng.random() < 0.05:
            other = rng.randrange(size)
            apart, slack = days[other] - when, rng.randint(0, 50)
            if other != number:
                statements.append(Difference(f"t{number}", thing, things[other], apart - slack, apart + slack))
    rng.shuffle(statements)
    return things, statements


@pytest.mark.parametrize("seed", range(30))
def test_arrays_equal_plain_propagation_on_albums(seed):
    things, statements = album(random.Random(seed), 250)
    found = in_arrays(things, statements)
    assert found is not None
    assert found == plainly(things, statements)


@pytest.mark.parametrize("seed", range(6))
def test_solve_takes_many_statements_and_finds_the_same_contradiction(seed):
    rng = random.Random(seed)
    things, statements = album(rng, 600)
    assert len(statements) > 500
    assert solve(things, statements) == plainly(things, statements)
    wrong = Difference("wrong", things[400], things[100], 1, None)
    network = Network(things)
    told = [network.add(said) for said in [*statements, wrong]]
    assert solve(things, [*statements, wrong]) == told[-1]
    assert isinstance(told[-1], Contradiction)


def test_days_too_large_for_the_arrays_are_solved_all_the_same():
    things = [f"p{number}" for number in range(600)]
    statements = [Difference(f"o{a}", a, b, 10**18, None) for a, b in pairwise(things)]
    statements.append(Between("b", "p0", 5, None))
    assert in_arrays(things, statements) is None
    assert solve(things, statements).ranges["p599"] == (599 * 10**18 + 5, None)


def test_a_path_that_no_chain_follows_is_solved_all_the_same():
    """Every thing has a second tie before the one that the path takes, so each step is a round of its own."""
    rng = random.Random(3)
    things = [f"p{number}" for number in range(3000)]
    rng.shuffle(things)
    statements = [Between("b", things[0], 0, None)]
    for a, b in pairwise(things):
        statements += [Difference(f"n{a}", b, a, -5, None), Difference(f"o{a}", a, b, 2, None)]
    assert solve(things, statements) == plainly(things, statements)


# -- reasons -------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("seed", range(20))
def test_reasons_are_irreducible_either_way(seed):
    rng = random.Random(seed)
    for _ in range(60):
        things = [f"t{number}" for number in range(rng.randint(2, 7))]
        statements = random_case(rng, things=things, most=3 * len(things), holes=True)
        for found in (plainly(things, statements), in_arrays(things, statements)):
            if found is not None:
                for thing in things:
                    check_reasons(thing, found, statements)


def check_reasons(thing, found, statements):
    why = reasons_of(thing, found)
    for side, ids in enumerate((why.earliest, why.latest)):
        needed = [said for said in statements if said.id in ids]
        assert len(needed) == len(ids)
        assert bound(thing, side, needed) == found.ranges[thing][side]
        for gone in needed:
            assert bound(thing, side, [said for said in needed if said is not gone]) != found.ranges[thing][side]


def bound(thing, side, statements):
    names = {name for said in statements for name in things_of(said)}
    return plainly([thing, *(names - {thing})], statements).ranges[thing][side]


@pytest.mark.parametrize("seed", range(5))
def test_reasons_in_an_album_are_irreducible_either_way(seed):
    things, statements = album(random.Random(seed), 60)
    for found in (plainly(things, statements), in_arrays(things, statements)):
        for thing in things[::7]:
            check_reasons(thing, found, statements)


def test_a_statement_that_holes_made_needless_is_not_a_reason():
    """The winter of 1952 is not needed for 1 June: the summer begins no earlier whatever came before."""
    statements = [
        Between("after", "x", day(1952, 9, 10), None),
        Between("loose", "x", day(1940, 1, 1), day(1960, 1, 1)),
        Months("summer", "x", {6, 7, 8}),
    ]
    assert set(reasons_of("x", plainly(["x"], statements)).earliest) == {"after", "summer"}
