"""A sitting at the station, all parts real but the camera, which plays a film: a print is laid down, taken once,
described by typing, and taken back."""

from __future__ import annotations

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


@pytest.fixture(scope="module")
def chromium(tmp_path_factory) -> Iterator[object]:
    filmed = film(tmp_path_factory.mktemp("film"))
    with browser(*(option.format(film=filmed) for option in CAMERA)) as launched:
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
