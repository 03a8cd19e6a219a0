"""What machines read is kept by view, outside of history; which backs wait to be transcribed is told from it."""

from __future__ import annotations

from collections.abc import Sequence

import made_records as made
import pytest

from solander.catalogue.store import Catalogue
from solander.catalogue.writings import BacksCounted
from solander.core.inscriptions import Inscription, Line, Word
from solander.core.inscriptions.kept import READ, Writing
from solander.core.prints import Side, View
from solander.core.statements import Says
from solander.core.upright import Upright

CORNERS = ((1.0, 1.0), (61.0, 1.0), (61.0, 11.0), (1.0, 11.0))
WRITING = Writing(Inscription((Line((Word("Skegness 1952", 0.9),), CORNERS, 0.9, agreed=True),)), 90, 60)
BLANK = Writing(Inscription(), 90, 60)
UNSURE = Writing(Inscription((Line((), CORNERS, 0.0),)), 90, 60)
BACKS = [made.a_view(number, side=Side.VERSO) for number in (4, 5, 6)]


@pytest.fixture
def backs(box: Catalogue) -> Catalogue:
    """The prints of `box`, each with a back; the last of them in an envelope of its own."""
    with box.act("Ada", "added backs") as act, act.work() as work:
        for number, view in enumerate(BACKS, 1):
            work.add_view(f"B1-000{number}", view)
        work.add_print(made.a_print(1, "B2/E1", (made.a_view(1, page=1, side=Side.VERSO),)))
        work.commit()
    return box


def _keep(catalogue: Catalogue, views: Sequence[View], writing: Writing) -> None:
    for view in views:
        catalogue.keep_writing(view.key, writing)


def test_what_was_read_is_there_and_in_no_history(backs: Catalogue) -> None:
    before = backs.last_change()
    _keep(backs, BACKS[:1], WRITING)
    assert backs.writing(BACKS[0].key) == WRITING
    assert backs.writing(BACKS[1].key) is None
    assert backs.views_read() == {BACKS[0].key: READ}
    assert [*backs.views_written()] == [("B1-0001", BACKS[0].key, WRITING)]
    assert backs.last_change() == before


def test_reading_anew_takes_the_place_of_what_was_read(backs: Catalogue) -> None:
    _keep(backs, BACKS[:1], WRITING)
    _keep(backs, BACKS[:1], BLANK)
    assert backs.writing(BACKS[0].key) == BLANK
    assert [*backs.views_written()] == []


def test_a_view_that_is_gone_when_it_was_read_keeps_nothing(backs: Catalogue) -> None:
    backs.keep_writing("f" * 32, WRITING)
    assert backs.views_read() == {}
    assert backs.damage() == []


def test_it_does_not_stand_in_the_way_of_taking_back_what_was_done(backs: Catalogue) -> None:
    _keep(backs, BACKS, WRITING)
    assert backs.undo("Ada") == "added backs"
    assert backs.views_read() == {}
    assert backs.damage() == []


def test_a_print_that_is_turned_takes_it_along_and_one_cut_anew_does_not(backs: Catalogue) -> None:
    _keep(backs, BACKS[:2], WRITING)
    turned, anew = BACKS[0].turned(1, Upright.PERSON), made.a_view(5, side=Side.VERSO, left=3.0)
    with backs.act("Ada", "turned and cut anew") as act, act.work() as work:
        work.replace_view("B1-0001", BACKS[0], turned)
        work.replace_view("B1-0002", BACKS[1], anew)
        work.commit()
    assert backs.writing(turned.key) == WRITING
    assert backs.writing(anew.key) is None
    assert [key for _, key, _ in backs.views_written()] == [turned.key]
    backs.undo("Ada")
    assert [key for _, key, _ in backs.views_written()] == [view.key for view in BACKS[:2]]


def test_backs_wait_until_they_are_transcribed_those_with_writing_first(backs: Catalogue) -> None:
    assert backs.backs_to_transcribe() == ["B1-0001", "B1-0002", "B1-0003", "B2-E1-0001"]
    _keep(backs, BACKS[1:2], WRITING)
    _keep(backs, BACKS[2:3], BLANK)
    assert backs.backs_to_transcribe() == ["B1-0002", "B1-0001", "B2-E1-0001"]
    assert backs.backs_to_transcribe("B2") == ["B2-E1-0001"]
    assert backs.backs_to_transcribe("B") == []
    with backs.act("Ada", "wrote down") as act, act.work() as work:
        work.state(made.a_statement("back", "B1-0002", Says.TRANSCRIPTION, "Skegness 1952"))
        work.commit()
    assert backs.backs_to_transcribe() == ["B1-0001", "B2-E1-0001"]
    assert backs.backs_counted() == BacksCounted(backs=4, transcribed=1, written=1, blank=1)
    with backs.act("Ada", "not so") as act, act.work() as work:
        work.withdraw("back")
        work.commit()
    assert backs.backs_to_transcribe()[0] == "B1-0002"


