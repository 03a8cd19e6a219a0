"""After a change the prints that it touched are right at once, all others when the whole order was worked out."""

from __future__ import annotations

import pytest
from told_prints import say, take_in

from solander.catalogue.act import Act
from solander.core.questions import Asks
from solander.core.statements import About, Says, Statement, Sure
from solander.tasks.around import around
from solander.tasks.behind import Behind
from solander.tasks.collection import Collection
from solander.tasks.described import described
from solander.tasks.described_some import described_one, described_some
from solander.tasks.put_in_order import ask_about_contradictions
from solander.tasks.put_right import put_right
from solander.tasks.standing import holds, keep_all


@pytest.fixture
def boxes(collection: Collection) -> Collection:
    """Two boxes of ten prints: an occasion in each, one over both, two prints laid in order, all worked out."""
    one, two = take_in(collection, "B1", 10), take_in(collection, "B2", 10)
    for accession in one[:4]:
        say(collection, accession, Says.OCCASION, "Regatta")
    for accession in (*one[8:], *two[:2]):
        say(collection, accession, Says.OCCASION, "Move")
    for accession, year in zip(two[4:], range(1950, 1956), strict=True):
        say(collection, accession, Says.EXPOSURE, str(year))
    say(collection, two[3], Says.AFTER, two[4])
    keep_all(collection)
    return collection


def _dates(collection: Collection, accessions: list[str]) -> dict[str, tuple[object, ...]]:
    return {
        one.print.accession: (one.when.edtf, one.when.earliest, one.when.latest, one.when.reasons)
        for one in described_some(collection, accessions)
    }


def _truth(collection: Collection, accessions: list[str]) -> dict[str, tuple[object, ...]]:
    found = (one for one in described(collection) if one.print.accession in accessions)
    return {
        one.print.accession: (one.when.edtf, one.when.earliest, one.when.latest, one.when.reasons) for one in found
    }


def test_a_date_is_right_at_once_on_the_print_and_on_those_of_its_occasion(boxes: Collection) -> None:
    since = boxes.catalogue.standing_whole().change
    say(boxes, "B1-0001", Says.EXPOSURE, "1938-06")
    touched = put_right(boxes, since)
    assert touched.order
    assert not touched.all
    occasion = ["B1-0001", "B1-0002", "B1-0003", "B1-0004"]
    assert _dates(boxes, occasion) == _truth(boxes, occasion)
    assert described_one(boxes, "B1-0003").when.latest is not None
    assert not holds(boxes)


def test_an_occasion_that_is_dated_dates_its_prints_in_both_boxes(boxes: Collection) -> None:
    since = boxes.catalogue.standing_whole().change
    say(boxes, "Move", Says.EXPOSURE, "1961", about=About.OCCASION)
    put_right(boxes, since)
    members = ["B1-0009", "B1-0010", "B2-0001", "B2-0002"]
    assert _dates(boxes, members) == _truth(boxes, members)
    ranks = [one.rank for one in boxes.catalogue.standings_of(members).values()]
    assert min(ranks) >= 6  # after those of 1950 to 1955


def test_what_tells_nothing_of_time_leaves_the_order_as_it_holds(boxes: Collection) -> None:
    since = boxes.catalogue.standing_whole().change
    say(boxes, "B1-0006", Says.NOTE, "torn")
    assert not put_right(boxes, since).order
    assert holds(boxes)
    assert boxes.catalogue.standing_whole().change > since


def test_a_print_that_goes_is_listed_no_more_and_one_that_comes_is(boxes: Collection) -> None:
    since = boxes.catalogue.standing_whole().change
    (fresh,) = take_in(boxes, "B1", 1)
    (view,) = boxes.catalogue.print("B1-0007").views
    with boxes.catalogue.act("test", "took out") as act, act.work() as work:
        work.take_out_view("B1-0007", view)
        work.commit()
    put_right(boxes, since)
    assert set(boxes.catalogue.standings_of(["B1-0007", fresh])) == {fresh}


def test_very_many_touched_prints_are_left_to_the_whole_order(
    boxes: Collection, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("solander.tasks.put_right.MOST_AROUND", 3)
    since = boxes.catalogue.standing_whole().change
    say(boxes, "Regatta", Says.EXPOSURE, "1961", about=About.OCCASION)
    assert put_right(boxes, since).all


def test_what_a_print_is_tied_to_is_found_however_far_it_goes(boxes: Collection) -> None:
    near = around(boxes, ["B2-0004"])
    assert near.tied == {"B2-0004", "B2-0005"}
    assert near.complete
    assert around(boxes, ["B1-0009"]).tied == {"B1-0009", "B1-0010", "B2-0001", "B2-0002"}
    assert not around(boxes, ["B1-0009"], most=1).complete


def test_a_contradiction_is_asked_about_and_settled_by_looking_only_around_it(boxes: Collection) -> None:
    say(boxes, "B1-0006", Says.EXPOSURE, "1950")
    with boxes.catalogue.act("test", "said 1948") as act:
        ident = _say_in(act, boxes, "B1-0006", Says.PRINTING, "1948")
        ask_about_contradictions(boxes, act)
    asked = [one.subject for one in boxes.catalogue.questions() if one.asks is Asks.CONTRADICTION]
    assert asked == ["B1-0006"]
    with boxes.catalogue.act("test", "said something else") as act:
        _say_in(act, boxes, "B2-0009", Says.CAPTION, "on the pier")
        ask_about_contradictions(boxes, act)
    assert [one.subject for one in boxes.catalogue.questions()] == ["B1-0006"]
    with boxes.catalogue.act("test", "withdrew it") as act:
        with act.work() as work:
            work.withdraw(ident)
            work.commit()
        ask_about_contradictions(boxes, act)
    assert not boxes.catalogue.questions()


def _say_in(act: Act, collection: Collection, subject: str, says: Says, value: str) -> str:
    said = Statement(
        f"{subject} {value}", About.PRINT, subject, says, value, value, Sure.CERTAIN, "t", "2026-01-01T00:00:00Z"
    )
    with act.work() as work:
        work.state(said)
        work.commit()
    return said.id


@pytest.mark.slow
def test_a_process_of_its_own_works_the_rest_out(boxes: Collection) -> None:
    say(boxes, "B1-0001", Says.EXPOSURE, "1938-06")
    behind = Behind(boxes.root)
    behind.start()
    behind.wait(60)
    assert not behind.at_work
    assert holds(boxes)
    everybody = [one.print.accession for one in described(boxes)]
    assert [one.accession for one in boxes.catalogue.standings()] == everybody
