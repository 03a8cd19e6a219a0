"""A sitting at the station, all parts real but the camera, which plays a film, and the microphone, which plays
what a synthetic voice says: a print is laid down, taken once, described, and taken back."""

from __future__ import annotations

import shutil
import subprocess
import wave
from collections.abc import Iterator
from pathlib import Path

import pytest
from filmed_stage import CAMERA, film
from named_box import named_collection
from page_checks import access_faults, browser, keep_picture, open_page, window
from served import running

from solander.station.app import create_app
from solander.station.workbench import Workbench

pytestmark = [pytest.mark.browser, pytest.mark.slow, pytest.mark.end_to_end]

LONG = 90_000
"""Milliseconds after which what must come is missed, on a machine that does ten other things."""
HAS_VOICE = shutil.which("flite") is not None


def spoken(words: str, folder: Path) -> Path:
    """Words by a synthetic voice, after two seconds of silence and before six."""
    said, made = folder / "said.wav", folder / "spoken.wav"
    subprocess.run(["flite", "-voice", "slt", "-t", words, "-o", str(said)], check=True)
    with wave.open(str(said), "rb") as file, wave.open(str(made), "wb") as out:
        out.setparams(file.getparams())
        second = bytes(2 * file.getframerate())
        out.writeframes(2 * second + file.readframes(file.getnframes()) + 6 * second)
    return made


@pytest.fixture(scope="module")
def chromium(tmp_path_factory) -> Iterator[object]:
    folder = tmp_path_factory.mktemp("film")
    made = [option.format(film=film(folder)) for option in CAMERA]
    if HAS_VOICE:
        made.append(f"--use-file-for-fake-audio-capture={spoken('summer nineteen fifty eight', folder)}")
    with browser(*made) as launched:
        yield launched


def until(page, selector: str, text: str) -> None:
    page.locator(selector, has_text=text).first.wait_for(timeout=LONG)


def test_a_sitting_with_the_camera_of_this_computer(chromium, tmp_path: Path):
    with named_collection(tmp_path / "box") as collection:
        before = {one.accession for one in collection.catalogue.prints()}
        with running(create_app(Workbench.over(collection))) as home, window(chromium, "desk") as page:
            open_page(page, f"{home}/station")
            until(page, "#state", "No camera yet")
            page.keyboard.press("t")
            page.keyboard.type("summer 1958, Vessholm")
            page.keyboard.press("Enter")
            until(page, ".part-place", "Vessholm")
            page.get_by_role("button", name="Use the camera of this computer").click()
            until(page, ".last-prints .newest", "P-0001")
            until(page, ".last-prints .newest .sentence", "Vessholm")
            until(page, "#state", "taken before")  # the film begins anew
            keep_picture(page, "station-real-desk-light")
            assert access_faults(page) == []
            taken = {one.accession for one in collection.catalogue.prints()} - before
            assert taken == {"P-0001"}
            said = {one.value for one in collection.catalogue.statements(subject="P-0001")}
            assert {"1958-22", "Vessholm"} <= said
            page.keyboard.press("u")
            page.locator(".last-prints .newest").wait_for(state="detached", timeout=LONG)
            assert {one.accession for one in collection.catalogue.prints()} == before
            assert page.told == []


@pytest.mark.skipif(not HAS_VOICE, reason="flite is not installed, so nothing is spoken")
def test_what_is_said_into_the_microphone_stands_on_the_slip(chromium, tmp_path: Path):
    with (
        named_collection(tmp_path / "box") as collection,
        running(create_app(Workbench.over(collection))) as home,
        window(chromium, "desk") as page,
    ):
        open_page(page, f"{home}/station")
        until(page, ".part-date", "when?")
        page.keyboard.press("m")
        until(page, ".part-date", "Summer 1958")
        keep_picture(page, "station-heard-desk-light")
        assert page.told == []
