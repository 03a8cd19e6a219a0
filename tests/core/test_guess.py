"""Best guesses keep to what the solver allows, to the known order and to their own chain."""

from __future__ import annotations

import random
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from solander.core.chronology import Between, Difference, Pieces, Solution, solve
from solander.core.chronology import guess as guess_module
from solander.core.chronology.guess import Chain, Guess, Guesser, Weight, best_guesses
from solander.core.chronology.kernels import belief_before
from solander.core.chronology.parts import parts_of
from solander.core.days import day
from solander.core.errors import InvalidValue

YEAR_1958 = (day(1958, 1, 1), day(1958, 12, 31))


def solved(things, *statements):
    found = solve(things, statements)
    assert isinstance(found, Solution)
    return found


def in_order(things):
    return [Difference(f"order {a}", a, b, 0, None) for a, b in pairwise(things)]


def chain(things, ordered=True):
    return Chain(tuple(things), (ordered,) * (len(things) - 1))


def allows(solution, thing, when):
    first, last = solution.ranges[thing]
    if not ((first is None or first <= when) and (last is None or when <= last)):
        return False
    pieces = solution.pieces.get(thing)
    return pieces is None or any(a <= when <= b for a, b in pieces)


# -- single things -------------------------------------------------------------------------------------------


def test_a_year_alone_gives_its_middle_and_nine_tenths_of_its_days():
    found = best_guesses(solved(["a"], Between("s", "a", *YEAR_1958)), [])
    assert found == {"a": Guess(day(1958, 7, 2), day(1958, 1, 19), day(1958, 12, 13))}


def test_nothing_known_gives_no_guess():
    solution = solved(["a", "b", "c"], Between("s", "a", *YEAR_1958), *in_order("bc"))
    assert best_guesses(solution, [chain("bc")]).keys() == {"a"}


def test_one_bound_gives_a_guess_some_years_beyond_it():
    solution = solved("ab", Between("s", "a", None, YEAR_1958[1]), Between("t", "b", YEAR_1958[0], None))
    found = best_guesses(solution, [])
    assert day(1950, 1, 1) < found["a"].day < day(1953, 1, 1)
    assert found["a"].first < day(1930, 1, 1)
    assert found["a"].last < YEAR_1958[1]
    assert day(1963, 1, 1) < found["b"].day < day(1966, 1, 1)


def test_a_guess_lies_in_a_stretch_never_in_a_hole():
    summers = [(day(year, 6, 1), day(year, 8, 31)) for year in (1950, 1960)]
    found = best_guesses(solved(["a"], Pieces("s", "a", summers)), [])
    assert found["a"].day == summers[0][1]
    assert found["a"].first == day(1950, 6, 10)


# -- chains --------------------------------------------------------------------------------------------------


def test_neighbours_draw_an_undated_print():
    things = [f"p{number}" for number in range(9)]
    solution = solved(things, *in_order(things), Between("s", "p4", day(1958, 5, 1), day(1958, 5, 31)))
    found = best_guesses(solution, [chain(things)])
    assert found.keys() == set(things)
    assert day(1957, 9, 1) < found["p3"].day <= day(1958, 5, 31) <= found["p5"].last
    assert found["p8"].last - found["p8"].first > found["p5"].last - found["p5"].first


def test_a_known_day_stays_that_day():
    things = [f"p{number}" for number in range(40)]
    known = {"p3": day(1931, 2, 28), "p20": day(1946, 7, 9), "p33": day(1962, 12, 31)}
    solution = solved(
        things, *in_order(things), *(Between(f"s{thing}", thing, when, when) for thing, when in known.items())
    )
    found = best_guesses(solution, [chain(things)])
    assert {thing: found[thing] for thing in known} == {
        thing: Guess(*(when,) * 3) for thing, when in known.items()
    }


@pytest.mark.parametrize("ordered", [True, False])
def test_a_chain_turned_round_in_time_gives_the_guesses_turned_round(ordered):
    """Days mirrored in time, the sequence reversed: a week's cells lie otherwise, so days may differ by some."""
    things, origin = [f"p{number}" for number in range(12)], day(1950, 1, 1)
    spans = {"p1": (0, 20), "p5": (40, 90), "p9": (70, 200)}
    there = [Between(thing, thing, origin + a, origin + b) for thing, (a, b) in spans.items()]
    back = [Between(thing, thing, origin - b, origin - a) for thing, (a, b) in spans.items()]
    order = in_order(things) if ordered else []
    turned = in_order(things[::-1]) if ordered else []
    forward = best_guesses(solved(things, *there, *order), [chain(things, ordered)])
    mirrored = best_guesses(solved(things, *back, *turned), [chain(things[::-1], ordered)])
    for thing in things:
        assert forward[thing].day - origin == pytest.approx(origin - mirrored[thing].day, abs=8)


