"""Occasions: date and place once for many prints, people stay with the prints, every act can be taken back."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from small_prints import number, prints_in, said, state

from solander.core.errors import InvalidValue, NotFound
from solander.core.questions import Asks
from solander.core.statements import About, Says, Statement, Sure
from solander.tasks.arrange import lay
from solander.tasks.collection import Collection
from solander.tasks.described import described
from solander.tasks.occasions import (
    join_occasions,
    make_occasion,
    move_prints,
    part_occasion,
    remove_from_occasion,
    rename_occasion,
    say_of_occasion,
    take_back_of_occasion,
)

pytestmark = pytest.mark.slow

WHO = (Sure.CERTAIN, "a.csv")
TEN = [number(i) for i in range(1, 11)]


@pytest.fixture
def box(tmp_path: Path) -> Iterator[Collection]:
    """Twelve prints in an envelope."""
    with prints_in(tmp_path / "box", {"B2/E5": 12}) as collection:
        yield collection


def told(collection: Collection, accession: str) -> tuple[str, str, str, list[str]]:
    """Occasion, date, place and people of a print, as pages show them."""
    one = next(each for each in described(collection) if each.print.accession == accession)
    place = one.place.name if one.place else ""
    return one.occasion, one.when.edtf if one.when.stated else "", place, [who.person.name for who in one.people]


def state_of(collection: Collection) -> tuple[object, ...]:
    """All that an undo must bring back."""
    catalogue = collection.catalogue
    live = sorted((one.subject, one.says, one.value, one.words, one.source) for one in catalogue.statements())
    return catalogue.occasions(), live, catalogue.places(), len(catalogue.questions())


def test_an_occasion_dates_and_places_all_its_prints_by_one_act(box: Collection) -> None:
    before = state_of(box)
    done = make_occasion(box, " School  outing ", TEN, date="May 1936", place="Vessholm")
    assert done.prints == 10
    assert {told(box, one)[:3] for one in TEN} == {("School outing", "1936-05", "Vessholm")}
    assert told(box, number(11)) == ("", "", "", [])
    assert box.catalogue.last_act() == (done.act, "made the occasion “School outing” of 10 prints")
    box.catalogue.undo("test")
    assert state_of(box) == before


def test_people_stay_with_the_print_that_moves_and_date_and_place_change(box: Collection) -> None:
    state(box, [(TEN[0], Says.PERSON, "Ingrid Sollihøgda"), (TEN[0], Says.CAPTION, "On the steps")])
    make_occasion(box, "School outing", TEN, date="May 1936", place="Vessholm")
    make_occasion(box, "Regatta", [number(11)], date="summer 1951", place="the boathouse")
    move_prints(box, [TEN[0]], "Regatta")
    assert told(box, TEN[0]) == ("Regatta", "1951-22", "the boathouse", ["Ingrid Sollihøgda"])
    assert said(box, TEN[0], Says.CAPTION) == ["On the steps"]
    kept = [one for one in box.catalogue.statements(subject=TEN[0], withdrawn=True) if one.says is Says.OCCASION]
    assert [(one.value, one.withdrawn is None) for one in kept] == [("School outing", False), ("Regatta", True)]


def test_a_print_can_leave_an_occasion_and_come_back(box: Collection) -> None:
    make_occasion(box, "School outing", TEN)
    assert remove_from_occasion(box, TEN[:3]).prints == 3
    assert said(box, TEN[0], Says.OCCASION) == []
    move_prints(box, TEN[:3], "School outing")
    assert said(box, TEN[0], Says.OCCASION) == ["School outing"]
    assert move_prints(box, TEN, "School outing").act is None, "nothing changed, so there is no act"


def test_what_one_source_said_gives_way_to_itself_and_stands_beside_others(box: Collection) -> None:
    make_occasion(box, "School outing", TEN, date="May 1936")
    say_of_occasion(box, "School outing", date="about 1935", source="Aunt Signe")
    say_of_occasion(box, "School outing", date="June 1936")
    dates = [one for one in box.catalogue.said_of_occasion("School outing") if one.says is Says.EXPOSURE]
    assert [(one.source, one.words, one.sure) for one in dates] == [
        ("Aunt Signe", "about 1935", Sure.LIKELY),
        ("archivist", "June 1936", Sure.CERTAIN),
    ]
    take_back_of_occasion(box, "School outing", dates[0].id)
    assert [one.words for one in box.catalogue.said_of_occasion("School outing")] == ["June 1936"]
    with pytest.raises(NotFound, match="no longer said"):
        take_back_of_occasion(box, "School outing", dates[0].id)


def test_how_sure_is_what_the_words_say_or_what_the_person_says(box: Collection) -> None:
    make_occasion(box, "School outing", TEN, date="perhaps 1936", place="Vessholm?")
    (date, place) = box.catalogue.said_of_occasion("School outing")
    assert (date.sure, place.sure, place.value) == (Sure.GUESS, Sure.GUESS, "Vessholm")
    say_of_occasion(box, "School outing", place="Vessholm", sure=Sure.LIKELY)
    assert box.catalogue.said_of_occasion("School outing")[-1].sure is Sure.LIKELY


def test_a_renamed_occasion_keeps_prints_dates_and_the_words_that_were_said(box: Collection) -> None:
    state(box, [(one, Says.OCCASION, "Skuletur") for one in TEN], source="slip file box.csv")
    say_of_occasion(box, "Skuletur", date="May 1936", source="Aunt Signe")
    before = state_of(box)
    done = rename_occasion(box, "Skuletur", "School outing")
    assert (done.prints, told(box, TEN[0])[:2]) == (10, ("School outing", "1936-05"))
    (member,) = [one for one in box.catalogue.statements(subject=TEN[0]) if one.says is Says.OCCASION]
    assert (member.words, member.source) == ("Skuletur", "slip file box.csv")
    assert [one.name for one in box.catalogue.occasions()] == ["School outing"]
    assert box.catalogue.occasion_now("Skuletur") == "School outing"
    with pytest.raises(NotFound, match="it is called “School outing” now"):
        say_of_occasion(box, "Skuletur", date="1936")
    box.catalogue.undo("test")
    assert state_of(box) == before


def test_parting_takes_date_and_place_along_and_leaves_people_where_they_are(box: Collection) -> None:
    state(box, [(TEN[0], Says.PERSON, "Nils Sollihøgda")])
    make_occasion(box, "School outing", TEN, date="May 1936", place="Vessholm")
    done = part_occasion(box, "School outing", [*TEN[:4], number(12)], "The bus home")
    assert done.prints == 4
    assert told(box, TEN[0]) == ("The bus home", "1936-05", "Vessholm", ["Nils Sollihøgda"])
    assert told(box, TEN[4])[0] == "School outing"
    assert told(box, number(12))[0] == "", "a print of no occasion is not drawn in"
    with pytest.raises(InvalidValue, match="none of its prints"):
        part_occasion(box, "School outing", TEN[:4], "Another")


def test_joining_keeps_what_both_said_side_by_side(box: Collection) -> None:
    make_occasion(box, "School outing", TEN[:5], date="May 1936", place="Vessholm")
    make_occasion(box, "Class trip", TEN[5:], date="1937", place="Vessholm", source="Aunt Signe")
    before = state_of(box)
    assert join_occasions(box, "School outing", "Class trip").prints == 5
    said_now = [(one.says, one.words, one.source) for one in box.catalogue.said_of_occasion("School outing")]
    assert said_now == [
        (Says.EXPOSURE, "May 1936", "archivist"),
        (Says.PLACE, "Vessholm", "archivist"),
        (Says.EXPOSURE, "1937", "Aunt Signe"),
        (Says.PLACE, "Vessholm", "Aunt Signe"),
    ]
    assert {said(box, one, Says.OCCASION)[0] for one in TEN} == {"School outing"}
    box.catalogue.undo("test")
    assert state_of(box) == before


def test_a_date_told_by_an_occasion_is_read_when_the_occasion_is_dated(box: Collection) -> None:
    make_occasion(box, "Ingrid's regatta", TEN[:5])
    late = Statement(
        "x",
        About.PRINT,
        number(12),
        Says.UNREAD_DATE,
        "",
        "the day after Ingrid's regatta",
        *WHO,
        "2026-01-02T10:00:00Z",
    )
    with box.catalogue.act("test", "said something") as act, act.work() as work:
        work.state(late)
        work.commit()
    say_of_occasion(box, "Ingrid's regatta", date="12 May 1936")
    assert said(box, number(12), Says.EXPOSURE) == ["1936-05-13"]
    say_of_occasion(box, "Ingrid's regatta", date="14 May 1936")
    assert said(box, number(12), Says.EXPOSURE) == ["1936-05-15"]


@pytest.mark.parametrize(
    ("act", "says"),
    [
        (lambda box: make_occasion(box, "  ", TEN), "has no name yet"),
        (lambda box: make_occasion(box, "Outing", TEN, date="when we were young"), "not understood as a date"),
        (lambda box: make_occasion(box, "Outing", ["B9-0001"]), "There is no print B9-0001"),
        (lambda box: move_prints(box, TEN, "Nothing"), "There is no occasion “Nothing”"),
        (lambda box: join_occasions(box, "Regatta", "Regatta"), "one occasion already"),
        (lambda box: make_occasion(box, "Regatta", TEN), "there is an occasion “Regatta” already"),
        (lambda box: say_of_occasion(box, "Regatta", place=" ? "), "No place was said"),
        (lambda box: say_of_occasion(box, "Regatta"), "the fields are empty"),
    ],
)
def test_what_cannot_be_is_refused_with_a_sentence_and_changes_nothing(box: Collection, act, says: str) -> None:  # type: ignore[no-untyped-def]
    make_occasion(box, "Regatta", [number(11)])
    before = state_of(box)
    with pytest.raises((InvalidValue, NotFound), match=says):
        act(box)
    assert state_of(box) == before


@pytest.mark.slow
def test_a_thousand_prints_are_piled_moved_and_taken_out(tmp_path: Path) -> None:
    """How long that takes is measured by benchmarks/arrange.py."""
    with prints_in(tmp_path / "box", {"B2/E5": 1000}) as box:
        every = [number(i) for i in range(1, 1001)]
        make_occasion(box, "Everything", every, date="May 1936", place="Vessholm")
        rename_occasion(box, "Everything", "All of it")
        assert said(box, every[-1], Says.OCCASION) == ["All of it"]
        part_occasion(box, "All of it", every, "The rest")
        assert said(box, every[-1], Says.OCCASION) == ["The rest"]
        assert remove_from_occasion(box, every).prints == 1000
        assert said(box, every[-1], Says.OCCASION) == []


def contradictions(collection: Collection) -> list[str]:
    return [one.subject for one in collection.catalogue.questions() if one.asks is Asks.CONTRADICTION]


def test_what_cannot_be_true_of_an_occasion_is_asked_until_it_is_taken_back(box: Collection) -> None:
    state(box, [(number(1), Says.EXPOSURE, "1950")])
    make_occasion(box, "Outing", TEN)
    assert contradictions(box) == []
    said_of_it = say_of_occasion(box, "Outing", date="1936")
    assert contradictions(box) == [number(1)]
    remove_from_occasion(box, [number(1)])
    assert contradictions(box) == []
    box.catalogue.undo("test")
    assert contradictions(box) == [number(1)]
    assert said_of_it.act is not None
    dated = next(one for one in box.catalogue.said_of_occasion("Outing") if one.says is Says.EXPOSURE)
    take_back_of_occasion(box, "Outing", dated.id)
    assert contradictions(box) == []


def test_prints_laid_in_an_order_that_cannot_be_are_asked_about(box: Collection) -> None:
    state(box, [(number(1), Says.EXPOSURE, "1950"), (number(2), Says.EXPOSURE, "1936")])
    lay(box, [number(2)], after=number(1))
    assert contradictions(box) != []
    box.catalogue.undo("test")
    assert contradictions(box) == []
