"""A hundred backs by keys alone: from line to line, the writing shown in other ways, the next back."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from backs_box import Backs, made_backs, opened_backs
from page_checks import LOOKS, assert_open_to_everybody, keep_picture, open_page, until, window
from served import running

pytestmark = pytest.mark.browser


@pytest.fixture(scope="module")
def backs(tmp_path_factory, gazetteer) -> Iterator[tuple[Backs, str]]:
    with opened_backs(made_backs(tmp_path_factory.mktemp("backs"))) as opened, running(opened.app) as home:
        yield opened, home


@pytest.mark.parametrize(("size", "scheme"), LOOKS)
def test_the_lectern_is_open_to_everybody(chromium, backs, size: str, scheme: str) -> None:
    _, home = backs
    with window(chromium, size, scheme) as page:
        for path in ("/backs", "/back/B1-0004"):
            open_page(page, home + path)
            keep_picture(page, f"backs-{path.count('/B')}-{size}-{scheme}")
            assert_open_to_everybody(page, home)


def test_without_script_lines_are_ticked_and_ways_to_see_are_links(chromium, backs) -> None:
    _, home = backs
    with window(chromium, "desk", script=False) as page:
        open_page(page, f"{home}/back/B1-0001?way=relief")
        assert "/relief.jpg" in page.locator(".board-sheet img").get_attribute("src")
        assert page.locator("[name=take-0]").is_visible()
        assert not page.locator("[data-do=take]").first.is_visible()


def test_a_back_is_transcribed_and_the_next_one_comes_by_keys_alone(chromium, backs) -> None:
    opened, home = backs
    with window(chromium, "desk") as page:
        open_page(page, f"{home}/back/B1-0001")
        first, second = page.locator("[name=line-0]"), page.locator("[name=line-1]")
        keys = page.keyboard
        # The first line waits for a key: as read, and on to the second.
        keys.press("Enter")
        assert first.input_value() == "Skegness August 1952"
        until(page, lambda: second.evaluate("field => field === document.activeElement"))
        assert page.locator(".board-sheet polygon.now").count() == 1
        # Taken to be changed, its last word underlined, a word that can't be made out after it.
        keys.press("ArrowRight")
        keys.press("End")
        keys.press("F4")
        keys.press("F2")
        assert second.input_value() == "Nan and _Bill_ [illegible]"
        keys.press("F8")
        until(page, lambda: page.locator("[data-way=flattened]").get_attribute("aria-current") == "true")
        assert page.locator(".board-sheet img").get_attribute("src").endswith("/flattened.jpg")
        assert page.locator(".line.now .crop").get_attribute("src").endswith("/flattened/1.jpg")
        # Out of the lines one key does what it says on the page.
        keys.press("Escape")
        keys.press("4")
        until(page, lambda: page.locator("[data-way=relief]").get_attribute("aria-current") == "true")
        keys.press("+")
        until(page, lambda: page.locator(".board.closer").count() == 1)
        second.focus()
        keys.press("Control+Enter")
        page.wait_for_url("**/back/B1-0004?done=*")
        assert opened.transcribed("B1-0001") == [
            (
                "Skegness August 1952\nNan and _Bill_ [illegible]",
                "Skegness August 1952\nNan and _Bill_ [illegible]",
            )
        ]
        # Past the last line stands what keeps them.
        keys.press("Enter")
        keys.press("Enter")
        until(page, lambda: page.locator("[name=next]").evaluate("button => button === document.activeElement"))
        keys.press("Enter")
        page.wait_for_url("**/back/B1-0002?done=*")
        page.locator("[name=line-0]").blur()
        keys.press("x")
        page.wait_for_url("**/backs?done=*")
        assert opened.desk.waiting() == []
        assert page.told == []
