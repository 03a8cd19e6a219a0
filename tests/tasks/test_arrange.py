"""Laying prints in order, piling them, putting them into another envelope: many at once, in one act."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from small_prints import number, prints_in, said, state

from solander.core.errors import InvalidValue, NotFound
from solander.core.statements import Says
from solander.tasks.arrange import lay, pile, put_back, put_into
from solander.tasks.collection import Collection
from solander.tasks.put_in_order import timeline
from solander.tasks.standing import keep_all

A, B, C, D, E, F = (number(i) for i in range(1, 7))


@pytest.fixture
def box(tmp_path: Path) -> Iterator[Collection]:
    """Six prints in one envelope, three in another."""
    with prints_in(tmp_path / "box", {"B2/E5": 6, "B2/E6": 3}) as collection:
        yield collection


def order(collection: Collection) -> list[str]:
    return [placed.thing for placed in timeline(collection).placed]


def pairs(collection: Collection) -> set[tuple[str, str]]:
    return {(one.subject, one.value) for one in collection.catalogue.laid()}


def test_a_run_laid_between_two_dated_prints_is_dated_and_ordered_by_them(box: Collection) -> None:
    state(box, [(A, Says.EXPOSURE, "1936-05-01"), (B, Says.EXPOSURE, "1936-05-09")])
    done = lay(box, [E, C, D], after=A, before=B)
    line = timeline(box)
    assert done.prints == 3
    assert [one for one in order(box) if one in {A, B, C, D, E}] == [A, E, C, D, B]
    first, last = line.solution.ranges[C]
    assert (last - first) == 8, "no earlier than the one before, no later than the one after"
    assert box.catalogue.last_act() == (done.act, f"laid 3 prints after {A} and before {B}")


def test_a_print_of_another_envelope_can_be_laid_after_one_of_this(box: Collection) -> None:
    other = number(1, "B2/E6")
    state(box, [(B, Says.EXPOSURE, "1951-06-02"), (A, Says.EXPOSURE, "1936")])
    lay(box, [other], after=B)
    assert order(box).index(other) > order(box).index(B)


def test_laying_again_replaces_what_was_laid_and_closes_the_gap(box: Collection) -> None:
    lay(box, [B, C], after=A, before=D)
    lay(box, [B], after=D)
    assert pairs(box) == {(C, A), (D, C), (B, D)}
    withdrawn = [one for one in box.catalogue.statements(subject=B, withdrawn=True) if one.withdrawn]
    assert [one.words for one in withdrawn] == [f"after {A}"], "nothing is overwritten"
    box.catalogue.undo("test")
    assert pairs(box) == {(B, A), (C, B), (D, C)}


def test_an_order_that_was_laid_the_other_way_round_is_refused(box: Collection) -> None:
    lay(box, [B, C], after=A, source="Aunt Signe")
    with pytest.raises(InvalidValue, match="the other way round"):
        lay(box, [D], after=C, before=A)
    assert lay(box, [D], after=A, before=C).act is not None


def test_a_date_that_says_otherwise_is_told_as_a_contradiction(box: Collection) -> None:
    state(box, [(A, Says.EXPOSURE, "1951"), (B, Says.EXPOSURE, "1936")])
    lay(box, [B], after=A)
    (clash,) = timeline(box).clashes
    assert clash.left_out.reason.sentence == f"{B} was laid after {A}"


@pytest.mark.parametrize(
    ("how", "says"),
    [
        ({}, "not said after or before which"),
        ({"after": A}, "can't lie after itself"),
        ({"after": B, "before": B}, "can't lie after itself"),
        ({"after": "B9-0001"}, "There is no print B9-0001"),
    ],
)
def test_what_cannot_be_laid_is_refused(box: Collection, how: dict[str, str], says: str) -> None:
    with pytest.raises((InvalidValue, NotFound), match=says):
        lay(box, [A], **how)  # type: ignore[arg-type]
    assert pairs(box) == set()


def test_a_pile_makes_the_occasion_or_goes_into_the_one_of_that_name(box: Collection) -> None:
    assert pile(box, [A, B], "School outing").prints == 2
    pile(box, [C], " School  outing")
    assert [said(box, one, Says.OCCASION) for one in (A, B, C, D)] == [["School outing"]] * 3 + [[]]


def test_paper_put_into_another_envelope_keeps_its_number_and_comes_back(box: Collection) -> None:
    put_into(box, [A, B], "b2-e9")
    assert box.catalogue.print(A).container == "B2/E5"
    assert said(box, A, Says.KEPT_IN) == ["B2/E9"]
    assert box.catalogue.container("B2/E9") is not None, "it is made where there is none"
    put_into(box, [A], "B2/E5")
    assert said(box, A, Says.KEPT_IN) == [], "it lies where it was found"
    done = put_back(box, [A, B])
    assert (done.prints, said(box, B, Says.KEPT_IN)) == (1, [])
    assert box.catalogue.last_act() == (done.act, f"put {B} back where it was found")
    box.catalogue.undo("test")
    assert said(box, B, Says.KEPT_IN) == ["B2/E9"]


@pytest.mark.slow
def test_a_thousand_prints_are_laid_and_moved_each_time_in_one_act(tmp_path: Path) -> None:
    """How long that takes is measured by benchmarks/arrange.py."""
    with prints_in(tmp_path / "box", {"B2/E5": 1002}) as box:
        first, *every, last = [number(i) for i in range(1, 1003)]
        for step in (
            lambda: lay(box, every, after=first, before=last),
            lambda: lay(box, every[::-1], after=first, before=last),
            lambda: put_into(box, every, "B3/E1"),
            lambda: put_back(box, every),
            lambda: pile(box, every, "Everything"),
        ):
            assert step().act is not None


def test_the_table_lays_a_print_where_its_paper_is_now(box: Collection) -> None:
    put_into(box, [A], "B2/E6")
    keep_all(box)
    assert {box.catalogue.standings_of([one])[one].container for one in (A, B)} == {"B2/E6", "B2/E5"}
