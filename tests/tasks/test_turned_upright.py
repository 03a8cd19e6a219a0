"""Turning prints the right way up: by faces while they are taken in, as their neighbours lay, by a person.

What faces are worth is measured in tests/reading on real photographs; here the finds are scripted.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Sequence
from pathlib import Path

import numpy as np
import pytest
from PIL import Image
from small_box import SHARP, asked, capture_of

from solander.core.errors import CannotBegin, NotFound
from solander.core.prints import Capture, Outline, Print, Side, View, accession_number
from solander.core.questions import Asks
from solander.core.upright import ENOUGH, Upright
from solander.imaging.compare import distance, fingerprint
from solander.imaging.decode import decode
from solander.tasks import faces as tasks_faces
from solander.tasks import prepare, turn_by_faces
from solander.tasks.accession import accession
from solander.tasks.collection import Collection
from solander.tasks.prepare import view_paths
from solander.tasks.show import Shown
from solander.tasks.turn_by_faces import turn_collection_by_faces
from solander.tasks.upright import turn_as_neighbours, turn_by_hand

pytestmark = pytest.mark.slow

WIDE, TALL = (90, 60), (60, 90)
Told = tuple[int, Upright | None]
UNKNOWN: Told = (0, None)
FACES = Upright.FACES


@pytest.fixture(autouse=True)
def _no_models(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SOLANDER_MODELS", str(tmp_path / "models"))


@pytest.fixture
def collection(tmp_path: Path) -> Iterator[Collection]:
    with Collection.create(tmp_path / "box") as opened:
        yield opened


def _laid(collection: Collection, of: Sequence[Told], *, container: str | None = "B1", size=WIDE) -> list[str]:  # type: ignore[no-untyped-def]
    """Prints entered as if they had been taken in, `turn` and what tells it for each."""
    accessions = []
    with collection.catalogue.act("archivist", "took in some prints") as act, act.work() as work:
        for turn, upright in of:
            number = work.next_number(container)
            sha256 = hashlib.sha256(f"{container}{number}".encode()).hexdigest()
            work.keep_capture(Capture(sha256, f"{number}.jpg", "image/jpeg", 1, 100, 100))
            work.keep_arrival(f"{number}.jpg", sha256)
            outline = Outline(((0, 0), (size[0], 0), size, (0, size[1])), 1.0)
            view = View(sha256, 0, outline, Side.RECTO, *size).turned(turn, upright)
            accession_ = accession_number(container, number)
            work.add_print(Print(accession_, container, number, (view,)))
            accessions.append(accession_)
        work.commit()
    return accessions


def _settle(collection: Collection, accessions: Sequence[str]) -> None:
    with collection.catalogue.act("archivist", "turned") as act:
        turn_as_neighbours(collection, act, accessions)


def _told(collection: Collection, accession_: str) -> Told:
    view = collection.catalogue.print(accession_).recto
    assert view is not None
    return view.turn, view.upright


def _asked(collection: Collection) -> list[str]:
    return [subject for subject, _ in asked(collection, Asks.UPRIGHT)]


def test_a_batch_that_lay_the_same_way_is_turned_and_nothing_is_asked(collection: Collection) -> None:
    prints = _laid(collection, [(1, FACES)] * ENOUGH + [UNKNOWN] * 3)
    _settle(collection, prints)
    assert [_told(collection, one) for one in prints[ENOUGH:]] == [(1, Upright.HABIT)] * 3
    assert _asked(collection) == []


def test_another_box_and_another_shape_tell_nothing(collection: Collection) -> None:
    _laid(collection, [(1, FACES)] * 8)
    other = _laid(collection, [UNKNOWN], container="B2")
    tall = _laid(collection, [UNKNOWN], size=TALL)
    _settle(collection, [*other, *tall])
    assert sorted(_asked(collection)) == sorted([*other, *tall])


def test_only_as_many_are_asked_about_as_make_a_habit(collection: Collection) -> None:
    prints = _laid(collection, [UNKNOWN] * 40)
    _settle(collection, prints)
    first = _asked(collection)
    assert len(first) == ENOUGH
    _settle(collection, prints)
    assert _asked(collection) == first, "asking again asks the same"
    for one in first:
        view = collection.catalogue.print(one).recto
        assert view is not None
        turn_by_hand(collection, view.key, 3)
    assert _asked(collection) == []
    assert {_told(collection, one) for one in prints} == {(3, Upright.PERSON), (3, Upright.HABIT)}


def test_answers_that_disagree_make_no_habit_and_others_are_asked(collection: Collection) -> None:
    prints = _laid(collection, [UNKNOWN] * 12)
    _settle(collection, prints)
    for turn, one in enumerate(first := _asked(collection)):
        view = collection.catalogue.print(one).recto
        assert view is not None
        turn_by_hand(collection, view.key, turn)
    second = _asked(collection)
    assert len(second) == ENOUGH
    assert not set(first) & set(second)
    assert sum(_told(collection, one)[1] is None for one in prints) == 12 - ENOUGH


def test_what_a_person_said_is_never_changed(collection: Collection) -> None:
    prints = _laid(collection, [(1, FACES)] * 9 + [(0, Upright.PERSON)])
    _settle(collection, prints)
    assert _told(collection, prints[-1]) == (0, Upright.PERSON)


def test_loose_prints_of_one_sitting_are_a_batch(collection: Collection) -> None:
    prints = _laid(collection, [(2, FACES)] * ENOUGH + [UNKNOWN], container=None)
    _settle(collection, prints)
    assert _told(collection, prints[-1]) == (2, Upright.HABIT)


def test_an_answer_is_in_history_and_can_be_taken_back_with_what_followed(collection: Collection) -> None:
    prints = _laid(collection, [(1, FACES)] * (ENOUGH - 1) + [UNKNOWN] * 3)
    _settle(collection, prints)
    view = collection.catalogue.print(prints[-1]).recto
    assert view is not None
    done = turn_by_hand(collection, view.key, 1, who="Ingrid")
    assert [_told(collection, one) for one in prints[-3:]] == [(1, Upright.HABIT)] * 2 + [(1, Upright.PERSON)]
    told = collection.catalogue.history()[0]
    assert (told.who, told.act) == ("Ingrid", f"turned the front of {prints[-1]}")
    assert done.key == view.turned(1, None).key
    with pytest.raises(NotFound, match="no longer in use"):
        turn_by_hand(collection, view.key, 1)
    collection.catalogue.undo("Ingrid")
    assert [_told(collection, one) for one in prints[-3:]] == [UNKNOWN] * 3
    assert len(_asked(collection)) == 3


def test_saying_that_it_is_right_changes_no_picture(collection: Collection) -> None:
    (only,) = _laid(collection, [UNKNOWN])
    _settle(collection, [only])
    view = collection.catalogue.print(only).recto
    assert view is not None
    assert turn_by_hand(collection, view.key, 0).key == view.key
    assert (_told(collection, only), _asked(collection)) == ((0, Upright.PERSON), [])
    assert turn_by_hand(collection, view.key, 4).act is None, "the same again is no change"


def _of_scripted_faces(votes: tuple[float, float, float, float], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(tasks_faces, "installed", lambda model: Path(model.name))
    monkeypatch.setattr(prepare, "turn_votes", lambda rgb, model: votes)


def test_faces_turn_a_front_as_it_is_taken_in_and_leave_backs_alone(
    collection: Collection, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    for name in ("1_r.png", "1_v.png"):
        capture_of(0, SHARP, 4.0 if "r" in name else 0.0).save(tmp_path / name)
    plain = Collection.create(tmp_path / "plain")
    accession(plain, [tmp_path / "1_r.png"])
    _of_scripted_faces((0, 0, 0, 1.7), monkeypatch)
    accession(collection, [tmp_path / "1_r.png", tmp_path / "1_v.png"])
    (as_it_lay,), (print_,) = plain.catalogue.prints(), collection.catalogue.prints()
    plain.close()
    lying, front, back = as_it_lay.recto, print_.recto, print_.verso
    assert lying is not None
    assert front is not None
    assert back is not None
    assert (front.turn, front.upright) == (3, FACES)
    assert (back.turn, back.upright) == (0, None)
    assert (front.width, front.height) == (lying.height, lying.width)
    before, after = (decode(view_paths(root, view.key)[0]) for root, view in
                     ((tmp_path / "plain" / "views", lying), (collection.views_root, front)))  # fmt: skip
    # The outside check: numpy's own quarter turn, counter-clockwise once for three clockwise.
    assert np.abs(np.rot90(before, 1).astype(int) - after).mean() < 2.0, "only the coding differs"
    assert front.condition is not None
    assert distance(front.condition.fingerprint, fingerprint(after)) <= 2


def test_a_turned_picture_and_its_fingerprint_follow_an_answer(collection: Collection, tmp_path: Path) -> None:
    capture_of(1, SHARP, 3.0).save(tmp_path / "1.png")
    accession(collection, [tmp_path / "1.png"])
    view = collection.catalogue.prints()[0].recto
    assert view is not None
    key = turn_by_hand(collection, view.key, 2).key
    turned = collection.catalogue.prints()[0].recto
    assert turned is not None
    prepare.remake_view(collection.vault.path(turned.capture), turned, collection.views_root)
    before, after = (decode(view_paths(collection.views_root, one)[0]) for one in (view.key, key))
    assert np.abs(before[::-1, ::-1].astype(int) - after).mean() < 2.0
    assert turned.condition is not None
    assert distance(turned.condition.fingerprint, fingerprint(after)) <= 2


def test_prints_taken_in_before_the_set_up_are_turned_but_not_those_that_a_person_turned(
    collection: Collection, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with pytest.raises(CannotBegin, match="not set up"):
        turn_collection_by_faces(collection)
    for number in (0, 3):
        capture_of(number, SHARP, 3.0).save(tmp_path / f"{number}.png")
    accession(collection, [tmp_path / "0.png", tmp_path / "3.png"])
    first, second = collection.catalogue.prints()
    assert first.recto is not None
    turn_by_hand(collection, first.recto.key, 2)
    monkeypatch.setattr(turn_by_faces, "face_model", lambda: Path("yunet.onnx"))
    monkeypatch.setattr(turn_by_faces, "turn_votes", lambda rgb, model: (0, 0.9, 0, 0))
    looked = turn_collection_by_faces(collection)
    assert (looked.fronts, looked.told, looked.turned) == (1, 1, 1)
    assert _told(collection, first.accession) == (2, Upright.PERSON)
    assert _told(collection, second.accession) == (1, FACES)
    assert turn_collection_by_faces(collection).fronts == 0, "all are known"


def test_pages_show_a_turn_at_once_and_as_if_all_had_been_worked_out_anew(
    collection: Collection, monkeypatch: pytest.MonkeyPatch
) -> None:
    prints = _laid(collection, [UNKNOWN] * 3) + _laid(collection, [UNKNOWN], container="B2")
    _settle(collection, prints)
    shown = Shown(collection)
    before = shown.described()
    view = before[0].print.recto
    assert view is not None
    monkeypatch.delattr("solander.tasks.show.keep_all")  # no turn changes the order, so it is not worked out anew
    assert shown.turn(view.key, 1).accession == prints[0]
    assert shown.described() == Shown(collection).described()
    assert [one.when for one in shown.described()] == [one.when for one in before]
    monkeypatch.undo()
    _laid(collection, [UNKNOWN], container="B3")
    turned = shown.described()[1].print.recto
    assert turned is not None
    shown.turn(turned.key, 2)
    assert shown.described() == Shown(collection).described()
    assert len(shown.described()) == 5


def test_a_turn_is_counted_from_how_the_camera_meant_its_picture(
    collection: Collection, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """EXIF 2.3, tag 0x0112: value 6 asks a viewer to turn the stored picture a quarter clockwise."""
    seen = capture_of(0, SHARP, 3.0)
    seen.save(tmp_path / "plain.png")
    exif = Image.Exif()
    exif[0x0112] = 6
    seen.transpose(Image.Transpose.ROTATE_90).save(tmp_path / "turned.png", exif=exif)
    _of_scripted_faces((0, 0.9, 0, 0), monkeypatch)
    accession(collection, [tmp_path / "plain.png", tmp_path / "turned.png"])
    plain, turned = (print_.recto for print_ in collection.catalogue.prints())
    assert plain is not None
    assert turned is not None
    assert (plain.turn, plain.outline.corners) == (turned.turn, turned.outline.corners)
    one, other = (decode(view_paths(collection.views_root, view.key)[0]) for view in (plain, turned))
    assert np.array_equal(one, other)
