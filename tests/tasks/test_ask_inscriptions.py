"""What a machine read becomes a question once; a yes is said with the writing as its source, a no stays a no."""

from __future__ import annotations

from pathlib import Path

import pytest
from attrs import evolve
from written_box import BLUE, RED, a_back, add_written, bar_readers

from solander.core.errors import CannotBegin, NotFound
from solander.core.inscriptions import Fact, FactKind, Inscription, Line, Lookups, Word
from solander.core.inscriptions.kept import Writing
from solander.core.people import Person
from solander.core.prints import Side
from solander.core.questions import Asks, Question
from solander.core.statements import Says, Sure
from solander.tasks.ask_inscriptions import ask_inscriptions, proposal_asked, take_inscription
from solander.tasks.collection import Collection
from solander.tasks.date import DateReader
from solander.tasks.hand_folder import hand_folder, use_hand
from solander.tasks.inscription import lookups
from solander.tasks.print_desk import PrintDesk
from solander.tasks.proposed_inscriptions import BACK, BORDER, proposals_of
from solander.tasks.queue import Queue
from solander.tasks.read_collection import read_collection
from solander.tasks.show import Shown
from solander.tasks.typed import Field, Typed


@pytest.fixture
def desk(collection: Collection, tmp_path: Path) -> PrintDesk:
    """A back of two lines that were read, and a blank one."""
    add_written(collection, tmp_path / "scans", a_back(RED, BLUE), a_back())
    read_collection(collection, who=bar_readers)
    return PrintDesk(Shown(collection))


def _waiting(desk: PrintDesk) -> dict[str, Question]:
    """What waits, by what it asks after the words."""
    waiting = desk.shown.collection.catalogue.questions_about(["B1-0001"])
    return {one.sentence.partition("”: ")[2]: one for one in waiting if one.asks is Asks.INSCRIPTION}


THEN, TOGETHER = "was it taken then (August 1952)?", "are Nan and Bill shown in it together?"


def _said(desk: PrintDesk, says: Says) -> list[tuple[str, str, Sure]]:
    found = desk.shown.collection.catalogue.statements(subject="B1-0001")
    return [(one.value, str(one.source), one.sure) for one in found if one.says is says]


def test_what_was_read_is_asked_once_and_binds_nothing_before(desk: PrintDesk) -> None:
    collection = desk.shown.collection
    assert ask_inscriptions(collection) == len(_waiting(desk)) >= 2
    assert {THEN, TOGETHER} <= set(_waiting(desk))
    assert collection.catalogue.statements(subject="B1-0001") == []
    assert ask_inscriptions(collection) == 0


def test_the_question_shows_the_line_that_it_comes_from(desk: PrintDesk) -> None:
    ask_inscriptions(desk.shown.collection)
    proposal = proposal_asked(desk.shown.collection, _waiting(desk)[THEN])
    assert proposal is not None
    assert (proposal.fact.kind, proposal.fact.value, proposal.line.text) == (
        FactKind.DATE,
        "1952-08",
        "Skegness August 1952",
    )
    assert proposal.view.side is Side.VERSO


def test_a_yes_is_said_with_the_writing_as_its_source_and_undone(desk: PrintDesk) -> None:
    ask_inscriptions(desk.shown.collection)
    act = take_inscription(desk, _waiting(desk)[THEN].key)
    assert _said(desk, Says.EXPOSURE) == [("1952-08", BACK, Sure.LIKELY)]
    assert set(_waiting(desk)) >= {TOGETHER}  # the other line of it still waits
    assert THEN not in _waiting(desk)
    assert act is not None
    desk.sitting.undo(act)
    assert _said(desk, Says.EXPOSURE) == []
    assert THEN in _waiting(desk)


def test_a_yes_to_a_date_says_no_word_of_the_line_that_had_no_part_in_it(desk: PrintDesk) -> None:
    """They may be names of the living, misread by a machine, and reasons go into what is handed over."""
    ask_inscriptions(desk.shown.collection)
    take_inscription(desk, _waiting(desk)[THEN].key)
    (said,) = desk.shown.collection.catalogue.statements(subject="B1-0001")
    assert said.words == "August 1952"


def test_people_who_are_named_in_one_breath_come_by_one_yes(desk: PrintDesk) -> None:
    ask_inscriptions(desk.shown.collection)
    take_inscription(desk, _waiting(desk)[TOGETHER].key)
    assert {value for value, _, _ in _said(desk, Says.PERSON)} == {"Nan", "Bill"}


