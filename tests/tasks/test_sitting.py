"""What was done in one sitting, and what of it can be taken back."""

from __future__ import annotations

import pytest

from solander.core.errors import Trouble
from solander.core.people import Person
from solander.tasks.collection import Collection
from solander.tasks.face_desk import FaceDesk
from solander.tasks.names import Names
from solander.tasks.outlines import Outlines
from solander.tasks.show import Shown
from solander.tasks.sitting import Sitting
from solander.tasks.who_is_it import WhoDesk


def keep(collection: Collection, name: str) -> int:
    with collection.catalogue.act("archivist", f"wrote down {name}") as act, act.work() as work:
        work.keep_person(Person(name))
        work.commit()
    assert act.number is not None
    return act.number


def test_the_last_act_of_the_sitting_is_told_and_taken_back(collection: Collection) -> None:
    sitting = Sitting(collection)
    act = sitting.noted(keep(collection, "Ada Holm"))
    assert act is not None
    assert sitting.done(act) == "wrote down Ada Holm"
    assert sitting.undo(act) == "wrote down Ada Holm"
    assert collection.catalogue.person("Ada Holm") is None
    assert sitting.done(act) == "", "what is taken back is offered no more"


def test_what_was_done_elsewhere_is_neither_told_nor_taken_back(collection: Collection) -> None:
    sitting = Sitting(collection)
    act = keep(collection, "Ada Holm")
    assert sitting.done(act) == ""
    with pytest.raises(Trouble, match="not done in this sitting"):
        sitting.undo(act)
    assert collection.catalogue.person("Ada Holm") is not None


def test_what_another_did_since_keeps_an_act_from_being_taken_back(collection: Collection) -> None:
    sitting = Sitting(collection)
    act = sitting.noted(keep(collection, "Ada Holm"))
    assert act is not None
    keep(collection, "Bo Holm")
    assert sitting.done(act) == ""
    with pytest.raises(Trouble):
        sitting.undo(act)
    assert {"Ada Holm", "Bo Holm"} <= collection.catalogue.headings()


def test_nothing_done_leaves_nothing_to_take_back(collection: Collection) -> None:
    sitting = Sitting(collection)
    assert sitting.noted(None) is None
    assert sitting.done(None) == ""


def test_each_desk_has_a_sitting_of_its_own_unless_it_is_given_one(collection: Collection) -> None:
    shown, sitting = Shown(collection), Sitting(collection)
    for own, given in (
        (Outlines(collection), Outlines(collection, sitting)),
        (Names(shown), Names(shown, sitting)),
        (FaceDesk(shown), FaceDesk(shown, sitting)),
        (WhoDesk(collection), WhoDesk(collection, sitting)),
    ):
        assert own.sitting is not sitting
        assert own.sitting.collection is collection
        assert given.sitting is sitting
