from __future__ import annotations

import shutil
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parents[1] / "look"))

from drawn_box import described_prints, draw_pictures
from page_checks import browser, faults_of_pages, open_page, window

from solander.delivery.site import PICTURES, SitePicture, picture_name, write_site

pytestmark = pytest.mark.browser

PAGES = {
    "index": "index.html",
    "print": "prints/0009_B2-E5-0009.html",
    "people": "people.html",
    "places": "places.html",
    "about": "about.html",
}
LOOKS = [("desk", "light"), ("phone", "dark"), ("zoomed", "light")]


@pytest.fixture(scope="module")
def chromium() -> Iterator[object]:
    with browser() as launched:
        yield launched


@pytest.fixture(scope="module")
def home(tmp_path_factory: pytest.TempPathFactory) -> str:
    """The address of a whole site on disk, pictures included."""
    target = tmp_path_factory.mktemp("site")
    box = described_prints()
    drawn = draw_pictures(box, tmp_path_factory.mktemp("drawn"))
    (target / PICTURES).mkdir()
    pictures = {}
    for one in box:
        for view in one.print.views:
            pictures[view.key] = SitePicture(picture_name(one, view.side))
            shutil.copyfile(drawn[view.key], target / PICTURES / pictures[view.key].file)
    write_site(box, pictures, target, title="The Sollihøgda boxes", made_up=True)
    return target.as_uri()


@pytest.mark.parametrize("look", LOOKS)
def test_pages_open_from_disk_for_everybody_and_fit(chromium, home, look):
    assert faults_of_pages(chromium, look, f"{home}/", PAGES, "site") == []


def test_type_and_pictures_are_found_on_disk(chromium, home):
    with window(chromium, "desk") as page:
        open_page(page, f"{home}/{PAGES['print']}")
        loaded = page.evaluate("[...document.fonts].filter(f => f.status === 'loaded').map(f => f.family)")
        widths = page.evaluate("[...document.images].map(i => i.naturalWidth)")
    assert {"Literata", "Atkinson"} <= set(loaded)
    assert len(widths) == 2
    assert all(widths)


def test_one_goes_from_print_to_print_without_script_and_with_keys(chromium, home):
    with window(chromium, "desk", script=False) as page:
        page.goto(f"{home}/{PAGES['print']}")
        page.locator("a[rel=next]").click()
        page.wait_for_url("**/0010_B2-E5-0010.html")
    with window(chromium, "desk") as page:
        open_page(page, f"{home}/{PAGES['print']}")
        page.keyboard.press("ArrowLeft")
        page.wait_for_url("**/0008_B2-E5-0008.html")


def test_a_decade_on_the_rule_leads_to_its_prints(chromium, home):
    with window(chromium, "desk") as page:
        open_page(page, f"{home}/index.html")
        page.locator(".ruler a[href='#y1950']").click()
        top = page.locator("#y1950").bounding_box()["y"]
    assert 0 <= top < 450


def test_on_paper_no_print_is_parted_and_all_reasons_are_there(chromium, home):
    with window(chromium, "desk") as page:
        open_page(page, f"{home}/index.html")
        page.emulate_media(media="print")
        assert page.locator(".masthead nav").is_hidden()
        breaks = page.evaluate(
            "[...new Set([...document.querySelectorAll('.place')].map(e => getComputedStyle(e).breakInside))]"
        )
        reason = page.locator("details.reason li").first.bounding_box()
    assert breaks == ["avoid"]
    assert reason["height"] > 0
