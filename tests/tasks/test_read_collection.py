"""What stands on the backs of a collection is read and kept, side by side, whenever it is stopped."""

from __future__ import annotations

from pathlib import Path

import pytest
from written_box import BLUE, GREEN, RED, a_back, add_written, bar_readers

from solander.core.errors import CannotBegin, Trouble
from solander.core.inscriptions.kept import READ
from solander.core.prints import Side
from solander.core.sentence import Sentence
from solander.tasks import read_collection as reading
from solander.tasks.collection import Collection, Progress
from solander.tasks.find import Finder
from solander.tasks.print_desk import PrintDesk
from solander.tasks.read_collection import SidesRead, due_to_be_read, read_collection
from solander.tasks.show import Shown
from solander.tasks.typed import Field, Typed
from solander.tasks.upright import turn_by_hand


@pytest.fixture
def box(collection: Collection, tmp_path: Path) -> Collection:
    """Two written backs and a blank one, each with a front."""
    add_written(collection, tmp_path / "scans", a_back(RED, BLUE), a_back(), a_back(GREEN))
    return collection


def _texts(collection: Collection) -> dict[str, str]:
    return {accession: told.inscription.text for accession, _, told in collection.catalogue.views_written()}


def test_backs_are_read_before_the_borders_of_fronts_and_kept(box: Collection) -> None:
    said: list[Progress] = []
    assert [one.view.side for one in due_to_be_read(box)] == [Side.VERSO] * 3 + [Side.RECTO] * 3
    done = read_collection(box, who=bar_readers, reader="bars", watch=said.append)
    assert done == SidesRead(read=6, written=1)
    assert [(one.subject, one.done, one.total) for one in said[:2]] == [("B1-0001", 1, 6), ("B1-0002", 2, 6)]
    assert _texts(box) == {"B1-0001": "Skegness August 1952\nNan and Bill"}
    front, back = box.catalogue.print("B1-0001").views
    told = box.catalogue.writing(back.key)
    assert told is not None
    assert (told.reader, told.read) == ("bars", READ)
    assert [fact.value for fact in told.facts if fact.kind.value == "date"] == ["1952-08"]
    assert box.catalogue.writing(front.key) is not None
    assert due_to_be_read(box) == []
    assert read_collection(box, who=bar_readers) == SidesRead()
    assert read_collection(box, who=bar_readers, again=True, sides=(Side.VERSO,)).read == 3


def test_writing_that_nobody_could_read_is_kept_as_found(box: Collection) -> None:
    read_collection(box, who=bar_readers)
    told = box.catalogue.writing(box.catalogue.print("B1-0003").views[1].key)
    assert told is not None
    assert told.inscription.text == "[illegible]"


def test_what_was_read_before_it_was_stopped_stays_and_the_rest_is_read_then(box: Collection) -> None:
    done = read_collection(box, who=bar_readers, stopped=lambda: len(box.catalogue.views_read()) == 2)
    assert done.read == 2
    assert len(due_to_be_read(box)) == 4
    assert read_collection(box, who=bar_readers).read == 4


def test_it_is_nobodys_act_and_nothing_is_undone_by_it(box: Collection) -> None:
    before = box.catalogue.last_change()
    read_collection(box, who=bar_readers)
    assert box.catalogue.last_change() == before
    box.catalogue.undo("archivist")
    assert box.catalogue.views_read() == {}


def test_a_back_that_is_turned_is_not_read_again_and_its_lines_lie_where_they_are_seen(box: Collection) -> None:
    read_collection(box, who=bar_readers)
    back = box.catalogue.print("B1-0001").views[1]
    turn_by_hand(box, back.key, 1)
    turned = box.catalogue.print("B1-0001").views[1]
    assert due_to_be_read(box) == []
    told = box.catalogue.writing(turned.key)
    assert told is not None
    assert [round(line.angle_deg) for line in told.seen(turned.turn).lines] == [90, 90]


def test_a_back_read_after_it_was_turned_is_kept_as_the_paper_lay(box: Collection) -> None:
    back = box.catalogue.print("B1-0001").views[1]
    turn_by_hand(box, back.key, 2)
    read_collection(box, who=bar_readers, sides=(Side.VERSO,))
    told = box.catalogue.writing(box.catalogue.print("B1-0001").views[1].key)
    assert told is not None
    first = told.inscription.lines[0]
    assert first.text == "Skegness August 1952"
    assert [round(value) for corner in first.corners[::2] for value in corner] == [30, 40, 250, 54]
    assert round(abs(told.seen(2).lines[0].angle_deg)) == 180


def test_what_was_read_is_found_and_told_as_a_machines_and_a_transcription_as_a_persons(box: Collection) -> None:
    shown = Shown(box)
    read_collection(box, who=bar_readers)

    def found(sought: str) -> list[tuple[str, list[str]]]:
        shown.settle()
        finder = Finder(box)
        return [
            (one.described.print.accession, [where.field for where in one.where])
            for one in finder.told(finder.find(sought))
        ]

    assert found("nan bill") == [("B1-0001", ["machine"])]
    PrintDesk(shown).say(Typed("B1-0001", Field.TRANSCRIPTION, "Skegness,\n_August_ 1952"))
    assert found("nan bill") == []
    assert found("august 1952") == [("B1-0001", ["transcription"])]


def test_a_side_that_cannot_be_read_is_told_and_the_others_are_read(box: Collection) -> None:
    capture = box.catalogue.print("B1-0002").views[1].capture
    box.vault.path(capture).chmod(0o644)
    box.vault.path(capture).write_bytes(b"no picture")
    done = read_collection(box, who=bar_readers)
    assert done.read == 5
    assert [sentence.split(":")[0] for sentence in done.set_aside] == ["What is written on B1-0002 was not read"]
    assert [one.accession for one in due_to_be_read(box)] == ["B1-0002"]


def test_where_nothing_can_read_one_sentence_says_so(box: Collection) -> None:
    def nobody() -> object:
        raise CannotBegin(Sentence("Writing can't be read"), Sentence("the recogniser is not installed"))

    with pytest.raises(CannotBegin, match="not installed"):
        read_collection(box, who=nobody)  # type: ignore[arg-type]
    assert box.catalogue.views_read() == {}


def test_a_trouble_of_one_side_is_no_end(box: Collection, monkeypatch: pytest.MonkeyPatch) -> None:
    was = reading.read_back

    def sometimes(rgb, who, known):
        if len(box.catalogue.views_read()) == 1 and not said:
            said.append(1)
            raise Trouble(Sentence("It was not read"))
        return was(rgb, who, known)

    said: list[int] = []
    monkeypatch.setattr(reading, "read_back", sometimes)
    assert read_collection(box, who=bar_readers, sides=(Side.VERSO,)).read == 2