def test_a_no_stays_a_no(desk: PrintDesk) -> None:
    collection = desk.shown.collection
    ask_inscriptions(collection)
    key = _waiting(desk)[THEN].key
    Queue(collection, desk.sitting).settle(key)
    assert ask_inscriptions(collection) == 0
    assert THEN not in _waiting(desk)
    with pytest.raises(NotFound):
        take_inscription(desk, key)
    assert _said(desk, Says.EXPOSURE) == []


def test_a_date_that_is_typed_answers_the_one_that_was_read_and_nothing_else(desk: PrintDesk) -> None:
    ask_inscriptions(desk.shown.collection)
    desk.say(Typed("B1-0001", Field.DATE, "summer 1952"))
    assert THEN not in _waiting(desk)
    assert TOGETHER in _waiting(desk)


def test_what_is_said_already_is_not_asked(desk: PrintDesk) -> None:
    desk.say(Typed("B1-0001", Field.DATE, "August 1952"))
    ask_inscriptions(desk.shown.collection)
    assert THEN not in _waiting(desk)


def test_people_who_come_to_be_known_are_known_at_once(collection: Collection) -> None:
    assert not lookups(collection.catalogue).is_given_name("Nuschi")
    with collection.catalogue.act("archivist", "entered somebody") as act, act.work() as work:
        work.keep_person(Person("Nuschi Novák"))
        work.commit()
    assert lookups(collection.catalogue).is_given_name("Nuschi")


def test_the_recogniser_of_a_collection_is_kept_and_taken_back(
    collection: Collection, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with pytest.raises(CannotBegin, match=r"no model\.onnx|not installed"):
        use_hand(collection, tmp_path)
    assert hand_folder(collection) is None
    monkeypatch.setattr("solander.tasks.hand_folder.handwriting_reader", lambda _: None)
    use_hand(collection, tmp_path)
    assert hand_folder(collection) == tmp_path.resolve()
    use_hand(collection, None)
    assert hand_folder(collection) is None
    collection.catalogue.undo("archivist")
    assert hand_folder(collection) == tmp_path.resolve()


def _line(text: str, down: float, *, sure: float = 0.95) -> Line:
    words = tuple(Word(word, sure, least=0.9) for word in text.split())
    return Line(words, ((10, down), (90, down), (90, down + 10), (10, down + 10)), sure, agreed=True)


def test_a_studio_is_itself_and_its_town_no_place_of_the_picture(desk: PrintDesk) -> None:
    view = desk.shown.collection.catalogue.print("B1-0001").verso
    assert view is not None
    lines = (_line("HARBOUR PHOTO WORKS", 10), _line("14 High Street", 24), _line("AUG 1951", 38))
    known = Lookups(DateReader(), is_place=lambda words: words == "High Street")
    found = proposals_of("B1-0001", view, Writing(Inscription(lines), 100, 60), known)
    assert [(one.fact.kind, one.fact.value) for one in found] == [
        (FactKind.STUDIO, "HARBOUR PHOTO WORKS, 14 High Street"),
        (FactKind.PRINTING, "1951-08"),
    ]
    assert "was the paper made then" in found[1].sentence


def test_a_border_tells_when_the_paper_was_made_and_a_number_only_of_a_series(desk: PrintDesk) -> None:
    view = desk.shown.collection.catalogue.print("B1-0001").recto
    assert view is not None
    facts = (
        Fact(FactKind.PRINTING, "1963-07", "JUL . 63", 0, Sure.LIKELY),
        Fact(FactKind.NUMBER, "14", "14", 1, Sure.GUESS),
    )
    writing = Writing(Inscription((_line("JUL . 63", 5), _line("14", 5))), 100, 60, facts)
    alone = proposals_of("B1-0001", view, writing, lookups())
    assert [(one.fact.kind, one.source) for one in alone] == [(FactKind.PRINTING, BORDER)]
    with_others = proposals_of("B1-0001", view, writing, lookups(), of_series=True)
    assert [one.fact.kind for one in with_others] == [FactKind.PRINTING, FactKind.NUMBER]


def test_lines_are_shown_where_they_lie_once_the_print_is_turned(desk: PrintDesk) -> None:
    view = desk.shown.collection.catalogue.print("B1-0001").verso
    assert view is not None
    writing = Writing(Inscription((_line("August 1952", 5),)), 100, 60)
    (turned,) = proposals_of("B1-0001", evolve(view, turn=1), writing, lookups())
    assert turned.line.corners == ((54, 10), (54, 90), (44, 90), (44, 10))
