"""Statements taken back, as if they had never been said, and which of them mends most."""

from __future__ import annotations

import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from solander.core.chronology import (
    Between,
    Difference,
    Mend,
    Months,
    Network,
    Pieces,
    mends,
    mends_most,
    reasons_of,
    solve,
)
from solander.core.chronology.contradictions import things_of
from solander.core.errors import InvalidValue

THINGS = [f"t{number}" for number in range(6)]

days = st.one_of(st.none(), st.integers(-8, 12))


@st.composite
def statement(draw, number):
    ident, kind = f"s{number}", draw(st.sampled_from(["diff", "diff", "diff", "between", "pieces", "months"]))
    if kind == "diff":
        a, b = draw(st.permutations(THINGS))[:2]
        return Difference(ident, a, b, *ordered(draw(days), draw(days)))
    x = draw(st.sampled_from(THINGS))
    if kind == "between":
        return Between(ident, x, *ordered(draw(days), draw(days)))
    if kind == "months":
        return Months(ident, x, draw(st.sets(st.integers(1, 12), min_size=3, max_size=9)))
    ends = sorted(draw(st.lists(st.integers(0, 40), min_size=4, max_size=4, unique=True)))
    return Pieces(ident, x, [ends[:2], [ends[2], draw(st.sampled_from([None, ends[3]]))]])


def ordered(least, most):
    return (most, least) if least is not None and most is not None and least > most else (least, most)


@st.composite
def sessions(draw):
    """What is said one after another, and where something said before is taken back."""
    said = [draw(statement(number)) for number in range(draw(st.integers(1, 16)))]
    return said, draw(st.lists(st.integers(0, 10**6), min_size=len(said), max_size=len(said)))


@pytest.mark.slow
@settings(max_examples=600, deadline=None)
@given(sessions())
def test_a_withdrawn_statement_was_never_said(session):
    said, taken_back = session
    network = Network(THINGS)
    for each, draw in zip(said, taken_back, strict=True):
        network.add(each)
        if network.statements and draw % 2:
            network.withdraw(network.statements[draw % len(network.statements)].id)
        fresh = solve(THINGS, network.statements)
        assert network.solution() == fresh
    for thing in THINGS:
        check_reasons(thing, network)


def check_reasons(thing, network):
    """No reason names what is gone, and the reasons alone make the bound."""
    found = network.solution()
    here = {each.id: each for each in network.statements}
    why = reasons_of(thing, found)
    for side, ids in enumerate((why.earliest, why.latest)):
        assert solve(THINGS, [here[ident] for ident in ids]).ranges[thing][side] == found.ranges[thing][side]


@pytest.mark.parametrize("seed", range(30))
def test_adding_and_withdrawing_at_random_for_long(seed):
    rng = random.Random(seed)
    things = [f"t{number}" for number in range(12)]
    network = Network(things)
    for number in range(120):
        network.add(random_statement(rng, f"s{number}", things))
        if rng.random() < 0.45:
            network.withdraw(rng.choice(network.statements).id) if network.statements else None
        if number % 10 == 0:
            assert network.solution() == solve(things, network.statements)
    assert network.solution() == solve(things, network.statements)


def random_statement(rng, ident, things, *, holes=True):
    roll = rng.random()
    if roll < 0.55:
        a, b = rng.sample(things, 2)
        return Difference(ident, a, b, *opened(rng, sorted(rng.randint(-10, 15) for _ in range(2))))
    if holes and roll < 0.7:
        ends = sorted(rng.sample(range(40), 6))
        return Pieces(ident, rng.choice(things), [ends[:2], ends[2:4], ends[4:]])
    if holes and roll < 0.74:
        return Months(ident, rng.choice(things), rng.sample(range(1, 13), rng.randint(4, 9)))
    return Between(ident, rng.choice(things), *opened(rng, sorted(rng.randint(0, 30) for _ in range(2))))


def opened(rng, ends):
    side = rng.random()
    return (None if side < 0.3 else ends[0]), (None if side > 0.7 else ends[1])


