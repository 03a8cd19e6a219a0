"""Bad input: one clear sentence that names the statement, and nothing changes."""

from __future__ import annotations

import pytest

from solander.core.chronology import Between, Contradiction, Difference, Months, Network, Pieces, solve
from solander.core.errors import InvalidValue

FINE = [Between("s1", "x", 0, 10), Difference("s2", "x", "y", 1, None), Months("s3", "y", {6, 7})]

REFUSED = {
    "an unknown thing": (Difference("s9", "x", "z", 0, 1), "Statement s9 speaks of “z”: there is no such thing."),
    "an unknown thing dated": (Between("s9", "z", 0, 1), "Statement s9 speaks of “z”: there is no such thing."),
    "an unknown thing in pieces": (Pieces("s9", "z", [(0, 1)]), "Statement s9 speaks of “z”"),
    "an id that is taken": (Between("s2", "x", 0, 1), "Statement s2 is there twice."),
}


@pytest.mark.parametrize("case", REFUSED)
def test_a_network_names_the_statement_and_stays_as_it_is(case):
    statement, sentence = REFUSED[case]
    network = Network(["x", "y"])
    assert [network.add(said) for said in FINE] == [None] * 3
    before, said_before = network.solution(), network.statements
    for attempt in (network.add, network.contradiction_of):
        with pytest.raises(InvalidValue, match=sentence) as caught:
            attempt(statement)
        assert "\n" not in caught.value.sentence
    assert network.solution() == before
    assert network.statements == said_before


@pytest.mark.parametrize("many", [0, 1000])
@pytest.mark.parametrize("case", REFUSED)
def test_solving_names_the_statement_be_they_few_or_many(case, many):
    statement, sentence = REFUSED[case]
    others = [Difference(f"o{number}", "x", "y", 0, None) for number in range(many)]
    with pytest.raises(InvalidValue, match=sentence):
        solve(["x", "y"], [*FINE, *others, statement])


@pytest.mark.parametrize(
    ("build", "sentence"),
    [
        (lambda: Between("s9", "x", 5, 4), "its interval ends before it begins"),
        (lambda: Difference("s9", "x", "x", 0, 1), "it compares a thing with itself"),
        (lambda: Difference("s9", "x", "y", 2, 1), "its least days are more than its most"),
        (lambda: Months("s9", "x", {0}), "its months are not among 1 to 12"),
        (lambda: Pieces("s9", "x", [(3, 1)]), "a stretch ends before it begins"),
        (lambda: Between("s9", "x", 10**301, None), "its days are beyond belief"),
        (lambda: Difference("s9", "x", "y", None, -(10**301)), "its days are beyond belief"),
        (lambda: Pieces("s9", "x", [(None, 10**301)]), "its days are beyond belief"),
    ],
)
def test_what_cannot_be_true_is_not_built(build, sentence):
    with pytest.raises(InvalidValue, match=f"Statement s9 cannot be true: {sentence}"):
        build()


def test_days_as_large_as_may_be_said_are_solved():
    found = solve(["x", "y"], [Between("s1", "x", 10**300, None), Difference("s2", "x", "y", 10**300, 10**300)])
    assert found.ranges == {"x": (10**300, None), "y": (2 * 10**300, None)}


@pytest.mark.parametrize("many", [3, 1000])
def test_a_circle_of_differences_names_them_and_changes_nothing(many):
    things = [f"t{number}" for number in range(many)]
    chain = [Difference(f"o{n}", things[n], things[n + 1], 0, None) for n in range(many - 1)]
    back = Difference("back", things[-1], things[0], 1, None)
    network = Network(things)
    assert all(network.add(said) is None for said in chain)
    before = network.solution()
    told = network.add(back)
    assert told == Contradiction((*(said.id for said in chain), "back"), 1)
    assert network.solution() == before
    assert solve(things, [*chain, back]) == told
    assert network.add(Between("dated", things[0], 5, None)) is None
    assert network.solution().ranges[things[-1]] == (5, None)
