"""Treated pictures lie beside untreated ones, can be made again bit by bit, and follow a view that is redone."""

from __future__ import annotations

import numpy as np
import pytest
from attrs import evolve
from small_box import Draw

from solander.core.errors import NotFound, Trouble
from solander.core.prints import View
from solander.core.treatments import UNTREATED, Step, Treatment
from solander.imaging.decode import decode
from solander.imaging.treatment.treat import treat
from solander.tasks.accession import accession
from solander.tasks.collection import Collection
from solander.tasks.prepare import view_paths
from solander.tasks.redraw import redraw
from solander.tasks.show import Shown
from solander.tasks.treated import treated, treated_paths
from solander.tasks.upright import turn_by_hand

pytestmark = pytest.mark.slow

DARKER = Treatment.of([Step("density", {"by": 0.2}, who="Ada"), Step("crop", {"box": [0.1, 0.1, 0.9, 0.6]})])


@pytest.fixture
def one(draw: Draw, collection: Collection) -> Collection:
    """One print."""
    accession(collection, [draw("a.jpg", 1)])
    return collection


def front(collection: Collection) -> View:
    view = collection.catalogue.print("P-0001").recto
    assert view is not None
    return view


def give(collection: Collection, treatment: Treatment) -> View:
    with collection.catalogue.act("Ada", "treated") as act, act.work() as work:
        work.set_treatment(front(collection).key, treatment)
        work.commit()
    return front(collection)


def test_without_a_treatment_that_is_on_the_files_are_the_untreated_ones(one: Collection) -> None:
    view = front(one)
    assert view.treatment == UNTREATED
    assert treated_paths(one, view) == view_paths(one.views_root, view.key)
    off = give(one, DARKER.switched("density", on=False).switched("crop", on=False))
    assert treated_paths(one, off) == view_paths(one.views_root, view.key)


def test_a_treated_picture_is_the_untreated_one_with_the_steps_and_leaves_it_as_it_is(one: Collection) -> None:
    untreated = view_paths(one.views_root, front(one).key)[0]
    before = untreated.read_bytes()
    view = give(one, DARKER)
    large, small = treated_paths(one, view)
    assert untreated.read_bytes() == before
    assert large.name == f"{view.key}.{DARKER.key}.jpg"
    expected = treat(decode(untreated), DARKER.applied).picture
    assert np.array_equal(treated(one, view, DARKER).picture, expected)
    assert np.abs(decode(large).astype(float) - expected).mean() < 2  # a JPEG of it
    assert max(decode(small).shape) == 480 or decode(small).shape == expected.shape


def test_deleted_pictures_are_made_again_bit_by_bit(one: Collection) -> None:
    view = give(one, DARKER)
    first = [path.read_bytes() for path in treated_paths(one, view)]
    for path in (one.views_root / view.key[:2]).iterdir():
        path.unlink()
    assert [path.read_bytes() for path in treated_paths(one, view)] == first


def test_the_workbench_serves_the_views_own_treatment_and_no_other(one: Collection) -> None:
    view = give(one, DARKER)
    shown = Shown(one)
    assert shown.treated_path(view.key, DARKER.key, small=False) == treated_paths(one, view)[0]
    assert shown.treated_path(view.key, "0" * 32, small=False) is None
    assert shown.treated_path("0" * 32, DARKER.key, small=True) is None


def test_undo_takes_a_treatment_back(one: Collection) -> None:
    give(one, DARKER)
    one.catalogue.undo("Ada")
    assert front(one).treatment == UNTREATED


def test_a_view_that_is_not_in_use_can_t_be_treated(one: Collection) -> None:
    with one.catalogue.act("Ada", "treated") as act, act.work() as work, pytest.raises(NotFound):
        work.set_treatment("0" * 32, DARKER)


def test_a_picture_that_a_step_names_and_that_is_not_there_is_told(one: Collection) -> None:
    missing = Treatment.of([Step("even light", {"field": "sheet"})])
    with pytest.raises(Trouble, match="the picture sheet is not there"):
        treated(one, front(one), missing)


def test_a_turned_print_keeps_its_treatment_turned(one: Collection) -> None:
    before = treated(one, give(one, DARKER), DARKER).picture
    done = turn_by_hand(one, front(one).key, 1)
    view = front(one)
    assert view.key == done.key
    after = treated(one, view, view.treatment).picture
    assert after.shape == np.rot90(before, -1).shape
    assert np.abs(np.rot90(before, -1).astype(float) - after).mean() < 3  # another JPEG of the view
    one.catalogue.undo("archivist")
    assert front(one).treatment == DARKER


def test_a_redrawn_outline_carries_the_treatment_and_tells_what_it_switched_off(one: Collection) -> None:
    treatment = DARKER.with_step(Step("fine turn", {"degrees": 2.0}))
    view = give(one, treatment)
    moved = [(x + (12 if at in (0, 3) else 0), y) for at, (x, y) in enumerate(view.outline.corners)]
    redraw(one, view.key, moved)
    now = front(one).treatment
    assert [(step.name, step.on) for step in now] == [("density", True), ("fine turn", False), ("crop", False)]
    said = one.catalogue.undo("archivist")
    assert "“turned clockwise by 2.0° and cropped by hand” is off until it is set anew" in said
    assert front(one) == evolve(view, treatment=treatment)