def test_what_was_refused_can_be_added_when_its_contradiction_is_gone():
    network = Network(["a", "b"])
    assert network.add(Between("wrong", "a", 100, 100)) is None
    assert network.add(Difference("order", "a", "b", 0, None)) is None
    right = Between("right", "b", 50, 50)
    assert network.add(right).conflict == ("wrong", "order", "right")
    assert network.withdraw("wrong") == Between("wrong", "a", 100, 100)
    assert network.add(right) is None
    assert network.solution().ranges == {"a": (None, 50), "b": (50, 50)}
    assert network.add(Between("wrong", "a", 40, 45)) is None


def test_withdrawing_what_is_not_there_is_refused_and_changes_nothing():
    network = Network(["a"])
    network.add(Between("s1", "a", 1, 2))
    before = network.solution()
    with pytest.raises(InvalidValue, match="s9"):
        network.withdraw("s9")
    with pytest.raises(InvalidValue, match="s9"):
        network.without("s9", [])
    assert network.solution() == before


def test_looking_ahead_changes_nothing():
    rng = random.Random(4)
    for _ in range(60):
        network = Network(THINGS)
        left_out = [said for said in said_of(rng, 14) if network.add(said) is not None]
        before, reasons = network.solution(), [reasons_of(thing, network.solution()) for thing in THINGS]
        for said in network.statements:
            network.without(said.id, left_out)
        for said in left_out:
            assert network.contradiction_of(said) is not None
        assert network.solution() == before
        assert [reasons_of(thing, network.solution()) for thing in THINGS] == reasons
        for said in network.statements:
            network.withdraw(said.id)
        assert set(network.solution().ranges.values()) == {(None, None)}


def said_of(rng, count, *, holes=True):
    return [random_statement(rng, f"s{number}", THINGS, holes=holes) for number in range(count)]


# -- what mends most -----------------------------------------------------------------------------------------


def by_trying_all(statements, firm=()):
    """Every withdrawal tried from scratch."""
    network = Network(THINGS)
    left_out = [said for said in statements if network.add(said) is not None]
    found = []
    for place, gone in enumerate(network.statements):
        rest = Network(THINGS)
        assert all(rest.add(said) is None for said in network.statements if said is not gone)
        mended = tuple(said.id for said in left_out if rest.add(said) is None)
        still = tuple(said.id for said in left_out if said.id not in mended)
        if mended and gone.id not in firm:
            found.append((-len(mended), -place, Mend(gone.id, mended, still)))
    return [mend for *_, mend in sorted(found, key=lambda each: each[:2])]


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(12))
def test_mends_equal_trying_every_withdrawal(seed):
    """240 cases, most of them with several contradictions."""
    rng = random.Random(seed)
    contradicting = 0
    for _ in range(20):
        statements = said_of(rng, 22, holes=rng.random() < 0.5)
        expected = by_trying_all(statements)
        contradicting += bool(expected)
        assert mends_most(THINGS, statements, most=100) == expected
        assert mends_most(THINGS, statements, most=2) == expected[:2]
        firm = {mend.id for mend in expected[::2]}
        assert mends_most(THINGS, statements, firm=firm, most=100) == by_trying_all(statements, firm)
    assert contradicting > 10


def test_one_wrong_date_that_shuts_out_three_right_ones():
    order = [Difference(f"o{n}", f"t{n}", f"t{n + 1}", 0, 30) for n in range(4)]
    wrong = Between("wrong", "t0", 20_000, 20_000)
    right = [Between(f"r{n}", f"t{n}", 1000, 1100) for n in (1, 2, 4)]
    network = Network(THINGS)
    left_out = [said for said in [*order, wrong, *right] if network.add(said) is not None]
    assert left_out == right
    assert mends(network, left_out)[0] == Mend("wrong", ("r1", "r2", "r4"), ())
    assert mends(network, left_out)[1] == Mend("o0", ("r1", "r2", "r4"), ())
    assert mends(network, left_out, firm={"wrong", "o0"})[0].mended == ("r2", "r4")


def test_nothing_to_mend():
    assert mends_most(THINGS, [Between("s1", "t1", 1, 2), Between("s2", "t2", 3, 4)]) == []


def test_things_of_names_one_or_two():
    assert things_of(Between("s1", "t1", 1, 2)) == ("t1",)
    assert things_of(Difference("s2", "t1", "t2", 1, 2)) == ("t1", "t2")