def test_a_back_on_which_something_was_found_waits_until_somebody_says_that_nothing_stands_there(
    backs: Catalogue,
) -> None:
    _keep(backs, BACKS[:1], UNSURE)
    _keep(backs, BACKS[1:2], BLANK)
    assert backs.backs_to_transcribe() == ["B1-0001", "B1-0003", "B2-E1-0001"]
    with backs.act("Ada", "nothing is written there") as act, act.work() as work:
        work.state(made.a_statement("nothing", "B1-0001", Says.BLANK, "back"))
        work.commit()
    assert backs.backs_to_transcribe() == ["B1-0003", "B2-E1-0001"]
    assert backs.backs_counted() == BacksCounted(backs=4, transcribed=0, written=0, blank=2)
    with backs.act("Ada", "there is some") as act, act.work() as work:
        work.state(made.a_statement("some", "B1-0001", Says.TRANSCRIPTION, "in pencil"))
        work.commit()
    assert backs.backs_counted() == BacksCounted(backs=4, transcribed=1, written=0, blank=1)


def test_what_a_machine_read_is_found_after_what_people_said_until_somebody_wrote_it_down(
    backs: Catalogue,
) -> None:
    _keep(backs, BACKS[:2], WRITING)
    assert backs.search("skegn") == ["B1-0001", "B1-0002"]
    assert backs.documents(["B1-0001"])["B1-0001"]["machine"] == "Skegness 1952"
    with backs.act("Ada", "said and wrote down") as act, act.work() as work:
        work.state(made.a_statement("note", "B1-0003", Says.NOTE, "Perhaps the beach at Skegness"))
        work.state(made.a_statement("back", "B1-0001", Says.TRANSCRIPTION, "Shoreham 1952"))
        work.commit()
    assert backs.search("skegness") == ["B1-0003", "B1-0002"]
    assert backs.search("shoreham") == ["B1-0001"]
    backs.undo("Ada")
    assert backs.search("skegness") == ["B1-0001", "B1-0002"]


def test_what_is_unread_is_counted_and_what_an_older_edition_read_with_it(backs: Catalogue) -> None:
    sides = {view.side for one in backs.prints() for view in one.views}
    in_use = sum(len(one.views) for one in backs.prints())
    assert backs.unread_count(READ, sides) == in_use
    assert backs.unread_count(READ, [Side.VERSO]) == 4
    _keep(backs, BACKS, WRITING)
    assert backs.unread_count(READ, [Side.VERSO]) == 1
    assert backs.unread_count(READ + 1, [Side.VERSO]) == 4


def test_what_was_read_in_any_number_of_views_is_asked_for_at_once(backs: Catalogue) -> None:
    _keep(backs, BACKS[:1], WRITING)
    # SQLite, "Implementation Limits": 32,766 values in one query, 250,000 as Debian builds it.
    keys = (f"{number:032x}" for number in range(260_000))
    assert backs.writings_of([*keys, BACKS[0].key]) == {BACKS[0].key: WRITING}


def test_what_a_machine_read_is_found_no_more_once_its_view_is_out_of_use(backs: Catalogue) -> None:
    _keep(backs, BACKS[:2], WRITING)
    with backs.act("Ada", "cut one anew, took one out") as act, act.work() as work:
        work.replace_view("B1-0001", BACKS[0], made.a_view(4, side=Side.VERSO, left=3.0))
        work.take_out_view("B1-0002", BACKS[1])
        work.commit()
    assert backs.search("skegness") == []
    backs.undo("Ada")
    assert backs.search("skegness") == ["B1-0001", "B1-0002"]


def test_of_no_backs_nothing_waits(catalogue: Catalogue) -> None:
    assert catalogue.backs_to_transcribe() == []
    assert catalogue.backs_counted() == BacksCounted(0, 0, 0, 0)
