"""The page on which a person sees how names sound, spells them, or says them."""

from __future__ import annotations

import asyncio
import shutil
import subprocess
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import quote

import httpx
import numpy as np
import pytest
import soundfile
from named_box import OURS, opened
from named_box import Workbench as Client
from page_checks import assert_open_to_everybody, browser, keep_picture, open_page, window
from served import running

from solander.station.app import create_app
from solander.station.name_sounds import NAME_SOUNDS
from solander.station.workbench import Workbench
from solander.tasks.sounds_like import sounds_like

pytestmark = pytest.mark.slow

WAITS_MS = 60_000


@pytest.fixture
def bench(tmp_path: Path) -> Iterator[Client]:
    with opened(tmp_path / "box") as client:
        client.app = create_app(Workbench.over(client.collection))
        yield client


def said_aloud(bench: Client, name: str, sound: bytes) -> httpx.Response:
    async def send() -> httpx.Response:
        transport = httpx.ASGITransport(bench.app, raise_app_exceptions=False)
        async with httpx.AsyncClient(transport=transport, base_url="http://127.0.0.1") as client:
            headers = {**OURS, "accept": "application/json"}
            return await client.post(f"{NAME_SOUNDS}/said", params={"name": name}, content=sound, headers=headers)

    return asyncio.run(send())


def test_a_name_is_taught_and_read_as_written_again(bench: Client) -> None:
    shown = bench.get(f"{NAME_SOUNDS}?name=Signe")
    assert "How does “Signe” sound?" in shown.text
    assert shown.headers["permissions-policy"] == "camera=(self), microphone=(self)"
    taught = bench.post(NAME_SOUNDS, name="Signe", sounds="sig-neh, see-nyeh")
    assert "told by you" in taught.text
    assert sounds_like(bench.collection.catalogue) == {"signe": ("sig-neh", "see-nyeh")}
    bench.post(NAME_SOUNDS, name="Signe", forget="yes")
    assert sounds_like(bench.collection.catalogue) == {}


def test_what_can_not_be_said_is_told_and_nothing_is_kept(bench: Client) -> None:
    refused = bench.post(NAME_SOUNDS, name="Signe", sounds="?!")
    assert refused.status_code == 422
    assert "It holds no letters" in refused.text
    assert sounds_like(bench.collection.catalogue) == {}


def test_a_recording_in_which_nobody_speaks_or_that_never_ends_is_told(bench: Client) -> None:
    silent = said_aloud(bench, "Signe", bytes(16_000))
    assert (silent.status_code, "no voice was heard" in silent.text) == (422, True)
    endless = said_aloud(bench, "Signe", bytes(1_000_000))
    assert (endless.status_code, "longer than" in endless.text) == (422, True)


def test_the_station_and_a_person_lead_there(bench: Client) -> None:
    assert f'href="{NAME_SOUNDS}"' in bench.get("/station").text
    person = "Ingrid Sollihøgda"
    assert f"{NAME_SOUNDS}?name={quote(person)}" in bench.get(f"/person/{quote(person)}").text


@pytest.mark.browser
@pytest.mark.skipif(shutil.which("flite") is None, reason="flite, which speaks, is not installed")
def test_a_name_said_three_times_is_put_into_the_field(bench: Client, tmp_path: Path) -> None:
    """Through the browser's microphone, by slt, a voice of flite (Carnegie Mellon University)."""
    path = tmp_path / "said.wav"
    subprocess.run(["flite", "-voice", "slt", "-t", "ingrid", "-o", str(path)], check=True)
    said, pause = soundfile.read(path, dtype="int16")[0], np.zeros(12_000, np.int16)
    soundfile.write(path, np.concatenate([pause, said, pause, said, pause, said, pause]), 16_000)
    microphone = (
        "--use-fake-ui-for-media-stream",
        "--use-fake-device-for-media-stream",
        f"--use-file-for-fake-audio-capture={path}",
    )
    assert bench.get(NAME_SOUNDS).status_code == 200  # reads the dictionary, once a process
    with running(bench.app) as home, browser(*microphone) as chromium, window(chromium, "phone") as page:
        page.set_default_timeout(WAITS_MS)
        open_page(page, f"{home}{NAME_SOUNDS}?name=Ingrid")
        assert_open_to_everybody(page, home)
        page.get_by_role("button", name="Say it three times").click()
        page.get_by_text("Listening: say the name").wait_for()
        page.wait_for_timeout(5000)  # so long the sound lasts
        page.get_by_role("button", name="That was it").click()
        page.locator("#say-it-state", has_text="It sounds like").wait_for()
        assert page.locator("#spelling").input_value()
        keep_picture(page, "station-name-sounds-phone")
        page.get_by_role("button", name="Keep it").click()
        page.get_by_text("told by you").first.wait_for()
