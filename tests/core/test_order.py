"""What a best guess follows where the range says little."""

from solander.core.chronology import Between, Difference, Network, put_in_order
from solander.core.days import day

THINGS = ("a", "b", "b printing")


def guesses(*statements, things=THINGS, **how):
    network = Network(things)
    for said in statements:
        assert network.add(said) is None
    placed = put_in_order(things, network.solution(), precedes=network.precedes(), **how)
    return {one.thing: one.guess for one in placed}


def test_a_lifetime_tells_little_so_neighbours_draw_the_guess() -> None:
    year = Between("s1", "a", day(1958, 1, 1), day(1958, 12, 31), "dated")
    life = Between("s2", "b", day(1908, 1, 1), day(1991, 12, 31), "alive")
    drawn = guesses(year, life, neighbours={"b": ["a"]})
    assert drawn["b"] == drawn["a"]
    alone = guesses(year, life)
    assert day(1948, 1, 1) < alone["b"] < day(1952, 1, 1)


def test_a_picture_leans_to_its_printing_within_what_is_known() -> None:
    printed = Between("s1", "b printing", day(1959, 9, 1), day(1959, 9, 30), "stamp")
    before = Difference("s2", "b", "b printing", 0, None, "taken before printed")
    life = Between("s3", "b", day(1908, 1, 1), day(1957, 12, 31), "alive")
    leaning = {"b": "b printing"}
    assert (
        guesses(printed, before, leaning=leaning)["b"] == guesses(printed, before, leaning=leaning)["b printing"]
    )
    assert guesses(printed, before, life, leaning=leaning)["b"] == day(1957, 12, 31)
