"""Where prints stand: pages by key give, one after the other, what sorting all of them gives."""

from __future__ import annotations

import random

import pytest
from attrs import evolve

from solander.catalogue.schema import changes, standing
from solander.catalogue.store import Catalogue
from solander.core.standing import LAST, Arrangement, Standing, Whole

A, B = Arrangement.TIME, Arrangement.CONTAINER


def _made(number: int, rank: int) -> Standing:
    box = f"B{number % 12 + 1}"
    occasion = f"Outing {number % 3}" if number % 4 else ""
    return Standing(
        accession=f"{box}-{number:04d}",
        rank=rank,
        container=box,
        number=number,
        occasion=occasion,
        occasion_rank=number % 3 + 1 if occasion else LAST,
        year=1900 + rank // 10,
        nobody=number % 5 == 0,
        change=7,
    )


@pytest.fixture
def hundred() -> list[Standing]:
    """Standings of a hundred prints, two of each rank, in no order."""
    ranks = [number // 2 for number in range(2, 102)]
    random.Random(5).shuffle(ranks)
    return [_made(number, rank) for number, rank in enumerate(ranks, 1)]


@pytest.fixture
def kept(catalogue: Catalogue, hundred: list[Standing]) -> Catalogue:
    """A catalogue in which they are kept."""
    catalogue.keep_standings(hundred, {"B2-0001": {"edtf": "1948"}}, whole=Whole(7, 100))
    return catalogue


def _walked(catalogue: Catalogue, arrangement: Arrangement) -> list[str]:
    found: list[str] = []
    while some := catalogue.standings(arrangement, after=found[-1] if found else "", limit=7):
        found += [one.accession for one in some]
    return found


def test_pages_by_time_are_all_prints_sorted(kept: Catalogue, hundred: list[Standing]) -> None:
    sorted_by_hand = sorted(hundred, key=lambda one: (one.rank, one.accession))
    assert _walked(kept, A) == [one.accession for one in sorted_by_hand]


def test_pages_by_container_have_b2_before_b10(kept: Catalogue, hundred: list[Standing]) -> None:
    sorted_by_hand = sorted(hundred, key=lambda one: (int((one.container or "B0")[1:]), one.number))
    assert _walked(kept, B) == [one.accession for one in sorted_by_hand]


def test_pages_by_occasion_end_with_those_of_none(kept: Catalogue, hundred: list[Standing]) -> None:
    walked = _walked(kept, Arrangement.OCCASION)
    places = {one.accession: (one.occasion_rank, one.rank, one.accession) for one in hundred}
    assert [places[each] for each in walked] == sorted(places.values())
    assert len(walked) == 100


def test_going_back_gives_the_page_before(kept: Catalogue) -> None:
    walked = _walked(kept, B)
    before = kept.standings(B, before=walked[50], limit=10)
    assert [one.accession for one in before] == walked[40:50]
    assert kept.standings_before(B, walked[50]) == 50


def test_a_page_can_keep_to_some(kept: Catalogue, hundred: list[Standing]) -> None:
    found = kept.standings(limit=200, where=[standing.c.nobody])
    assert {one.accession for one in found} == {one.accession for one in hundred if one.nobody}


def test_prints_are_counted_by_year_and_found_by_it(kept: Catalogue, hundred: list[Standing]) -> None:
    assert sum(kept.standing_years().values()) == 100
    first = min(
        (one for one in hundred if one.year and one.year >= 1903), key=lambda one: (one.rank, one.accession)
    )
    assert kept.standing_from_year(1903) == first.accession
    assert kept.standing_from_year(2000) is None


def test_some_are_replaced_and_others_stay(kept: Catalogue, hundred: list[Standing]) -> None:
    moved = evolve(hundred[0], rank=999, change=9)
    kept.keep_standings([moved], {moved.accession: {"edtf": "1960"}}, gone=[hundred[1].accession])
    found = kept.standings_of([moved.accession, hundred[1].accession, hundred[2].accession])
    assert found == {moved.accession: moved, hundred[2].accession: hundred[2]}
    assert kept.standing_told([moved.accession]) == {moved.accession: {"edtf": "1960"}}


def test_what_was_put_right_since_outlives_an_older_whole(kept: Catalogue, hundred: list[Standing]) -> None:
    moved = evolve(hundred[0], rank=999, change=9)
    kept.keep_standings([moved], {moved.accession: {"edtf": "1960"}})
    kept.keep_standings(hundred, {}, whole=Whole(8, 100, (("B1-0012", "They clash."),), ("Mend.",)))
    assert kept.standings_of([moved.accession])[moved.accession] == moved
    assert kept.standing_told([moved.accession]) == {moved.accession: {"edtf": "1960"}}
    assert kept.standing_whole() == Whole(8, 100, (("B1-0012", "They clash."),), ("Mend.",))
    assert kept.standing_count() == 100


def test_keeping_them_is_nothing_that_could_be_taken_back(kept: Catalogue) -> None:
    with kept._reading() as connection:
        assert connection.execute(changes.select()).first() is None
    assert kept.last_act() is None


def test_nothing_was_worked_out_in_a_new_catalogue(catalogue: Catalogue) -> None:
    assert catalogue.standing_whole().change == -1
    assert catalogue.standings() == []
    assert catalogue.standings_before(A, "B1-0001") == 0
