"""What is kept of where prints stand is what working it out gives, and is read without working anything out."""

from __future__ import annotations

import pytest
from told_prints import say, take_in

from solander.core.errors import NotFound
from solander.core.questions import Asks, Question
from solander.core.statements import About, Says, Sure
from solander.tasks.collection import Collection
from solander.tasks.described import described
from solander.tasks.described_some import described_one, described_some
from solander.tasks.standing import holds, keep_all, told_of, when_of

pytestmark = pytest.mark.slow


@pytest.fixture
def box(collection: Collection) -> Collection:
    """Six prints: dated, of a dated occasion, with somebody, contradicting, of nothing, and one with a back."""
    take_in(collection, "B1", 6, backs={6})
    say(collection, "B1-0001", Says.EXPOSURE, "1950-07")
    say(collection, "B1-0002", Says.OCCASION, "Regatta")
    say(collection, "Regatta", Says.EXPOSURE, "1948", about=About.OCCASION, sure=Sure.GUESS)
    say(collection, "Regatta", Says.PLACE, "Bergen", about=About.OCCASION)
    say(collection, "B1-0003", Says.PERSON, "Inga")
    say(collection, "B1-0004", Says.EXPOSURE, "1950")
    say(collection, "B1-0004", Says.PRINTING, "1948")
    with collection.catalogue.act("test", "asked") as act, act.work() as work:
        work.ask(Question("k", Asks.CAPTURE_AGAIN, "B1-0005", "It is not sharp.", "2026-01-01T00:00:00Z"))
        work.commit()
    return collection


def test_what_is_kept_is_what_was_worked_out(box: Collection) -> None:
    keep_all(box)
    worked_out = described(box)
    assert described_some(box, [one.print.accession for one in worked_out]) == worked_out
    assert [one.accession for one in box.catalogue.standings()] == [one.print.accession for one in worked_out]


def test_one_print_has_its_reasons(box: Collection) -> None:
    keep_all(box)
    reasons = described_one(box, "B1-0002").when.reasons
    assert [one.sure for one in reasons] == [Sure.GUESS]
    assert "Regatta" in reasons[0].sentence


def test_what_is_still_to_be_done_stands_there(box: Collection) -> None:
    keep_all(box)
    found = box.catalogue.standings_of([f"B1-{number:04d}" for number in range(1, 7)])
    assert {number for number, one in found.items() if one.undated} == {"B1-0003", "B1-0005", "B1-0006"}
    assert {number for number, one in found.items() if not one.nobody} == {"B1-0003"}
    assert {number for number, one in found.items() if one.unsure} == {"B1-0002"}
    assert {number for number, one in found.items() if one.again and one.waits == 1} == {"B1-0005"}
    assert {number for number, one in found.items() if one.contradicts} == {"B1-0004"}
    assert {number for number, one in found.items() if one.has_back} == {"B1-0006"}


def test_it_holds_until_something_is_said(box: Collection) -> None:
    assert not holds(box)
    keep_all(box)
    assert holds(box)
    say(box, "B1-0005", Says.NOTE, "found behind the drawer")
    assert holds(box)
    say(box, "B1-0005", Says.EXPOSURE, "1949")
    assert not holds(box)


def test_what_is_said_shows_at_once_before_the_order_is_worked_out(box: Collection) -> None:
    keep_all(box)
    say(box, "B1-0005", Says.CAPTION, "On the pier")
    say(box, "B1-0005", Says.PERSON, "Nils")
    found = described_one(box, "B1-0005")
    assert (found.caption, [one.person.name for one in found.people]) == ("On the pier", ["Nils"])


def test_a_print_that_was_never_worked_out_is_there_with_the_date_that_is_said_of_it(box: Collection) -> None:
    found = described_one(box, "B1-0001")
    assert (found.when.words, found.when.guess, found.order) == ("July 1950", None, 0)
    assert [described_one(box, number).when.words for number in ("B1-0002", "B1-0005")] == ["1948", ""]


def test_a_print_that_is_not_there_is_named(box: Collection) -> None:
    with pytest.raises(NotFound, match="B9-0001"):
        described_one(box, "B9-0001")
    assert described_some(box, ["B9-0001"]) == []


def test_a_date_is_read_as_it_was_told(box: Collection) -> None:
    for one in described(box):
        assert when_of(told_of(one.when)) == one.when
