"""What is told of a stage is so when it is sent, whoever of two threads told first."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from stage_parts_here import Here

from solander.core.watching import State
from solander.station.live_stage import LiveStage
from solander.station.stage_parts import CameraSays
from solander.tasks.watch_stage import Watched


@pytest.fixture
def stage() -> Iterator[LiveStage]:
    stages = Here().stages()
    yield stages.at("1").stage
    stages.close()


def test_what_a_camera_can_is_told_as_it_is_when_it_is_sent(stage: LiveStage) -> None:
    stage._camera = object()  # type: ignore[assignment]  # one is there
    before = stage._of_the_camera()
    stage._says = CameraSays({"frame": (640, 480)})  # another thread heard more meanwhile, and told it first
    assert before.told()["camera"]["routes"]["frame"]["width"] == 640


def test_a_page_that_comes_while_something_is_seen_is_told_the_newest(stage: LiveStage) -> None:
    stage._seen(Watched(State.EMPTY))
    one = next(notice for notice in stage._how_things_stand() if notice.kind == "watched")
    stage._seen(Watched(State.HAND))
    assert one.told()["watched"]["state"] == "hand"
