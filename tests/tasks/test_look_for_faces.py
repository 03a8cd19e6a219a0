"""Faces on their way through a collection, found by a scripted reader: looked for, grouped, followed, erased."""

from __future__ import annotations

import shutil
import sqlite3
from collections.abc import Iterator
from pathlib import Path
from types import SimpleNamespace

import numpy as np
import pytest
from scripted_faces import PAPER, ScriptedReader, draw_print, measure, said_yes

from solander.catalogue import erase, store
from solander.core.errors import CannotBegin, Trouble
from solander.core.faces import Aside, Face
from solander.core.statements import Says
from solander.tasks import look_for_faces as looking
from solander.tasks import show
from solander.tasks.accession import accession
from solander.tasks.collection import Collection
from solander.tasks.copy import second_copy
from solander.tasks.erase_faces import erase_faces
from solander.tasks.face_desk import FaceDesk
from solander.tasks.face_switch import switch_faces
from solander.tasks.look_for_faces import FacesLooked, look_for_faces
from solander.tasks.name_faces import name_faces, put_aside
from solander.tasks.redraw import redraw
from solander.tasks.upright import turn_by_hand

pytestmark = pytest.mark.slow

READER = ScriptedReader()


@pytest.fixture(autouse=True)
def without_models(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The same on every machine: the models that may be set up on this one look at nothing here."""
    monkeypatch.setenv("SOLANDER_MODELS", str(tmp_path / "no models"))


@pytest.fixture(scope="module")
def taken_in(empty_box: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The collection's folder, to be copied."""
    home = tmp_path_factory.mktemp("faces")
    for number, people in enumerate((("red", "green"), ("blue", "red"), ("violet",))):
        draw_print(home / "box" / f"{number}.png", *people, seed=number)
    shutil.copytree(empty_box, home / "collection")
    with pytest.MonkeyPatch.context() as patch, Collection.open(home / "collection") as opened:
        patch.setenv("SOLANDER_MODELS", str(home / "no models"))
        accession(opened, [home / "box"], container="B1")
        said_yes(opened)
    return home / "collection"


@pytest.fixture
def box(taken_in: Path, tmp_path: Path) -> Iterator[Collection]:
    """Three prints: red and green, red and blue, violet; with the switch on."""
    shutil.copytree(taken_in, tmp_path / "faces" / "collection")
    with Collection.open(tmp_path / "faces" / "collection") as opened:
        yield opened


def _by_colour(collection: Collection) -> dict[str, list[Face]]:
    measures = collection.catalogue.face_measures()
    known = {measure(number): name for number, name in enumerate(("red", "green", "blue", "violet"))}
    found: dict[str, list[Face]] = {}
    for face in collection.catalogue.faces():
        found.setdefault(known[measures[face.key]], []).append(face)
    return found


def test_nothing_is_looked_for_until_somebody_said_yes(collection: Collection) -> None:
    with pytest.raises(CannotBegin, match="not been given leave"):
        look_for_faces(collection, reader=READER)
    switch_faces(collection, on=True)
    assert look_for_faces(collection, reader=READER) == FacesLooked(0, 0, 0)
    switch_faces(collection, on=False)
    with pytest.raises(CannotBegin):
        look_for_faces(collection, reader=READER)


def test_like_faces_of_different_prints_have_one_number_and_others_their_own(box: Collection) -> None:
    assert look_for_faces(box, reader=READER) == FacesLooked(3, 5, 4)
    faces = _by_colour(box)
    assert len({face.group for face in faces["red"]}) == 1
    assert len({face.group for those in faces.values() for face in those}) == 4
    assert all(face.person == "" for those in faces.values() for face in those), "nobody is named by a machine"


def test_looking_again_finds_nothing_twice_and_a_new_print_joins_the_group(
    box: Collection, tmp_path: Path
) -> None:
    look_for_faces(box, reader=READER)
    assert look_for_faces(box, reader=READER) == FacesLooked(0, 0, 0)
    accession(box, [draw_print(tmp_path / "more" / "late.png", "red", seed=9)], container="B1")
    assert look_for_faces(box, reader=READER) == FacesLooked(1, 1, 0)
    assert len({face.group for face in _by_colour(box)["red"]}) == 1


def test_history_tells_of_faces_and_of_no_measure(box: Collection) -> None:
    look_for_faces(box, reader=READER)
    tables = {change.table for change in box.catalogue.history(10_000)}
    assert "faces" in tables
    assert "face_measures" not in tables


def test_a_turned_print_keeps_its_faces_where_they_are(box: Collection) -> None:
    look_for_faces(box, reader=READER)
    before = {face.key: face.box for face in box.catalogue.faces()}
    view = box.catalogue.prints()[0].recto
    assert view is not None
    turn_by_hand(box, view.key, 1)
    assert {face.key: face.box for face in box.catalogue.faces()} == before
    assert look_for_faces(box, reader=READER).found == 0, "seen in the turned picture, they are the same"


@pytest.mark.parametrize("turns", [0, 1, 2, 3])
def test_a_redrawn_outline_keeps_named_faces_in_their_place(box: Collection, turns: int) -> None:
    """The truth is where the squares were drawn in the capture."""
    look_for_faces(box, reader=READER)
    front = box.catalogue.prints()[0].recto
    assert front is not None
    done = turn_by_hand(box, front.key, turns)
    face = next(one for one in _by_colour(box)["green"])
    name_faces(box, [face.key], "Ingrid")
    left, top, right, bottom = PAPER
    drawn = redraw(box, done.key, [(left + 10, top + 5), (right - 1, top), (right, bottom - 20), (left, bottom)])
    (kept,) = [one for one in box.catalogue.faces(view=drawn.key) if one.person]
    _, view = box.catalogue.view(drawn.key)
    seen = [one for one in READER.faces_in(_pixels(box, drawn.key)) if one.measure == measure(1)]
    assert kept.person == "Ingrid"
    assert kept.box.turned(view.turn).overlap(seen[0].box) > 0.8
    assert look_for_faces(box, reader=READER).found == 0
    box.catalogue.undo("archivist")
    box.catalogue.undo("archivist")
    assert box.catalogue.face(face.key).box == face.box


def _pixels(collection: Collection, key: str) -> np.ndarray:
    from solander.imaging.decode import decode
    from solander.tasks.look_for_faces import picture_of_view

    return decode(picture_of_view(collection.root, collection.catalogue.view(key)[1]))


def test_a_face_outside_the_new_outline_goes_and_what_was_said_stays(box: Collection) -> None:
    look_for_faces(box, reader=READER)
    (green,) = _by_colour(box)["green"]
    name_faces(box, [green.key], "Ingrid")
    left, top, _, bottom = PAPER
    redraw(box, green.view, [(left, top), (left + 150, top), (left + 150, bottom), (left, bottom)])
    accession = box.catalogue.prints()[0].accession
    assert "green" not in _by_colour(box)
    assert [one.value for one in box.catalogue.statements(subject=accession) if one.says is Says.PERSON] == [
        "Ingrid"
    ]


def test_undo_takes_back_a_look_with_its_measures(box: Collection) -> None:
    look_for_faces(box, reader=READER)
    box.catalogue.undo("archivist")
    assert (box.catalogue.faces(), box.catalogue.face_measures()) == ([], {})
    assert look_for_faces(box, reader=READER).found == 5
    assert min(face.group or 0 for face in box.catalogue.faces()) == 5, "a number is never given twice"


def test_a_measure_that_is_missing_is_taken_again(box: Collection) -> None:
    look_for_faces(box, reader=READER)
    (violet,) = _by_colour(box)["violet"]
    put_aside(box, violet.key, Aside.STRANGER)
    assert violet.key not in box.catalogue.face_measures(), "nobody asked for a stranger’s to be kept"
    assert look_for_faces(box, reader=READER).found == 0
    assert violet.key not in box.catalogue.face_measures()
    box.catalogue.undo("archivist")  # the empty look left no act
    look_for_faces(box, reader=READER)
    assert violet.key in box.catalogue.face_measures()


def test_erasing_leaves_no_byte_of_a_face_in_the_collection(box: Collection, tmp_path: Path) -> None:
    look_for_faces(box, reader=READER)
    red = _by_colour(box)["red"]
    name_faces(box, [face.key for face in red], "Ingrid")
    put_aside(box, _by_colour(box)["violet"][0].key, Aside.LATER)
    measures, keys = list(box.catalogue.face_measures().values()), [face.key for face in box.catalogue.faces()]
    boxes = [repr(face.box.left) for face in red]
    assert _found_in(box.root, measures[0][:40].strip(b"\0"))
    assert all(_found_in(box.root, key.encode()) for key in keys), "the search below can find them"

    erased = erase_faces(box)

    assert (erased.faces, erased.names) == (5, 0)
    for traces in (keys, boxes):
        assert not [trace for trace in traces if _found_in(box.root, trace.encode())]
    assert not [trace for trace in measures if _found_in(box.root, trace)]
    assert (box.catalogue.faces(), box.catalogue.face_measures()) == ([], {})
    assert [one.value for one in box.catalogue.statements() if one.says is Says.PERSON] == ["Ingrid", "Ingrid"]
    assert box.catalogue.damage() == []
    with pytest.raises(CannotBegin):
        look_for_faces(box, reader=READER)
    with pytest.raises(sqlite3.IntegrityError, match="appended only"):
        sqlite3.connect(box.catalogue.path).execute("DELETE FROM changes")


def _found_in(folder: Path, trace: bytes) -> bool:
    return any(trace in path.read_bytes() for path in folder.rglob("*") if path.is_file())


def test_erasing_with_the_names_withdraws_those_that_were_given_by_pointing(box: Collection) -> None:
    look_for_faces(box, reader=READER)
    name_faces(box, [_by_colour(box)["blue"][0].key], "Karl")
    assert erase_faces(box, names_too=True).names == 1
    assert [one for one in box.catalogue.statements() if one.says is Says.PERSON] == []


def test_erasing_tells_where_a_copy_still_holds_them_and_copying_again_clears_it(
    box: Collection, tmp_path: Path
) -> None:
    look_for_faces(box, reader=READER)
    key = box.catalogue.faces()[0].key.encode()
    copy = tmp_path / "a copy"
    second_copy(box, copy)
    assert _found_in(copy, key)
    assert erase_faces(box).copy == str(copy)
    second_copy(box, copy)
    assert not _found_in(copy, key)


@pytest.fixture
def impatient(monkeypatch: pytest.MonkeyPatch) -> None:
    """Whoever erases waits a moment for others, and tries a second time."""
    monkeypatch.setattr(store, "_PATIENCE_S", 0.2)
    monkeypatch.setattr(erase, "TRIES", 2)
    monkeypatch.setattr(erase, "PAUSE_S", 0.0)


def test_erasing_is_tried_again_by_itself_while_somebody_reads(
    box: Collection, impatient: None, monkeypatch: pytest.MonkeyPatch
) -> None:
    look_for_faces(box, reader=READER)
    keys = [face.key.encode() for face in box.catalogue.faces()]
    reading = sqlite3.connect(box.catalogue.path, isolation_level=None)
    reading.execute("BEGIN")
    reading.execute("SELECT count(*) FROM faces").fetchone()
    # Who reads is done while it waits for the next try.
    monkeypatch.setattr(erase, "time", SimpleNamespace(sleep=lambda _: reading.close()))
    assert erase_faces(box).faces == 5
    assert not [key for key in keys if _found_in(box.root, key)]


def test_erasing_stops_whoever_works_the_order_out(
    box: Collection, impatient: None, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The process has the catalogue open for as long as that takes; it begins anew with the next page."""
    look_for_faces(box, reader=READER)
    monkeypatch.setattr(show, "FEW", 1)
    shown = show.Shown(box)
    shown.settle()
    assert shown.behind.at_work
    desk = FaceDesk(shown)
    desk.erase(names_too=False)
    assert not shown.behind.at_work
    assert desk.erased is not None
    assert desk.erased.faces == 5
    shown.settle()
    assert shown.behind.at_work
    shown.behind.stop()


def test_erasing_while_somebody_reads_says_that_traces_may_be_left(box: Collection, impatient: None) -> None:
    look_for_faces(box, reader=READER)
    reading = sqlite3.connect(box.catalogue.path, isolation_level=None)
    reading.execute("BEGIN")
    reading.execute("SELECT count(*) FROM faces").fetchone()
    try:
        with pytest.raises(Trouble, match="open"):
            erase_faces(box)
    finally:
        reading.close()
    key = b"faces_looked"
    assert erase_faces(box).faces == 0
    assert _found_in(box.root, key), "the table itself stays"


def test_a_look_that_goes_on_while_faces_are_erased_keeps_nothing(box: Collection) -> None:
    class Erasing(ScriptedReader):
        def faces_in(self, rgb):
            if box.catalogue.setting("faces").startswith("on "):
                erase_faces(box)
            return super().faces_in(rgb)

    assert look_for_faces(box, reader=Erasing()) == FacesLooked(0, 0, 0)
    assert box.catalogue.faces() == []
    assert box.catalogue.face_measures() == {}
    assert box.catalogue.looked_at_for_faces() == set()


def test_what_was_done_before_faces_were_erased_can_still_be_taken_back(box: Collection) -> None:
    look_for_faces(box, reader=READER)
    erase_faces(box)
    assert box.catalogue.last_act() is not None
    assert box.catalogue.undo("archivist") == "took in box", "the yes was overruled for good and is passed over"
    assert box.catalogue.prints() == []
    assert box.catalogue.setting("faces").startswith("off ")


def test_taking_in_without_the_models_says_once_that_no_faces_were_looked_for(
    box: Collection, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    late = draw_print(tmp_path / "more" / "late.png", "red", seed=9)
    said = accession(box, [late], container="B1").faces_said
    assert said.startswith("No faces were looked for: the model that finds them is not set up.")
    monkeypatch.setattr(looking, "face_reader", lambda: READER)
    later = draw_print(tmp_path / "more" / "later.png", "red", seed=11)
    assert accession(box, [later], container="B1").faces_said == "7 faces found, for you to name."
    box.catalogue.undo("archivist")
    assert box.catalogue.faces() == [], "what a take-in found goes with it"
    switch_faces(box, on=False)
    assert accession(box, [later], container="B1").faces_said == ""
