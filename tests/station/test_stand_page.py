"""The page of the station, as it is answered."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from named_box import OURS, Workbench, named_collection

from solander.station import workbench
from solander.station.app import create_app
from solander.station.stages import Stages
from solander.station.station_room import KEYS
from solander.tasks.names import Names
from solander.tasks.show import Shown
from solander.tasks.stand_sounds import keeps_slip_sound

pytestmark = pytest.mark.slow


@pytest.fixture
def bench(tmp_path: Path) -> Iterator[Workbench]:
    with named_collection(tmp_path / "box") as collection:
        asked = Workbench(collection)
        shown = Shown(collection)
        stages = Stages(*3 * [lambda *_: pytest.fail("no stage is asked for by the page")])
        asked.app = create_app(workbench.Workbench(shown, names=asked.names, stages=stages))
        yield asked


def test_the_station_is_the_first_room(bench):
    """Source: look.md, the line of rooms."""
    page = bench.get("/").text
    rooms = re.findall(r'<a href="([^"]+)"', page[page.index("<nav") : page.index("</nav>")])
    assert rooms[0] == "/station"
    assert 'aria-current="page"' in bench.get("/station").text


def test_the_page_knows_its_station_and_the_word_of_this_sitting(bench):
    page = bench.get("/station?at=B2").text
    assert 'data-name="B2"' in page
    assert f'data-token="{OURS["x-solander-token"]}"' in page


@pytest.mark.parametrize("name", ["../x", "a b", "a" * 13, ""])
def test_a_station_of_no_name_is_not_there(bench, name):
    answer = bench.get(f"/station?at={name}")
    assert answer.status_code == 404
    assert "There is no station" in answer.text


def test_files_of_the_station_are_served_beside_its_addresses(bench):
    assert bench.get("/station/station.css").headers["content-type"].startswith("text/css")
    assert bench.get("/station/nothing-there.css").status_code == 404


def test_the_page_may_use_camera_and_microphone_others_may_not(bench):
    """Permissions Policy (W3C)."""
    assert bench.get("/station").headers["permissions-policy"] == "camera=(self), microphone=(self)"
    assert bench.get("/").headers["permissions-policy"] == "camera=(), microphone=()"


def test_no_two_orders_share_a_key(bench):
    keys = [key for keys, _ in KEYS for key in keys if key != "…"]
    assert len(keys) == len(set(keys))
    on_page = re.findall(r'data-key="([^"]+)"', bench.get("/station").text)
    assert len(on_page) == len(set(on_page))


def test_sound_is_kept_only_when_somebody_says_so(bench):
    assert not keeps_slip_sound(bench.collection)
    assert "is forgotten" in bench.get("/station").text
    page = bench.post("/station/1/keeps-sound", keeps="yes", then="/station?at=1").text
    assert keeps_slip_sound(bench.collection)
    assert "is kept, to be typed once" in page
    bench.post("/station/1/keeps-sound", keeps="no", then="/station?at=1")
    assert not keeps_slip_sound(bench.collection)


def test_a_workbench_without_stations_has_no_such_room(tmp_path):
    with named_collection(tmp_path / "box") as collection:
        asked = Workbench(collection)
        shown = Shown(collection)
        asked.app = create_app(workbench.Workbench(shown, names=Names(shown)))
        assert asked.get("/station").status_code == 404
        assert 'href="/station"' not in asked.get("/").text
