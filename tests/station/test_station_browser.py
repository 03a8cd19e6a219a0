from __future__ import annotations

from collections.abc import Iterator

import pytest
from attrs import evolve
from drawn_box import undated
from page_checks import (
    LOOKS,
    access_faults,
    cut_off,
    faults_of_pages,
    keep_picture,
    open_page,
    overflow,
    reached_by_tab,
    window,
)
from served import workbench

pytestmark = pytest.mark.browser

PAGES = {"table": "/", "print": "/print/B2-E5-0005", "back": "/print/B2-E5-0009"}


@pytest.fixture(scope="module")
def home(box) -> Iterator[str]:
    with workbench(box) as address:
        yield address


@pytest.fixture(scope="module")
def bare(box) -> Iterator[str]:
    with workbench(evolve(box, prints=[])) as address:
        yield address


@pytest.mark.parametrize("look", LOOKS)
def test_pages_are_open_to_everybody_fit_and_stay_at_home(chromium, home, look):
    assert faults_of_pages(chromium, look, home, PAGES, "station") == []


@pytest.fixture(scope="module")
def vague(box) -> Iterator[str]:
    """The box with likely years, rules of thumb that gave way, and prints of which little or nothing is known."""
    prints = [*box.prints]
    left_out = {"contradicts": ("dated “1990”",), "overruled": ("Velox paper: in use to 1940",)}
    prints[10] = evolve(prints[10], when=evolve(prints[10].when, likely=("1959-01-01", "1960-12-31"), **left_out))
    prints[12:] = [undated(prints[12], "1960-01-01", ("1955-01-01", "1964-12-31")), undated(prints[13])]
    with workbench(evolve(box, prints=prints)) as address:
        yield address


@pytest.mark.parametrize("look", LOOKS)
def test_what_is_hardly_known_is_open_to_everybody(chromium, vague, look):
    pages = {"table": "/", **{end: f"/print/B2-E5-{end}" for end in ("0011", "0013", "0014")}}
    assert faults_of_pages(chromium, look, vague, pages, "station-vague") == []


@pytest.mark.parametrize("size", ["desk", "phone"])
def test_type_of_twice_the_size_keeps_words_whole(chromium, home, size):
    """Broken over two lines, "edge not checked" would show no more than "checked" under its print."""
    with window(chromium, size) as page:
        open_page(page, home)
        page.evaluate("document.documentElement.style.fontSize = '200%'")
        heights = [word.bounding_box()["height"] for word in page.locator(".edge-word").all()]
        assert heights
        assert set(heights) == {48}
        assert overflow(page) == 0
        assert cut_off(page) == []


def test_strips_of_slips_keep_their_fading_ends_beside_the_rule(chromium, home):
    """Their fills are defined in the drawing that the script takes the place of; taken out, they draw nothing."""
    with window(chromium, "desk") as page:
        open_page(page, home)
        strip = page.locator("#B2-E5-0006 .strip")
        assert strip.locator("[fill='url(#fade-left)']").count() == 1
        assert page.locator(".rule-printed").is_hidden()
        assert page.evaluate("getComputedStyle(document.querySelector('.rule-printed')).display") != "none"


@pytest.mark.parametrize("address", ["/", "/nowhere"])
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_empty_places_and_errors_are_open_to_everybody(chromium, bare, address, scheme):
    with window(chromium, "phone", scheme) as page:
        open_page(page, bare + address)
        keep_picture(page, f"station-empty{address.replace('/', '-')}-{scheme}")
        assert access_faults(page) == []
        assert overflow(page) == 0


def test_everything_can_be_reached_with_the_tab_key(chromium, home, box):
    with window(chromium, "desk") as page:
        open_page(page, home)
        reached = reached_by_tab(page)
    assert reached[:5] == ["#content", "/", "/", "/print", "/questions"]
    for one in box.prints:
        assert f"/print/{one.print.accession}" in reached
    assert sum(text.endswith(("more reason", "more reasons")) for text in reached) == sum(
        len(one.when.reasons) > 1 for one in box.prints
    )


def test_what_has_the_focus_is_seen(chromium, home):
    with window(chromium, "desk") as page:
        open_page(page, home)
        for _ in range(12):
            page.keyboard.press("Tab")
            style = page.evaluate("getComputedStyle(document.activeElement).outlineStyle")
            assert style == "solid"


def test_reasons_open_where_they_stand_without_script(chromium, home):
    with window(chromium, "desk", script=False) as page:
        page.goto(home)
        summary = page.locator("summary").first
        hidden = page.locator("details.reason li").first
        assert not hidden.is_visible()
        summary.click()
        assert hidden.is_visible()


def test_a_back_comes_to_the_top_when_its_word_is_pointed_at(chromium, home):
    with window(chromium, "desk") as page:
        open_page(page, home)
        under = page.locator("#B2-E5-0009 .under")
        before = under.evaluate("e => getComputedStyle(e).zIndex")
        page.locator("#B2-E5-0009 .back-word").hover()
        assert before == "auto"
        assert under.evaluate("e => getComputedStyle(e).zIndex") == "2"


def test_arrow_keys_go_to_the_print_before_and_after(chromium, home):
    with window(chromium, "desk") as page:
        open_page(page, f"{home}/print/B2-E5-0009")
        page.keyboard.press("ArrowRight")
        page.wait_for_url("**/print/B2-E5-0010")
        page.keyboard.press("ArrowLeft")
        page.wait_for_url("**/print/B2-E5-0009")
        page.keyboard.press("Shift+ArrowLeft")
        assert page.url.endswith("/print/B2-E5-0009")


def test_front_back_and_slip_are_seen_at_once_on_a_laptop(chromium, home):
    with window(chromium, "desk") as page:
        open_page(page, f"{home}/print/B2-E5-0009")
        boxes = [page.locator(found).first.bounding_box() for found in ("#front img", "#back img", ".at-large h1")]
    front, back, slip = boxes
    assert front["y"] == back["y"]
    assert front["x"] + front["width"] < back["x"]
    assert slip["y"] + slip["height"] < 900


def test_prints_lie_at_their_relative_sizes(chromium, home):
    with window(chromium, "desk") as page:
        open_page(page, home)
        widths = [
            page.locator(f"#{number} .front img").bounding_box()["width"]
            for number in ("B2-E5-0007", "B2-E5-0009")
        ]
    assert widths[0] / widths[1] == pytest.approx(140 / 128, rel=0.01)
