"""The total order: by best guess, by what precedes, then as things came."""

from __future__ import annotations

import random
from itertools import pairwise

from hypothesis import given, settings
from hypothesis import strategies as st

from solander.core.chronology import Between, Difference, Network, Pieces, Placed, put_in_order
from solander.core.chronology.guess import Chain, Guess, best_guesses


def guessed(**days):
    return {thing: Guess(when, when, when) for thing, when in days.items()}


def ordered(things, guesses, *, precedes=(), accession=None):
    solution = Network(things).solution()
    placed = put_in_order(things, solution, guesses=guesses, precedes=precedes, accession=accession)
    return [one.thing for one in placed]


def test_best_day_then_what_precedes_then_accession_then_the_undated():
    days = guessed(a=5, b=5, c=5, d=2)
    assert ordered("zabcdy", days) == list("dabczy")
    assert ordered("zabcdy", days, precedes=[("c", "a")]) == list("dbcazy")
    assert ordered("zabcdy", days, accession=dict(zip("zabcdy", "654321", strict=True))) == list("dcbayz")


def test_things_of_one_day_by_circle_stay_on_their_day():
    circle = [("b", "a"), ("a", "b")]
    assert ordered("abcd", guessed(a=1, b=1, c=1, d=2), precedes=circle) == list("cabd")


def test_a_guess_moves_on_to_what_precedes_it_and_its_range_with_it():
    solution = Network("abc").solution()
    guesses = {"a": Guess(9, 7, 11), "b": Guess(4, 2, 6), "c": Guess(5, 5, 5)}
    placed = put_in_order("abc", solution, guesses=guesses, precedes=[("a", "b")])
    assert placed == [Placed("c", Guess(5, 5, 5)), Placed("a", Guess(9, 7, 11)), Placed("b", Guess(9, 2, 9))]
    assert [one.guess for one in placed] == [5, 9, 9]


def test_a_guess_that_moves_on_keeps_out_of_holes():
    network = Network("ab")
    assert network.add(Pieces("s", "b", [(1, 4), (20, 30)])) is None
    guesses = {"a": Guess(9, 9, 9), "b": Guess(3, 2, 4)}
    placed = put_in_order("ab", network.solution(), guesses=guesses, precedes=[("a", "b")])
    assert placed[1] == Placed("b", Guess(20, 2, 20))


@given(st.integers(0, 10**6))
@settings(max_examples=60, deadline=None)
def test_nothing_comes_before_what_precedes_it(seed):
    rng = random.Random(seed)
    things = [f"t{number}" for number in range(rng.randint(2, 20))]
    truth = {thing: rng.randint(1, 6) for thing in things}
    pairs = [(a, b) for a in things for b in things if truth[a] < truth[b] and rng.random() < 0.2]
    pairs += [(a, b) for a, b in pairwise(things) if truth[a] == truth[b]]
    guesses = {thing: Guess(day, day, day) for thing in things if (day := rng.randint(1, 6)) < 6}
    places = {thing: place for place, thing in enumerate(ordered(things, guesses, precedes=pairs))}
    assert len(places) == len(things)
    assert all(places[a] < places[b] for a, b in pairs if a in guesses and b in guesses)


def family(rng, name):
    """A chain of things with some dates, all of which are true."""
    things = [f"{name}{number}" for number in range(rng.randint(1, 8))]
    truth = dict(zip(things, sorted(rng.randint(700_000, 702_000) for _ in things), strict=True))
    said = [Difference(f"order {a}", a, b, 0, None) for a, b in pairwise(things)]
    spread = rng.choice([0, 30, 365])
    said += [
        Between(f"date {thing}", thing, when - spread, when + spread)
        for thing, when in truth.items()
        if rng.random() < 0.4
    ]
    return truth, said, Chain(tuple(things), (True,) * (len(things) - 1))


def placed_of(families, extra=()):
    things = [thing for truth, _, _ in families for thing in truth]
    network = Network(things)
    for said in [*(said for one in families for said in one[1]), *extra]:
        assert network.add(said) is None
    solution = network.solution()
    guesses = best_guesses(solution, [chain for _, _, chain in families])
    return [one.thing for one in put_in_order(things, solution, guesses=guesses, precedes=network.precedes())]


@given(st.integers(0, 10**6))
@settings(max_examples=30, deadline=None)
def test_an_edit_changes_no_order_among_what_it_is_not_tied_to(seed):
    """A date more in one chain, or a whole chain less."""
    rng = random.Random(seed)
    families = [family(rng, name) for name in "abcd"]
    others = [thing for truth, _, _ in families[1:] for thing in truth]
    before = [thing for thing in placed_of(families) if thing in others]
    edited, when = rng.choice(list(families[0][0].items()))
    after = placed_of(families, [Between("edit", edited, when, when)])
    assert [thing for thing in after if thing in others] == before
    assert placed_of(families[1:]) == before
