"""Backs turn as their writing stands; fronts only where the box shows how they lie to their backs."""

from __future__ import annotations

from pathlib import Path

import pytest
from attrs import evolve
from written_box import BLUE, RED, a_back, add_written, bar_readers

from solander.core.prints import Print, Side
from solander.core.upright import ENOUGH, Upright
from solander.tasks.collection import Collection
from solander.tasks.read_collection import read_collection
from solander.tasks.turn_by_writing import TurnedByWriting, turn_by_writing
from solander.tasks.upright import turned_view


@pytest.fixture
def box(collection: Collection, tmp_path: Path) -> Collection:
    """Seven prints whose backs were laid upside down, and one whose back says nothing."""
    backs = [a_back(RED, BLUE)[::-1, ::-1].copy() for _ in range(ENOUGH + 2)]
    add_written(collection, tmp_path / "scans", *backs, a_back())
    read_collection(collection, who=bar_readers, sides=(Side.VERSO,))
    return collection


def _told(collection: Collection, number: int, side: Side) -> tuple[int, Upright | None]:
    one: Print = collection.catalogue.print(f"B1-{number:04d}")
    view = one.verso if side is Side.VERSO else one.recto
    assert view is not None
    return view.turn, view.upright


def _say(collection: Collection, fronts: dict[int, int]) -> None:
    """A person says of fronts that they are upright so many turns from how they lay; of the rest nobody knows."""
    with collection.catalogue.act("archivist", "turned") as act, act.work() as work:
        for one in collection.catalogue.prints():
            for view in one.views:
                turn = fronts.get(one.number) if view.side is Side.RECTO else None
                told = turned_view(collection, view, turn or 0, Upright.PERSON)
                now = told if turn is not None else evolve(view, upright=None)
                if now != view:
                    work.replace_view(one.accession, view, now)
        work.commit()


def test_backs_turn_as_their_writing_stands_and_it_is_undone(box: Collection) -> None:
    _say(box, {})
    assert turn_by_writing(box) == TurnedByWriting(ENOUGH + 2, 0)
    assert _told(box, 1, Side.VERSO) == (2, Upright.WRITING)
    assert _told(box, ENOUGH + 3, Side.VERSO) == (0, None)
    assert _told(box, 1, Side.RECTO) == (0, None)  # a back alone tells nothing of its front
    assert turn_by_writing(box) == TurnedByWriting()
    box.catalogue.undo("archivist")
    assert _told(box, 1, Side.VERSO) == (0, None)


def test_a_front_follows_its_back_where_the_box_shows_how(box: Collection) -> None:
    _say(box, dict.fromkeys(range(1, ENOUGH + 1), 1))
    assert turn_by_writing(box) == TurnedByWriting(ENOUGH + 2, 2)
    assert _told(box, ENOUGH + 1, Side.RECTO) == (1, Upright.WRITING)
    assert _told(box, 1, Side.RECTO) == (1, Upright.PERSON)


def test_where_the_box_shows_two_ways_no_front_follows(box: Collection) -> None:
    _say(box, {number: number % 2 for number in range(1, ENOUGH + 1)})
    assert turn_by_writing(box) == TurnedByWriting(ENOUGH + 2, 0)
    assert _told(box, ENOUGH + 1, Side.RECTO) == (0, None)
