"""What a person says of faces: names become statements and go with them; the finds are scripted."""

from __future__ import annotations

from pathlib import Path

import pytest
from scripted_faces import ScriptedReader, draw_print, measure, said_yes

from solander.core.errors import InvalidValue, NotFound, Trouble
from solander.core.faces import Aside, Box, Face
from solander.core.people import Person
from solander.core.statements import About, Says, Statement, Sure
from solander.tasks.accession import accession
from solander.tasks.collection import Collection
from solander.tasks.look_for_faces import look_for_faces
from solander.tasks.name_faces import draw_face, name_faces, part, put_aside, remove_face, unname

pytestmark = pytest.mark.slow


@pytest.fixture(autouse=True)
def without_models(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The same on every machine: the models that may be set up on this one look at nothing here."""
    monkeypatch.setenv("SOLANDER_MODELS", str(tmp_path / "no models"))


@pytest.fixture
def box(collection: Collection, tmp_path: Path) -> Collection:
    """Two prints: red and green, blue and red; faces were looked for by a reader that is blind to green."""
    for number, people in enumerate((("red", "green"), ("blue", "red"))):
        draw_print(tmp_path / "box" / f"{number}.png", *people, seed=number)
    accession(collection, [tmp_path / "box"], container="B1")
    look_for_faces(said_yes(collection), reader=ScriptedReader(blind=("green",)))
    return collection


def _faces(collection: Collection, person: int) -> list[Face]:
    measures = collection.catalogue.face_measures()
    return [face for face in collection.catalogue.faces() if measures.get(face.key) == measure(person)]


def _said(collection: Collection) -> list[tuple[str, str, str]]:
    statements = collection.catalogue.statements()
    return [(one.subject, one.value, one.sure) for one in statements if one.says is Says.PERSON]


def test_a_group_is_named_in_one_act_and_each_print_shows_the_person(box: Collection) -> None:
    red = _faces(box, 0)
    name_faces(box, [face.key for face in red], " Ingrid  Weber ")
    assert _said(box) == [("B1-0001", "Ingrid Weber", "certain"), ("B1-0002", "Ingrid Weber", "certain")]
    assert {(face.person, face.by) for face in _faces(box, 0)} == {("Ingrid Weber", "archivist")}
    box.catalogue.undo("archivist")
    assert _said(box) == []
    assert {face.person for face in box.catalogue.faces()} == {""}


def test_a_question_mark_makes_it_a_guess_and_a_known_name_finds_its_heading(box: Collection) -> None:
    with box.catalogue.act("archivist", "told of people") as act, act.work() as work:
        work.keep_person(Person("Ingrid Weber", also_called=("Inge",)))
        work.commit()
    name_faces(box, [_faces(box, 0)[0].key], "inge?")
    assert _said(box) == [("B1-0001", "Ingrid Weber", "guess")]


def test_what_a_slip_said_already_is_not_said_again_and_stays_when_the_name_goes(box: Collection) -> None:
    slip = Statement(
        "s1", About.PRINT, "B1-0001", Says.PERSON, "Ingrid", "Ingrid", Sure.CERTAIN, "slip", "2026-01-01"
    )
    with box.catalogue.act("archivist", "a slip") as act, act.work() as work:
        work.state(slip)
        work.commit()
    key = _faces(box, 0)[0].key
    name_faces(box, [key], "Ingrid")
    assert len(_said(box)) == 1
    unname(box, key)
    assert [one.id for one in box.catalogue.statements() if one.says is Says.PERSON] == ["s1"]
    assert box.catalogue.face(key).is_asked_about


def test_another_name_takes_the_place_of_the_first(box: Collection) -> None:
    key = _faces(box, 0)[0].key
    for name in ("Ingrid", "Anna", "Ingrid"):
        name_faces(box, [key], name)
    assert [value for _, value, _ in _said(box)] == ["Ingrid"]
    put_aside(box, key, Aside.NO_PERSON)
    assert _said(box) == []


def test_nobody_is_in_one_picture_twice(box: Collection) -> None:
    both = [face.key for face in box.catalogue.faces(view=_faces(box, 0)[1].view)]
    assert len(both) == 2
    with pytest.raises(Trouble, match="can’t both be Ingrid"):
        name_faces(box, both, "Ingrid")
    with pytest.raises(InvalidValue, match="the name is empty"):
        name_faces(box, both[:1], " ? ")
    with pytest.raises(NotFound):
        name_faces(box, ["no such"], "Ingrid")


def test_a_parted_face_keeps_its_own_number_when_faces_are_looked_for_again(
    box: Collection, tmp_path: Path
) -> None:
    one, other = _faces(box, 0)
    assert one.group == other.group
    part(box, [other.key])
    accession(box, [draw_print(tmp_path / "more" / "late.png", "violet", seed=7)], container="B1")
    look_for_faces(box, reader=ScriptedReader())
    assert box.catalogue.face(one.key).group == one.group
    assert box.catalogue.face(other.key).group not in (None, one.group)


def test_a_drawn_face_is_measured_named_and_taken_off_again(box: Collection) -> None:
    reader = ScriptedReader(blind=("green",))
    front = box.catalogue.prints()[0].recto
    assert front is not None
    (seen,) = [one for one in ScriptedReader().faces_in(_pixels(box, front.key)) if one.measure == measure(1)]
    done = draw_face(box, front.key, seen.box, reader=reader)
    face = box.catalogue.face(done.key)
    assert (face.score, face.by) == (None, "archivist")
    assert box.catalogue.face_measures()[face.key] == measure(1)
    with pytest.raises(InvalidValue, match="one in that place already"):
        draw_face(box, front.key, seen.box, reader=reader)
    name_faces(box, [face.key], "Karl")
    remove_face(box, face.key)
    with pytest.raises(NotFound):
        box.catalogue.face(face.key)
    assert (_said(box), face.key in box.catalogue.face_measures()) == ([], False)


def test_a_face_can_be_drawn_where_no_model_sees_one_and_a_wrong_find_is_not_found_again(box: Collection) -> None:
    front = box.catalogue.prints()[0].recto
    assert front is not None
    done = draw_face(box, front.key, Box(0.7, 0.7, 0.1, 0.1), reader=ScriptedReader())
    assert box.catalogue.face(done.key).points == ()
    with pytest.raises(InvalidValue, match="too small"):
        draw_face(box, front.key, Box(0.7, 0.1, 0.0001, 0.1), reader=ScriptedReader())
    found = _faces(box, 0)[0]
    remove_face(box, found.key)
    assert box.catalogue.face(found.key).aside is Aside.NO_PERSON
    assert not box.catalogue.face(found.key).is_shown


def _pixels(collection: Collection, key: str):
    from solander.imaging.decode import decode
    from solander.tasks.look_for_faces import picture_of_view

    return decode(picture_of_view(collection.root, collection.catalogue.view(key)[1]))