def test_a_known_order_that_does_not_fit_is_one_of_neighbours():
    solution = solved("ab", Between("s", "a", *YEAR_1958), Between("t", "b", day(1930, 1, 1), day(1931, 1, 1)))
    found = best_guesses(solution, [chain("ab")])
    assert all(allows(solution, thing, found[thing].day) for thing in "ab")


def test_two_prints_of_an_envelope_need_not_be_of_one_occasion():
    """With nothing that tells which, the second may be years later, but most likely is not."""
    winter = Between("s", "a", day(1932, 12, 1), day(1933, 2, 28))
    solution = solved("ab", winter, Between("t", "b", None, day(1939, 8, 31)), *in_order("ab"))
    found = best_guesses(solution, [chain("ab")])["b"]
    assert found.day < day(1934, 6, 1)
    assert day(1936, 3, 1) < found.last <= day(1939, 8, 31)


def test_more_things_of_a_chain_are_more_likely_of_occasions():
    for ordered in (True, False):
        before = [belief_before(things, ordered=ordered) for things in (2, 8, 16, 200)]
        assert [one.sum() for one in before] == pytest.approx([1, 1, 1, 1])
        assert [one[-4:].sum() for one in before] == pytest.approx([0.5, 0.5, 0.807, 0.908], abs=0.001)


# -- soft evidence -------------------------------------------------------------------------------------------


def weight(thing, first, last, trust=0.9):
    return Weight(thing, day(first, 1, 1), day(first, 6, 1), day(last, 6, 1), day(last, 12, 31), trust)


def test_soft_evidence_draws_and_gives_way():
    life = Between("s", "a", day(1908, 1, 1), day(1991, 12, 31))
    drawn = best_guesses(solved(["a"], life), [], weights=[weight("a", 1950, 1955)])
    assert day(1951, 1, 1) < drawn["a"].day < day(1955, 1, 1)
    dated = best_guesses(solved(["a"], Between("s", "a", *YEAR_1958)), [], weights=[weight("a", 1920, 1925)])
    assert YEAR_1958[0] <= dated["a"].first <= dated["a"].day <= dated["a"].last <= YEAR_1958[1]


def test_more_trust_gives_a_narrower_range():
    life = Between("s", "a", day(1908, 1, 1), day(1991, 12, 31))
    widths = [
        (found := best_guesses(solved(["a"], life), [], weights=[weight("a", 1950, 1955, trust)])["a"]).last
        - found.first
        for trust in (0.5, 0.8, 0.99)
    ]
    assert widths == sorted(widths, reverse=True)
    assert widths[0] > 4 * widths[2]


def test_soft_evidence_alone_is_enough_for_a_guess_and_draws_the_chain():
    solution = solved("abc", *in_order("abc"))
    found = best_guesses(solution, [chain("abc")], weights=[weight("b", 1950, 1955)])
    assert found["a"].day <= found["b"].day <= found["c"].day
    assert day(1950, 1, 1) < found["b"].day < day(1956, 1, 1)


@pytest.mark.parametrize(
    "said",
    [
        lambda: Weight("a", None, 1, 2, None, 0.9),
        lambda: Weight("a", 5, 4, 6, 7, 0.9),
        lambda: Weight("a", 1, 2, 3, 4, 0.0),
        lambda: Chain(("a", "b"), ()),
    ],
)
def test_what_can_not_be_true_is_not_built(said):
    with pytest.raises(InvalidValue):
        said()


def test_a_thing_in_two_chains_or_unknown_is_refused():
    solution = solved("ab", Between("s", "a", *YEAR_1958))
    with pytest.raises(InvalidValue, match="in a chain twice"):
        best_guesses(solution, [chain("ab"), Chain(("a",), ())])
    with pytest.raises(InvalidValue, match="no such thing"):
        best_guesses(solution, [chain("ax")])
    with pytest.raises(InvalidValue, match="no such thing"):
        best_guesses(solution, [], weights=[weight("x", 1950, 1951)])


# -- properties ----------------------------------------------------------------------------------------------


def made_up(rng, prefix, *, known):
    """A chain of prints, true days over some years, some of them said truly in many ways; of a share of its gaps
    the order is known."""
    things = [f"{prefix}{number}" for number in range(rng.randint(1, 14))]
    start, spread = rng.randint(day(1900, 1, 1), day(1980, 1, 1)), rng.choice([20, 300, 3000, 12_000])
    days = [start + rng.randint(0, spread) for _ in things]
    truth = dict(zip(things, sorted(days) if known else days, strict=True))
    ordered = tuple(rng.random() < known for _ in things[1:])
    statements = [said for said, told in zip(in_order(things), ordered, strict=True) if told]
    statements += [said for thing in things if (said := made_statement(rng, thing, truth[thing])) is not None]
    return truth, statements, Chain(tuple(things), ordered)


