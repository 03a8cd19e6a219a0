"""What lies on the table: parts after each other are all prints once, each under its heading."""

from __future__ import annotations

import pytest
from told_prints import say, take_in

from solander.core.standing import Arrangement
from solander.core.statements import About, Says
from solander.tasks.collection import Collection
from solander.tasks.described import described
from solander.tasks.standing import keep_all
from solander.tasks.table import Laid, Table

pytestmark = pytest.mark.slow


@pytest.fixture
def table(collection: Collection) -> Table:
    """Forty dated prints in B1, ten of an outing in B10, five of nothing in B2."""
    for place, accession in enumerate(take_in(collection, "B1", 40)):
        say(collection, accession, Says.EXPOSURE, str(1950 + place // 10))
    for accession in take_in(collection, "B10", 10):
        say(collection, accession, Says.OCCASION, "Outing")
    say(collection, "Outing", Says.EXPOSURE, "1962-05-07", about=About.OCCASION)
    take_in(collection, "B2", 5)
    keep_all(collection)
    return Table(collection)


def _walked(table: Table, arrangement: Arrangement, limit: int = 7) -> list[Laid]:
    parts = [table.lay(arrangement, limit=limit)]
    while not parts[-1].is_last:
        parts.append(table.lay(arrangement, after=parts[-1].prints[-1].print.accession, limit=limit))
    return parts


def _numbers(parts: list[Laid]) -> list[str]:
    return [one.print.accession for part in parts for one in part.prints]


def test_parts_after_each_other_are_all_prints_in_order(table: Table) -> None:
    parts = _walked(table, Arrangement.TIME)
    assert _numbers(parts) == [one.print.accession for one in described(table.collection)]
    assert [part.is_first for part in parts] == [True, *[False] * (len(parts) - 1)]


def test_each_heading_comes_once_with_how_many_lie_under_it(table: Table) -> None:
    told = [
        (heading.name, heading.count, heading.decade)
        for part in _walked(table, Arrangement.TIME)
        for heading in part.headings
        if heading
    ]
    years = [(str(year), 10, False) for year in range(1950, 1954)]
    assert told == [*years, ("1960", 10, True), ("", 5, False)]


def test_containers_lie_as_on_a_shelf_under_their_codes(table: Table) -> None:
    told = [h.name for part in _walked(table, Arrangement.CONTAINER) for h in part.headings if h]
    assert told == ["B1", "B2", "B10"]


def test_prints_of_no_occasion_lie_last(table: Table) -> None:
    told = [(h.name, h.count) for part in _walked(table, Arrangement.OCCASION) for h in part.headings if h]
    assert told == [("Outing", 10), ("", 45)]


def test_going_back_gives_the_part_before(table: Table) -> None:
    numbers = _numbers(_walked(table, Arrangement.CONTAINER))
    before = table.lay(Arrangement.CONTAINER, before=numbers[20], limit=7)
    assert _numbers([before]) == numbers[13:20]
    start = table.lay(Arrangement.CONTAINER, start=numbers[20], limit=7)
    assert _numbers([start]) == numbers[20:27]
    assert start.headings[0] is None


def test_a_year_leads_to_its_first_print_or_the_next_one(table: Table) -> None:
    assert table.first_of_year(1952) == "B1-0021"
    assert table.first_of_year(1955) == "B10-0001"
    assert table.first_of_year(1970) == ""


def test_all_dates_are_read_once_until_one_changes(table: Table, collection: Collection) -> None:
    whens = table.whens
    assert [number for number, _ in whens] == _numbers(_walked(table, Arrangement.TIME))
    assert (whens[0][1].edtf, whens[-1][1].edtf) == ("1950", "")
    assert table.whens is whens
    say(collection, "B2-0001", Says.EXPOSURE, "1940")
    keep_all(collection)
    assert (table.whens[0][0], table.whens[0][1].edtf) == ("B2-0001", "1940")


def test_a_run_goes_from_either_end(table: Table) -> None:
    numbers = _numbers(_walked(table, Arrangement.TIME))
    assert table.run(Arrangement.TIME, numbers[3], numbers[9]) == numbers[3:10]
    assert table.run(Arrangement.TIME, numbers[9], numbers[3]) == numbers[3:10]
    assert table.run(Arrangement.TIME, numbers[3], numbers[3]) == [numbers[3]]
    assert table.run(Arrangement.TIME, numbers[3], "B99-0001") == []


def test_an_empty_table_has_nothing(collection: Collection) -> None:
    laid = Table(collection).lay(Arrangement.TIME, limit=7)
    assert (list(laid.prints), laid.is_first, laid.is_last) == ([], True, True)
