"""The Table in a browser: seen by everybody, prints taken up and arranged by mouse, keys and without script, and
scrolled through at any size without the page growing or standing still.

The collections are those of benchmarks/big_collection.py: 30 prints, and for the slow tests 3,000, or the one that
the environment names in SOLANDER_BIG (100,000 prints: docs/measured.md).
"""

from __future__ import annotations

import os
import shutil
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from page_checks import LOOKS, access_faults, cut_off, keep_picture, open_page, overflow, window
from served import running

from solander.core.standing import Arrangement
from solander.core.statements import Says
from solander.station import table
from solander.station.app import create_app
from solander.station.table import PRINTS_AT_ONCE, PRINTS_IN_A_PART
from solander.station.workbench import Workbench
from solander.tasks.arrange_desk import ArrangeDesk
from solander.tasks.collection import Collection
from solander.tasks.show import Shown
from solander.tasks.sitting import Sitting
from solander.tasks.standing import keep_all

sys.path.insert(0, str(Path(__file__).parents[2] / "benchmarks"))
from big_collection import make

pytestmark = pytest.mark.browser

PAGES = {"time": "/", "container": "/?laid=container", "occasion": "/?laid=occasion"}
MOST_WORK_MS = 150
HAND = "[data-in-hand]"


def _served(collection: Collection) -> Workbench:
    shown, sitting = Shown(collection), Sitting(collection)
    return Workbench(shown, arranging=ArrangeDesk(shown, sitting))


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A collection of thirty prints that stand in order, to be copied."""
    root = tmp_path_factory.mktemp("made") / "thirty"
    with make(root, 30) as collection:
        keep_all(collection)
    return root


@pytest.fixture
def thirty(made: Path, tmp_path: Path) -> Iterator[tuple[Collection, str]]:
    shutil.copytree(made, tmp_path / "thirty")
    with (
        Collection.open(tmp_path / "thirty") as collection,
        running(create_app(_served(collection))) as address,
    ):
        yield collection, address


@pytest.fixture(scope="module")
def looked_at(made: Path) -> Iterator[str]:
    """The same, where nothing is changed."""
    with Collection.open(made) as collection, running(create_app(_served(collection))) as address:
        yield address


@pytest.mark.parametrize(("size", "scheme"), LOOKS)
@pytest.mark.parametrize("name", PAGES)
def test_everybody_can_read_the_table(chromium, looked_at, name, size, scheme) -> None:
    with window(chromium, size, scheme) as page:
        open_page(page, looked_at + PAGES[name])
        assert access_faults(page) == []
        assert overflow(page) <= 0
        assert cut_off(page) == []
        keep_picture(page, f"table-{name}-{size}-{scheme}")


def _wait_for(page, selector: str, words: str) -> None:
    """Until something says this; the page allows no script of a test to look for it."""
    page.locator(selector, has_text=words).wait_for()


def _order(collection: Collection, arrangement: Arrangement = Arrangement.TIME) -> list[str]:
    return [one.accession for one in collection.catalogue.standings(arrangement, limit=100)]


def test_prints_are_taken_up_by_click_run_and_keys_and_put_down(chromium, thirty) -> None:
    collection, address = thirty
    with window(chromium, "desk") as page:
        open_page(page, address)
        ticks = page.locator("[data-takes-up]")
        ticks.nth(2).click()
        assert page.locator(HAND).inner_text() == "In your hand: 1 print"
        ticks.nth(6).click(modifiers=["Shift"])
        _wait_for(page, HAND, "In your hand: 5 prints")
        page.locator("a.front").nth(10).focus()
        page.keyboard.press("Space")
        page.keyboard.press("Shift+ArrowRight")
        _wait_for(page, HAND, "In your hand: 7 prints")
        held = page.evaluate("JSON.parse(sessionStorage.getItem('in-your-hand'))")
        order = _order(collection)
        assert sorted(held) == sorted([*order[2:7], *order[10:12]])
        page.keyboard.press("Escape")
        assert page.locator(HAND).inner_text() == "In your hand: nothing"
        assert page.locator("[data-takes-up]:checked").count() == 0


def test_arrows_go_from_print_to_print_and_enter_opens_it(chromium, thirty) -> None:
    collection, address = thirty
    order = _order(collection)
    with window(chromium, "desk") as page:
        open_page(page, address)
        here = "document.activeElement.closest('[data-print]').dataset.print"
        page.locator("a.front").first.focus()
        page.keyboard.press("ArrowRight")
        assert page.evaluate(here) == order[1]
        page.keyboard.press("ArrowDown")
        below = page.evaluate(here)
        assert order.index(below) > 2
        page.keyboard.press("ArrowUp")
        assert order.index(page.evaluate(here)) < order.index(below)
        page.keyboard.press("ArrowLeft")
        page.keyboard.press("Enter")
        page.wait_for_url("**/print/*")


def test_prints_in_the_hand_are_piled_into_an_occasion_and_back(chromium, thirty) -> None:
    collection, address = thirty
    order = _order(collection)
    with window(chromium, "desk") as page:
        open_page(page, address)
        page.locator("[data-takes-up]").nth(4).click()
        page.locator("[data-takes-up]").nth(0).click()
        page.fill("[name=occasion]", "Trip to the lake")
        with page.expect_navigation():
            page.keyboard.press("Enter")
        piled = {one.accession for one in collection.catalogue.standings_of_occasion("Trip to the lake")}
        assert piled == {order[0], order[4]}
        assert "Trip to the lake" in page.locator(".done").inner_text()
        assert page.evaluate("sessionStorage.getItem('in-your-hand')") == "[]", "what was piled has left the hand"
        with page.expect_navigation():
            page.locator(".done button").click()
        assert collection.catalogue.standings_of_occasion("Trip to the lake") == []


def test_what_is_taken_up_after_an_act_stays_in_the_hand_when_one_comes_back(chromium, thirty) -> None:
    _, address = thirty
    with window(chromium, "desk") as page:
        open_page(page, address)
        page.locator("[data-takes-up]").nth(2).click()
        page.locator("input[name=container]").fill("X1")
        with page.expect_navigation():
            page.keyboard.press("Enter")
        assert page.locator(HAND).inner_text() == "In your hand: nothing", "what was laid has left the hand"
        page.locator("[data-takes-up]").nth(4).click()
        page.reload()
        assert page.locator(HAND).inner_text() == "In your hand: 1 print"


def test_a_key_lays_what_is_in_the_hand_after_the_print_with_the_focus(chromium, thirty) -> None:
    collection, address = thirty
    order = _order(collection)
    with window(chromium, "desk") as page:
        open_page(page, address)
        page.locator("[data-takes-up]").nth(3).click()
        page.locator("a.front").nth(9).focus()
        with page.expect_navigation():
            page.keyboard.press("a")
        said = [one for one in collection.catalogue.statements(subject=order[3]) if one.says is Says.AFTER]
        assert [one.value for one in said] == [order[9]]
        assert "done=" in page.url
        assert page.locator(HAND).inner_text() == "In your hand: nothing"


def test_a_print_that_is_dragged_on_to_another_is_laid_beside_it(chromium, thirty) -> None:
    collection, address = thirty
    order = _order(collection)
    with window(chromium, "desk") as page:
        open_page(page, address)
        front = (
            page.locator("article [data-takes-up]").nth(0).locator("xpath=ancestor::article//a[@class='front']")
        )
        place = page.locator("article").nth(2)
        box = place.bounding_box()
        with page.expect_navigation():
            front.drag_to(place, target_position={"x": box["width"] - 20, "y": 60})
        said = [one for one in collection.catalogue.statements(subject=order[0]) if one.says is Says.AFTER]
        assert [one.value for one in said] == [order[2]]


def test_without_script_the_table_is_pages_with_links_and_ticks(chromium, thirty) -> None:
    collection, address = thirty
    order = _order(collection)
    with window(chromium, "desk", script=False) as page:
        open_page(page, address)
        assert page.locator("article").count() == PRINTS_AT_ONCE
        page.locator(f"[name='print-{order[1]}']").check()
        page.fill("[name=container]", "B7/E1")
        page.locator("button[value=put]").click()
        said = [one for one in collection.catalogue.statements(subject=order[1]) if one.says is Says.KEPT_IN]
        assert [one.value for one in said] == ["B7/E1"]
        open_page(page, address)
        page.locator("a[rel=next]").click()
        assert page.locator("article").count() == 30 - PRINTS_AT_ONCE
        page.locator("a[rel=prev]").click()
        assert page.locator("article").count() == PRINTS_AT_ONCE


def test_the_page_before_is_whole_although_prints_moved_meanwhile(chromium, thirty) -> None:
    collection, address = thirty
    with window(chromium, "desk", script=False) as page:
        open_page(page, f"{address}/?before={_order(collection)[16]}")
        assert page.locator("article").count() == PRINTS_AT_ONCE
        assert page.locator("a[rel=prev]").count() == 0


@pytest.fixture(scope="module")
def many(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Collection, str]]:
    """So many that they are counted by year on the rule; that begins sooner here, so that fewer need be made."""
    named = os.environ.get("SOLANDER_BIG")
    root = Path(named) if named else tmp_path_factory.mktemp("many") / "many"
    with Collection.open(root) if named else make(root, 3000) as collection:
        if collection.catalogue.standing_change() < 0:
            keep_all(collection)
        with pytest.MonkeyPatch.context() as patch, running(create_app(_served(collection))) as address:
            patch.setattr(table, "BARS_ON_THE_RULE", 1000)
            yield collection, address


def _scrolled(page) -> tuple[float, int, int]:
    """The longest time in ms for which the page itself worked after a turn of the wheel, while one scrolls on; the
    most prints that were laid out, and how many were seen.

    Time of its own thread, which other work on the machine does not make longer (Chrome DevTools Protocol,
    Performance domain, threadTicks).
    """
    inspector = page.context.new_cdp_session(page)
    inspector.send("Performance.enable", {"timeDomain": "threadTicks"})
    longest, most, seen = 0.0, 0, set()
    before = _worked_s(inspector)
    for _ in range(40):
        page.mouse.wheel(0, 1500)
        page.wait_for_timeout(120)
        laid = page.evaluate("[...document.querySelectorAll('[data-print]')].map((one) => one.dataset.print)")
        after = _worked_s(inspector)
        longest, before = max(longest, after - before), after
        seen.update(laid)
        most = max(most, len(laid))
    return longest * 1000, most, len(seen)


def _worked_s(inspector) -> float:
    told = {one["name"]: one["value"] for one in inspector.send("Performance.getMetrics")["metrics"]}
    return told["TaskDuration"]


@pytest.mark.slow
def test_very_many_prints_scroll_smoothly_and_the_page_stays_small(chromium, many) -> None:
    _, address = many
    with window(chromium, "desk") as page:
        open_page(page, address)
        longest, laid, seen = _scrolled(page)
        print(f"at most {longest:.0f} ms of work, and {laid} prints laid out")
        assert seen > 100
        assert laid <= 12 * PRINTS_IN_A_PART
        assert longest <= MOST_WORK_MS
        top = page.evaluate("scrollY")
        for _ in range(20):
            page.mouse.wheel(0, -1500)
            page.wait_for_timeout(120)
        assert page.evaluate("scrollY") < top - 10_000
        assert page.locator("[data-print]").count() > 0
        keep_picture(page, "table-many-scrolled")


@pytest.mark.slow
def test_a_click_on_the_rule_lays_out_that_year(chromium, many) -> None:
    collection, address = many
    year = sorted(collection.catalogue.standing_years())[-20]
    with window(chromium, "desk") as page:
        open_page(page, address)
        page.locator(f".density a[data-year='{year}'] .reach").click()
        first = collection.catalogue.standing_from_year(year)
        page.locator(f"[data-part][data-first='{first}']").wait_for()
        assert page.locator(f"[data-print='{first}']").bounding_box()["y"] < 900
        assert page.locator(".looked-at").get_attribute("x") is not None
        keep_picture(page, "table-many-year")
        page.mouse.wheel(0, -2500)
        page.locator(f"[data-part]:first-child:not([data-first='{first}'])").wait_for(state="attached")
