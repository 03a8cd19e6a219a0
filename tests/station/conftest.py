"""Fixtures over the made-up box that tests/look draws."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest

from solander.station import app

sys.path.insert(0, str(Path(__file__).parents[1] / "look"))

from drawn_box import described_prints, draw_pictures
from page_checks import browser
from served_box import Box, Client
from stage_stand_in import StandIn, standing_in


@pytest.fixture(scope="session", autouse=True)
def templates_once() -> Iterator[None]:
    """Templates are compiled once a run, and not for each workbench anew."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(app, "environment", cache(app.environment))
        yield


@pytest.fixture(scope="module")
def chromium() -> Iterator[object]:
    """The system's Chromium, one for each module of tests."""
    with browser() as launched:
        yield launched


@pytest.fixture(scope="module")
def gazetteer(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """No gazetteer, so that none is made for these pages."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("SOLANDER_GAZETTEER", str(tmp_path_factory.mktemp("none") / "none.db"))
        yield


@pytest.fixture(scope="session")
def box(tmp_path_factory: pytest.TempPathFactory) -> Box:
    """The full box with drawn pictures."""
    prints = described_prints()
    return Box(prints, draw_pictures(prints, tmp_path_factory.mktemp("views")))


@pytest.fixture
def empty_box() -> Box:
    return Box([])


@pytest.fixture(scope="session")
def client(box: Box) -> Client:
    return Client(box)


@pytest.fixture
def stage() -> StandIn:
    """A stand-in for the live stage."""
    return StandIn()


@pytest.fixture
def home_of_stage(tmp_path: Path, stage: StandIn) -> Iterator[str]:
    """The address of a workbench whose stage it is."""
    with standing_in(tmp_path / "box", stage) as address:
        yield address
