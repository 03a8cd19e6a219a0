"""The rules of the slip, whatever is said in whatever order (the project's own, `design.md` section 2)."""

from __future__ import annotations

import json

from hypothesis import given
from hypothesis import strategies as st

from solander.core.slips import PART_OF, Entry, Part, Slip, slip_of, told_slip
from solander.core.statements import Says, Sure

_NAMES = st.sampled_from(["Ingrid", "Nils", "Ola", "Kari"])
_PLACES = st.sampled_from(["Bergen", "Vessholm"])
_DATES = st.sampled_from(["1958", "1958-22", "1960~"])


def _entry(says: Says, value: str, sure: Sure = Sure.CERTAIN) -> Entry:
    return Entry(says, value, value, sure)


people = st.lists(_NAMES, max_size=4, unique=True).map(lambda some: [_entry(Says.PERSON, one) for one in some])
shared = st.tuples(st.none() | _DATES, st.none() | _PLACES).map(
    lambda both: [
        *([_entry(Says.EXPOSURE, both[0])] if both[0] else []),
        *([_entry(Says.PLACE, both[1])] if both[1] else []),
    ]
)
occasions = st.sampled_from(["Outing", "Wedding"]).map(lambda name: _entry(Says.OCCASION, name))
prints = st.lists(st.sampled_from(["B1-0001", "B1-0002", "B1-0003"]), min_size=1, max_size=2, unique=True)


@st.composite
def slips(draw: st.DrawFn) -> Slip:
    """A slip after a few things were said and a few prints were taken."""
    slip = Slip(draw(st.sampled_from(["", "B1", "B2/E5"])))
    for step in draw(st.lists(st.integers(0, 6), max_size=8)):
        if step == 0:
            slip = slip.at_occasion(draw(occasions), draw(shared))
        elif step == 1:
            slip = slip.with_part(Part.PEOPLE, draw(people))
        elif step == 2:
            slip = slip.with_part(Part.DATE, [_entry(Says.EXPOSURE, draw(_DATES))])
        elif step == 3:
            slip = slip.with_part(Part.PLACE, [_entry(Says.PLACE, draw(_PLACES))])
        elif step == 4:
            slip = slip.heard(draw(st.sampled_from(["a" * 64, "b" * 64])))
        elif step == 5:
            slip = slip.serving(draw(prints))
        else:
            slip = slip.said_since(draw(st.sets(st.sampled_from(list(Part)))))
    return slip


@given(slips(), occasions, shared)
def test_another_occasion_changes_date_and_place_and_leaves_all_else(
    slip: Slip, occasion: Entry, brought: list[Entry]
) -> None:
    then = slip.at_occasion(occasion, brought)
    if occasion.value == slip.occasion:
        assert then == slip
        return
    assert then.occasion == occasion.value
    assert then.date == next((one.value for one in brought if one.says is Says.EXPOSURE), "")
    assert then.place == next((one.value for one in brought if one.says is Says.PLACE), "")
    assert (then.people, then.container, then.not_understood) == (slip.people, slip.container, slip.not_understood)


@given(slips(), people)
def test_other_people_leave_date_place_and_occasion(slip: Slip, others: list[Entry]) -> None:
    then = slip.with_part(Part.PEOPLE, others)
    assert (then.occasion, then.date, then.place) == (slip.occasion, slip.date, slip.place)
    assert list(then.people) == [one.value for one in others]


@given(slips(), people)
def test_more_people_are_added_once_and_those_without_go(slip: Slip, more: list[Entry]) -> None:
    then = slip.and_people(more)
    assert then.people[: len(slip.people)] == slip.people
    assert len(set(then.people)) == len(then.people)
    assert set(then.people) == {*slip.people, *(one.value for one in more)}
    gone = {one.value for one in more}
    assert set(then.without(gone).people) == set(slip.people) - gone


@given(slips())
def test_an_age_goes_with_its_person(slip: Slip) -> None:
    with_age = slip.and_people([_entry(Says.PERSON, "Anna"), _entry(Says.AGE, "Anna|6..6", Sure.LIKELY)])
    left = with_age.without(["Anna"])
    assert all("Anna" not in one.value for one in left.entries)


@given(slips(), prints)
def test_a_print_that_is_taken_is_served_and_changes_nothing_that_is_said(slip: Slip, new: list[str]) -> None:
    then = slip.serving(new)
    assert [one.claim for one in then.entries] == [one.claim for one in slip.entries]
    assert all(one.served[-len(new) :] == tuple(new) for one in then.entries)
    assert all(one.covers[-len(new) :] == tuple(new) for one in then.not_understood)
    assert all(one.asks == () and not one.new for one in then.entries)


@given(slips(), prints)
def test_of_a_part_that_was_said_since_a_sound_tells_nothing_of_later_prints(slip: Slip, new: list[str]) -> None:
    heard = slip.heard("c" * 64).serving(["B1-0007"]).said_since([Part.DATE]).serving(new)
    sound = heard.not_understood[-1]
    assert sound.covered(Part.DATE)[-1] == "B1-0007"
    assert sound.covered(Part.PEOPLE) == sound.covers
    assert not sound.holds(Part.DATE)
    assert sound.holds(Part.PEOPLE)


@given(slips())
def test_clearing_leaves_the_container_and_what_prints_wait_for(slip: Slip) -> None:
    then = slip.cleared()
    assert (then.container, then.entries) == (slip.container, ())
    assert then.not_understood == tuple(one for one in slip.not_understood if one.covers)


@given(slips(), st.sampled_from(list(Part)))
def test_a_part_that_is_dropped_is_gone_and_an_occasion_takes_what_it_shares(slip: Slip, part: Part) -> None:
    then = slip.drop(part)
    assert not then.part(part)
    if part is Part.OCCASION and slip.occasion:
        assert (then.date, then.place) == ("", "")
    if part is Part.CONTAINER:
        assert then.container == ""


@given(slips())
def test_parts_stand_in_the_order_in_which_they_are_read(slip: Slip) -> None:
    order = [list(Part).index(PART_OF[one.says]) for one in slip.entries]
    assert order == sorted(order)


@given(slips())
def test_a_slip_comes_back_as_it_was_kept(slip: Slip) -> None:
    assert slip_of(json.loads(json.dumps(told_slip(slip)))) == slip
