"""The other ways in on the station's page, in a real browser before the real workbench: SANE's own test driver,
and a folder that is watched, both by keyboard."""

from __future__ import annotations

import io
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from named_box import named_collection
from page_checks import access_faults, browser, cut_off, keep_picture, open_page, overflow, window
from PIL import Image
from served import running

from solander.imaging.simulate.pictures import drawn_picture
from solander.station.app import create_app
from solander.station.workbench import Workbench

pytestmark = [pytest.mark.browser, pytest.mark.slow]

LONG = 90_000
"""Milliseconds after which what must come is missed, on a machine that does ten other things."""


@pytest.fixture(scope="module")
def chromium() -> Iterator[object]:
    with browser() as launched:
        yield launched


@pytest.fixture
def home(tmp_path: Path, monkeypatch) -> Iterator[str]:
    (tmp_path / "sane").mkdir()
    (tmp_path / "sane" / "dll.conf").write_text("test\n")
    (tmp_path / "sane" / "test.conf").touch()
    monkeypatch.setenv("SANE_CONFIG_DIR", str(tmp_path / "sane"))
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "own"))
    with named_collection(tmp_path / "box") as collection:
        bench = Workbench.over(collection)
        with running(create_app(bench)) as address:
            yield address
            bench.stages.close()


def faults(page) -> list[str]:
    wide = [f"wider than its window by {over} px"] if (over := overflow(page)) else []
    return [*access_faults(page), *cut_off(page), *wide]


def a_print_on_a_stage() -> bytes:
    picture, out = Image.new("RGB", (900, 700), (40, 40, 44)), io.BytesIO()
    picture.paste(Image.fromarray(drawn_picture(3)).resize((520, 380)), (180, 150))
    picture.save(out, "JPEG", quality=92)
    return out.getvalue()


def test_a_folder_is_watched_and_left_by_keyboard(chromium, home, tmp_path: Path):
    hot = tmp_path / "Camera uploads"
    hot.mkdir()
    with window(chromium, "desk") as page:
        open_page(page, f"{home}/station")
        page.locator("#folder-path").focus()
        page.keyboard.type("uploads")
        page.keyboard.press("Enter")
        page.get_by_text("“uploads” is not the whole path").wait_for(timeout=LONG)
        page.locator("#folder-path").fill(str(hot))
        page.keyboard.press("Enter")
        page.locator("#state", has_text="Save a picture into the folder").wait_for(timeout=LONG)
        (tmp_path / "made.jpg").write_bytes(a_print_on_a_stage())
        (tmp_path / "made.jpg").rename(hot / "1.jpg")
        page.locator(".last-prints .newest", has_text="P-0001").wait_for(timeout=LONG)
        assert faults(page) == []
        keep_picture(page, "ways-folder-desk-light")
        page.locator("#folder-end").focus()
        page.keyboard.press("Enter")
        page.locator("#state", has_text="No camera yet").wait_for(timeout=LONG)
        page.reload()
        page.locator("#folder-words", has_text="No folder is watched").wait_for(timeout=LONG)
        assert page.locator("#folder-path").input_value() == str(hot)


@pytest.mark.skipif(shutil.which("scanimage") is None, reason="scanimage is not installed")
@pytest.mark.parametrize(("size", "scheme"), [("desk", "dark"), ("phone", "light")])
def test_the_key_that_takes_scans(chromium, home, size, scheme):
    with window(chromium, size, scheme) as page:
        open_page(page, f"{home}/station")
        page.locator("#folder-all").check()
        page.locator("#scanner-look").focus()
        page.keyboard.press("Enter")
        page.locator("#scanner-form").wait_for(timeout=LONG)
        assert page.locator("#folder-all").is_checked()  # what is told of a scanner leaves other fields alone
        page.locator("#scanner-dpi").fill("75")
        page.locator("#scanner-place [value=feeder]").focus()
        page.keyboard.press("Space")
        page.locator("#feeder-warning").wait_for(timeout=LONG)
        page.locator("#scan-now").focus()
        page.keyboard.press("Enter")
        page.locator("#scanner-words", has_text="Page 10").wait_for(timeout=LONG)
        page.locator("#scanner-words", has_text="The scanner waits").wait_for(timeout=LONG)
        page.locator(".last-prints .newest", has_text="P-0001").wait_for(timeout=LONG)
        assert faults(page) == []
        keep_picture(page, f"ways-scanner-{size}-{scheme}")
        page.keyboard.press("PageDown")  # a foot pedal scans the next
        page.locator("#scanner-words", has_text="Page ").wait_for(timeout=LONG)
        page.locator("#scanner-words", has_text="The scanner waits").wait_for(timeout=LONG)
        assert page.told == []
