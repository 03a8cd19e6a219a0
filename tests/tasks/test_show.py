"""What pages read of a collection is right without any page waiting for the order of many prints."""

from __future__ import annotations

import pytest
from attrs import define
from told_prints import say, take_in

from solander.core.standing import Whole
from solander.core.statements import Says
from solander.tasks import show
from solander.tasks.behind import Behind
from solander.tasks.collection import Collection
from solander.tasks.described import described
from solander.tasks.standing import keep_all


@pytest.fixture
def worked_out(monkeypatch: pytest.MonkeyPatch) -> list[Collection]:
    """Grows by one each time that the whole order is worked out while a page waits."""
    times: list[Collection] = []

    def counted(collection: Collection) -> Whole:
        times.append(collection)
        return keep_all(collection)

    monkeypatch.setattr(show, "keep_all", counted)
    return times


@define
class Begun(Behind):
    """Stands in the place of the process that works the order out."""

    times: int = 0

    def start(self) -> None:
        self.times += 1


def test_one_order_serves_all_pages_until_something_is_said_of_time(
    collection: Collection, worked_out: list[Collection]
) -> None:
    shown = show.Shown(collection)
    assert (list(shown.described()), list(shown.worth_asking()), list(shown.mends())) == ([], [], [])
    first, second = take_in(collection, "B1", 2)
    say(collection, first, Says.EXPOSURE, "1950")
    assert list(shown.described()) == described(collection)
    assert shown.worth_asking()[0].subject == second
    assert shown.worth_asking()[0].gain.startswith("would date ")
    shown.described(), shown.mends()
    assert len(worked_out) == 2
    say(collection, second, Says.CAPTION, "On the pier")
    say(collection, second, Says.NOTE, "torn")
    assert list(shown.described()) == described(collection)
    assert shown.is_settled


def test_no_page_waits_for_the_order_of_many_prints(
    collection: Collection, worked_out: list[Collection], monkeypatch: pytest.MonkeyPatch
) -> None:
    numbers = take_in(collection, "B1", 5)
    say(collection, numbers[0], Says.EXPOSURE, "1950")
    shown = show.Shown(collection)
    shown.settle()
    monkeypatch.setattr(show, "FEW", 3)
    shown.behind = begun = Begun(collection.root)
    say(collection, numbers[3], Says.EXPOSURE, "1938")
    shown.settle()
    assert len(worked_out) == 1
    assert begun.times == 1
    assert not shown.is_settled
    (right,) = shown.some([numbers[3]])
    assert right.when.words == "1938"
    assert right.when.reasons


def test_what_tells_nothing_of_time_sets_nobody_to_work(
    collection: Collection, monkeypatch: pytest.MonkeyPatch
) -> None:
    numbers = take_in(collection, "B1", 5)
    shown = show.Shown(collection)
    shown.settle()
    monkeypatch.setattr(show, "FEW", 3)
    shown.behind = begun = Begun(collection.root)
    say(collection, numbers[3], Says.NOTE, "torn")
    shown.settle()
    assert (begun.times, shown.is_settled) == (0, True)


def test_a_picture_that_is_not_there_has_no_file(collection: Collection) -> None:
    assert show.Shown(collection).thumb_path("0" * 32) is None
