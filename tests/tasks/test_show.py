"""What pages read of a collection is right without any page waiting for the order of many prints."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from types import SimpleNamespace

import pytest
from attrs import define
from sqlalchemy import URL
from told_prints import say, take_in

from solander.catalogue import database
from solander.catalogue.store import FILE_NAME
from solander.core.errors import Trouble
from solander.core.standing import Arrangement, Whole
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


def test_prints_lie_as_in_their_containers_with_what_is_said_until_the_first_order_is_worked_out(
    collection: Collection, monkeypatch: pytest.MonkeyPatch
) -> None:
    second, first = take_in(collection, "B10", 2), take_in(collection, "B2", 2)
    say(collection, second[0], Says.EXPOSURE, "1950-07")
    say(collection, second[0], Says.PERSON, "Nils")
    monkeypatch.setattr(show, "FEW", 3)
    shown = show.Shown(collection)
    shown.behind = begun = Begun(collection.root)
    shown.settle()
    laid = shown.table.lay(Arrangement.TIME, limit=10)
    assert [one.print.accession for one in laid.prints] == [*first, *second]
    assert [one.when.words for one in laid.prints] == ["", "", "July 1950", ""]
    assert (begun.times, shown.is_settled) == (1, False)
    standings = collection.catalogue.standings_of(second)
    assert [(standings[one].undated, standings[one].nobody) for one in second] == [(False, False), (True, True)]
    # What is said meanwhile shows at once, and stays when all of it was worked out.
    say(collection, first[1], Says.EXPOSURE, "1938")
    shown.settle()
    assert shown.some([first[1]])[0].when.words == "1938"
    keep_all(collection)
    laid = shown.table.lay(Arrangement.TIME, limit=10)
    assert [one.print.accession for one in laid.prints] == [one.print.accession for one in described(collection)]


@pytest.fixture
def only_read(collection: Collection, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Collection]:
    """A copy that can only be read (SQLite's own mode), of three prints whose order was not worked out yet."""
    numbers = take_in(collection, "B1", 3)
    say(collection, numbers[2], Says.EXPOSURE, "1938")
    say(collection, numbers[0], Says.EXPOSURE, "1950")
    target = tmp_path / "copy" / FILE_NAME
    collection.catalogue.backup(target)

    def url(drivername: str, *, database: str) -> URL:
        if database == str(target):
            return URL.create(drivername, database=f"file:{database}", query={"mode": "ro", "uri": "true"})
        return URL.create(drivername, database=database)

    monkeypatch.setattr(database, "URL", SimpleNamespace(create=url))
    with Collection.open(target.parent) as copy:
        yield copy


def test_a_collection_that_can_only_be_read_has_its_order_worked_out_beside_it(only_read: Collection) -> None:
    with pytest.raises(Trouble, match="it can only be read here"):
        keep_all(only_read)
    shown = show.Shown(only_read)
    laid = shown.table.lay(Arrangement.TIME, limit=10)
    assert laid.prints == []
    shown.settle()
    laid = shown.table.lay(Arrangement.TIME, limit=10)
    assert list(laid.prints) == described(only_read)
    assert shown.is_settled
    assert list(shown.worth_asking())


@pytest.mark.slow
def test_of_many_prints_that_can_only_be_read_the_order_is_worked_out_behind_the_pages(
    only_read: Collection, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(show, "FEW", 2)
    shown = show.Shown(only_read)
    shown.settle()
    assert shown.behind.root != only_read.root
    assert len(shown.table.lay(Arrangement.TIME, limit=10).prints) == 3
    shown.behind.wait()
    assert list(shown.table.lay(Arrangement.TIME, limit=10).prints) == described(only_read)