def made_statement(rng, thing, when):
    before, after = rng.choice([0, 5, 40, 800]), rng.choice([0, 5, 40, 800])
    kind = rng.random()
    if kind < 0.2:
        return Between(f"date {thing}", thing, when - before, when + after)
    if kind < 0.35:
        return Between(f"date {thing}", thing, *rng.choice([(when - before, None), (None, when + after)]))
    if kind < 0.5:
        years = (-730, -365, 0, 365)
        return Pieces(f"date {thing}", thing, [(when - 20 + year, when + 40 + year) for year in years])
    return None


@given(st.integers(0, 10**6), st.sampled_from([0.0, 0.7, 1.0]))
@settings(max_examples=100, deadline=None)
def test_guesses_keep_to_what_is_allowed_and_to_the_order(seed, known):
    rng = random.Random(seed)
    truth, statements, made = made_up(rng, "p", known=known)
    solution = solved(list(truth), *statements)
    weights = [weight(thing, 1940, 1950) for thing in truth if rng.random() < 0.2]
    found = best_guesses(solution, [made], weights=weights)
    assert found.keys() == set(truth) or not found
    for thing, guess in found.items():
        assert guess.first <= guess.day <= guess.last
        assert all(allows(solution, thing, when) for when in (guess.first, guess.day, guess.last))
    for (a, b), ordered in zip(pairwise(found.values()), made.ordered, strict=bool(found)):
        if ordered:
            assert a.day <= b.day
            assert a.first <= b.first
            assert a.last <= b.last


@given(st.integers(0, 10**6))
@settings(max_examples=25, deadline=None)
def test_an_edit_in_one_chain_changes_no_other(seed):
    rng = random.Random(seed)
    several = [made_up(rng, f"c{number}-", known=rng.choice([0, 0.7, 1])) for number in range(5)]
    truth = {thing: when for made in several for thing, when in made[0].items()}
    statements = [said for made in several for said in made[1]]
    chains = [made[2] for made in several]
    before = best_guesses(solved(list(truth), *statements), chains)
    edited = rng.choice(chains[0].things)
    statements.append(Between("edit", edited, truth[edited], truth[edited]))
    after = best_guesses(solved(list(truth), *statements), chains)
    others = [thing for thing in truth if thing not in chains[0].things]
    assert {thing: before.get(thing) for thing in others} == {thing: after.get(thing) for thing in others}


# -- again and again -----------------------------------------------------------------------------------------


def edited(rng, made, statements, weights):
    """Another date, or one less; a weight more; a chain less, or one of which the order is no longer known."""
    kind = rng.randrange(5)
    if kind == 0 and statements:
        statements.pop(rng.randrange(len(statements)))
    elif kind == 1:
        weights.append(weight(rng.choice(rng.choice(made).things), 1940, 1950, rng.choice([0.6, 0.9])))
    elif kind == 2 and weights:
        weights.pop()
    elif kind == 3 and len(made) > 1:
        made.pop(rng.randrange(len(made)))
    else:
        place = rng.randrange(len(made))
        made[place] = Chain(made[place].things, (False,) * len(made[place].ordered))


@pytest.mark.slow
@given(st.integers(0, 10**6))
@settings(max_examples=25, deadline=None)
def test_a_guesser_guesses_after_edits_as_one_that_knows_nothing_yet(seed):
    rng = random.Random(seed)
    several = [made_up(rng, f"c{number}-", known=rng.choice([0, 0.7, 1])) for number in range(4)]
    things = [thing for made in several for thing in made[0]]
    statements = [said for made in several for said in made[1]]
    chains, weights, guesser = [made[2] for made in several], [], Guesser()
    for _ in range(6):
        solution = solved(things, *statements)
        asked = rng.sample(things, rng.randint(1, len(things))) if rng.random() < 0.3 else None
        found = guesser.guesses(solution, chains, weights=weights, things=asked)
        assert found == best_guesses(solution, chains, weights=weights, things=asked)
        assert list(found) == [thing for thing in asked or things if thing in found]
        edited(rng, chains, statements, weights)


def test_only_chains_that_changed_are_worked_out_and_others_forgotten(monkeypatch):
    worked = []
    monkeypatch.setattr(
        guess_module, "parts_of", lambda *given: worked.append(given[1].things) or parts_of(*given)
    )
    dated = [Between("s", "a", *YEAR_1958), Between("t", "c", *YEAR_1958)]
    solution, guesser = solved("abcd", *dated), Guesser()
    guesser.guesses(solution, [chain("ab"), chain("cd")])
    assert worked == [("a", "b"), ("c", "d")]
    changed = solved("abcd", *dated, Between("edit", "d", YEAR_1958[0], YEAR_1958[0]))
    guesser.guesses(changed, [chain("ab"), chain("cd")])
    assert worked[2:] == [("c", "d")]
    guesser.guesses(changed, [chain("cd")])
    assert (worked[3:], len(guesser)) == ([], 1)
    guesser.guesses(changed, [chain("ab"), chain("cd")])
    assert worked[3:] == [("a", "b")]
