"""The page of the stand: the last report, a chart picture taken in, the profile left and taken back."""

from __future__ import annotations

import asyncio
from collections.abc import Iterator
from pathlib import Path

import httpx
import pytest
from named_box import OURS, opened
from named_box import Workbench as Client

from solander.imaging.encode import encode_png
from solander.imaging.simulate.chart import RigCamera, chart_shot
from solander.station.app import create_app
from solander.station.workbench import Workbench

pytestmark = pytest.mark.slow


@pytest.fixture
def bench(tmp_path: Path) -> Iterator[Client]:
    with opened(tmp_path / "box") as client:
        client.app = create_app(Workbench.over(client.collection))
        yield client


def given(bench: Client, **pictures: bytes) -> httpx.Response:
    files = {field: (f"{field}.png", content) for field, content in pictures.items()}
    return asyncio.run(bench._ask("POST", "/stand", OURS, None, files=files))


def test_the_stand_is_measured_on_its_page(bench: Client) -> None:
    assert "Nothing was measured yet" in bench.get("/stand").text
    assert 'href="/stand"' in bench.get("/station").text
    picture = encode_png(chart_shot(RigCamera(exposure=0.9), frame=(1200, 800)).rgb)
    told = given(bench, chart=picture).text
    assert "Done: measured the stand." in told
    assert "Not measured, and not claimed: Sampling" in told
    assert told.count("<svg") >= 3
    assert " style=" not in told, "strict pages take no style in an element"
    assert "are put right by the profile of" in told
    left = bench.post("/stand/forget").text
    assert "Pictures are left as captured." in left
    bench.collection.catalogue.undo("archivist")
    assert "are put right by the profile of" in bench.get("/stand").text


def test_no_picture_and_no_chart_are_told_in_a_sentence(bench: Client) -> None:
    nothing = bench.post("/stand")
    assert nothing.status_code == 422
    assert "no picture was chosen" in nothing.text.lower()
    refused = given(bench, chart=b"no picture")
    assert refused.status_code == 422
    assert "set aside" in refused.text.lower()
    assert "Nothing was measured yet" in bench.get("/stand").text


@pytest.mark.parametrize("told", ["..", "a\0b.png", "é" * 300 + ".png", "C:\\x\\y.png"])
def test_a_picture_may_have_any_name(bench: Client, told: str) -> None:
    refused = asyncio.run(bench._ask("POST", "/stand", OURS, None, files={"chart": (told, b"no picture")}))
    assert refused.status_code == 422
    assert "set aside" in refused.text.lower()
