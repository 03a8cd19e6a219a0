"""Which faces a released file tells: named for sure, and for the public nobody who counts as living."""

from __future__ import annotations

import re
from datetime import date
from pathlib import Path

import pytest
from scripted_faces import ScriptedReader, draw_print, measure, said_yes

from solander.core.people import Person
from solander.tasks.accession import accession
from solander.tasks.collection import Collection
from solander.tasks.described import described
from solander.tasks.face_regions import faces_by_view, told_faces
from solander.tasks.face_switch import switch_faces
from solander.tasks.look_for_faces import look_for_faces
from solander.tasks.name_faces import name_faces
from solander.tasks.release import release
from solander.tasks.upright import turn_by_hand

pytestmark = pytest.mark.slow

TODAY = date(2026, 11, 25)


@pytest.fixture(autouse=True)
def without_models(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The same on every machine: the models that may be set up on this one look at nothing here."""
    monkeypatch.setenv("SOLANDER_MODELS", str(tmp_path / "no models"))


@pytest.fixture
def box(collection: Collection, tmp_path: Path) -> Collection:
    """One print: Anna, who died, is red; Nils, who may live, green; blue is perhaps Karl; violet nobody named."""
    draw_print(tmp_path / "box" / "0.png", "red", "green", "blue", "violet")
    accession(collection, [tmp_path / "box"], container="B1")
    with collection.catalogue.act("archivist", "people") as act, act.work() as work:
        work.keep_person(Person("Anna", born="1899", died="1971"))
        work.keep_person(Person("Karl", died="1950"))
        work.commit()
    look_for_faces(said_yes(collection), reader=ScriptedReader())
    by_measure = {kept: key for key, kept in collection.catalogue.face_measures().items()}
    for number, name in enumerate(("Anna", "Nils", "Karl?")):
        name_faces(collection, [by_measure[measure(number)]], name)
    return collection


def _told(collection: Collection, audience: str) -> list[str]:
    (one,) = described(collection)
    assert one.print.recto is not None
    faces = faces_by_view(collection)
    return [face.person for face in told_faces(faces, one, one.print.recto, audience=audience, today=TODAY)]


def test_each_audience_is_told_of_whom_it_may_know(box: Collection) -> None:
    assert _told(box, "family") == _told(box, "archive") == ["Anna", "Nils"]
    assert _told(box, "public") == ["Anna"]
    switch_faces(box, on=False)
    assert _told(box, "archive") == []


def test_boxes_are_those_of_the_picture_as_it_is_handed_over(box: Collection) -> None:
    front = described(box)[0].print.recto
    assert front is not None
    before = told_faces(faces_by_view(box), described(box)[0], front, audience="family")
    turn_by_hand(box, front.key, 1)
    (one,) = described(box)
    assert one.print.recto is not None
    after = told_faces(faces_by_view(box), one, one.print.recto, audience="family")
    assert {face.person: face.box.turned(1) for face in before} == {face.person: face.box for face in after}


@pytest.mark.parametrize("audience", ["archive", "family"])
def test_released_files_carry_the_names_in_their_place_and_no_measure(
    box: Collection, tmp_path: Path, audience: str
) -> None:
    released = release(box, tmp_path / audience, audience=audience)
    content = b"".join(path.read_bytes() for path in released.root.rglob("*") if path.is_file())
    named = set(re.findall(rb"mwg-rs:Name(?:>|=\")(\w+)", content))  # the library writes it either way
    assert named == {b"Anna", b"Nils"}
    assert b"Unknown person" not in content
    for kept in box.catalogue.face_measures().values():
        assert kept not in content
        assert kept.hex().encode() not in content
