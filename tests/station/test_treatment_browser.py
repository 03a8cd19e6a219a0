"""One treatment in a browser: seen while it is changed, kept by a key, a place picked by a click or its fields."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from page_checks import LOOKS, assert_open_to_everybody, keep_picture, open_page, until, window
from served import running
from treated_bench import TreatedBench, treated_bench

from solander.core.treatments import UNTREATED

pytestmark = pytest.mark.browser


@pytest.fixture(scope="module")
def bench(tmp_path_factory, gazetteer) -> Iterator[tuple[TreatedBench, str]]:
    with treated_bench(tmp_path_factory.mktemp("treated") / "box") as bench, running(bench.app) as address:
        yield bench, address


def test_the_page_is_open_to_everybody_and_fits(chromium, bench):
    bench, home = bench
    tried = f"{bench.here}?draft=1&neutral.here=1&neutral.on=1&density.here=1&crop.here=1"
    for size, scheme in LOOKS:
        with window(chromium, size, scheme) as page:
            open_page(page, home + tried)
            keep_picture(page, f"treatment-{size}-{scheme}")
            assert_open_to_everybody(page, home)


def test_a_change_is_seen_at_once_and_kept_by_a_key_and_taken_back_by_another(chromium, bench):
    bench, home = bench
    with window(chromium, "desk") as page:
        open_page(page, f"{home}{bench.here}?with=density")
        page.select_option("[name='density.way']", "darker")
        field = page.locator("[name='density.by']")
        field.fill("0.25")
        until(page, lambda: ends_with(page, "density.by=0.25"), "the change")
        assert page.locator("#not-kept").is_visible()
        assert bench.view.treatment == UNTREATED
        field.fill("9")  # what can't be is not asked for: the field itself says so
        field.fill("0.2")
        until(page, lambda: ends_with(page, "density.by=0.2"), "the next change")
        field.blur()
        page.keyboard.press("k")
        page.wait_for_url("**done=*")
        assert bench.view.treatment.sentences == ("mid-tones darker by a density of 0.20",)
        page.keyboard.press("u")
        until(page, lambda: bench.view.treatment == UNTREATED, "what was taken back")


def test_a_place_is_picked_by_a_click_and_by_its_fields_and_a_mark_is_drawn(chromium, bench):
    bench, home = bench
    with window(chromium, "desk") as page:
        open_page(page, home + bench.here)
        box = page.locator("#before").bounding_box()
        middle = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
        page.mouse.click(*middle)
        assert abs(float(page.locator("#pick-x").input_value()) - 50) < 0.5
        page.locator("#pick-y").fill("50")
        assert page.locator("#cross").get_attribute("transform").startswith("translate(")
        page.locator("#pick-y").blur()
        page.keyboard.press("d")
        page.wait_for_selector("[name='fading.cyan']")
        assert "token" not in page.url
        page.locator(".more-offers summary").click()
        page.locator("#draw").click()
        page.locator("#before").scroll_into_view_if_needed()
        box = page.locator("#before").bounding_box()
        page.mouse.move(box["x"] + 60, box["y"] + 60)
        page.mouse.down()
        page.mouse.move(box["x"] + 90, box["y"] + 60)
        page.mouse.up()
        until(page, lambda: page.locator("line.mark").count() == 1, "the mark")
        until(page, lambda: "marks.drawn=1" in page.locator("#said").input_value(), "the mark in what is sent")


def ends_with(page, field: str) -> bool:
    """Whether the treated picture is the one with that in its field."""
    address = page.locator("#after").get_attribute("src") or ""
    return field in address.partition("?")[2].split("&")
