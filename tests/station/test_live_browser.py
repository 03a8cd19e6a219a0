"""Two windows at once: each shows what the other did, nobody's typing is lost, nothing is overwritten unseen."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from named_box import Workbench, opened
from page_checks import access_faults, browser, keep_picture, open_page, overflow, window
from served import running

from solander.core.people import NameKind
from solander.core.statements import Says, Sure
from solander.tasks.keep_people import say_date, say_name

pytestmark = [pytest.mark.browser, pytest.mark.slow]

INGRID, OLAV = "Ingrid Sollihøgda", "Olav Sollihøgda"


@pytest.fixture(scope="module")
def launched() -> Iterator[object]:
    with browser() as running_browser:
        yield running_browser


@pytest.fixture
def bench(tmp_path: Path) -> Iterator[Workbench]:
    with opened(tmp_path / "box") as made:
        yield made


def call(bench: Workbench, name: str, called: str) -> None:
    say_name(bench.collection, name, called, NameKind.NICKNAME, sure=Sure.CERTAIN, source="an aunt")


def fill(page, says: str, date: str) -> None:
    form = page.locator("form[action$='/date']")
    form.locator("[name=says]").select_option(says)
    form.locator("[name=date]").fill(date)


def test_a_page_shows_what_a_command_changed_and_keeps_what_is_typed(bench, launched):
    with running(bench.app) as address, window(launched, "desk") as page:
        open_page(page, f"{address}/person/{INGRID}")
        page.locator("form[action$='/call'] [name=called]").type("Half a na")
        call(bench, INGRID, "Little Inga")
        page.get_by_text("Little Inga").first.wait_for()
        assert page.locator("form[action$='/call'] [name=called]").input_value() == "Half a na"
        assert page.evaluate("document.activeElement.name") == "called"
        page.keyboard.type("me")
        assert page.locator("form[action$='/call'] [name=called]").input_value() == "Half a name"
        assert "What you are at was left as it is" in page.locator("[data-live]").inner_text()
        assert page.told == []


def test_two_windows_at_once_lose_no_edit(bench, launched):
    with running(bench.app) as address, window(launched, "desk") as mine, window(launched, "desk") as theirs:
        for page in (mine, theirs):
            open_page(page, f"{address}/person/{INGRID}")
        fill(mine, "died", "12 May 1999")
        fill(theirs, "died", "1997")
        theirs.locator("form[action$='/date'] button").click()
        theirs.wait_for_url("**done=*")
        mine.get_by_text("1997").first.wait_for()
        mine.locator("form[action$='/date'] button").click()
        mine.get_by_role("heading", name="What you were about to say").wait_for()
        assert "1997" in mine.locator("main").inner_text()
        assert "12 May 1999" in mine.locator("main").inner_text()
        assert access_faults(mine) == []
        keep_picture(mine, "both-versions")
        said = bench.collection.catalogue.said_of_person(INGRID)
        assert [one.words for one in said if one.says is Says.DIED] == ["1997"]
        mine.get_by_role("button", name="Say it all the same").click()
        mine.wait_for_url("**done=*")
        said = bench.collection.catalogue.said_of_person(INGRID)
        assert {one.words for one in said if one.says is Says.DIED} >= {"12 May 1999"}
        assert [line for line in mine.told + theirs.told if "409" not in line] == []


@pytest.mark.parametrize("size", ["desk", "phone"])
def test_the_page_that_shows_both_versions_fits(bench, launched, size):
    with running(bench.app) as address, window(launched, size, "dark") as page:
        open_page(page, f"{address}/person/{INGRID}")
        fill(page, "died", "12 May 1999")
        say_date(bench.collection, INGRID, Says.DIED, "1997")
        page.locator("form[action$='/date'] button").click()
        page.get_by_role("heading", name="What you were about to say").wait_for()
        assert overflow(page) == 0
        assert access_faults(page) == []
        keep_picture(page, f"both-versions-{size}-dark")


def test_a_list_grows_where_one_looks_without_moving(bench, launched):
    with running(bench.app) as address, window(launched, "phone") as page:
        open_page(page, f"{address}/person/{OLAV}")
        page.evaluate("scrollTo(0, document.body.scrollHeight / 2)")
        marked = page.evaluate_handle("document.elementFromPoint(innerWidth / 2, innerHeight / 2)")
        top = marked.evaluate("(e) => Math.round(e.getBoundingClientRect().top)")
        say_date(bench.collection, OLAV, Says.DIED, "1972")
        page.locator("[data-live-anew]").wait_for(state="visible")
        assert abs(marked.evaluate("(e) => Math.round(e.getBoundingClientRect().top)") - top) <= 2
        assert page.told == []


def test_a_page_that_nobody_sees_listens_to_nothing(bench, launched):
    with running(bench.app) as address, window(launched, "desk") as page:
        open_page(page, f"{address}/people")
        page.wait_for_timeout(300)
        assert any("/changes" in asked for asked in page.asked)
        page.evaluate(
            "Object.defineProperty(document, 'hidden', { value: true, configurable: true });"
            "document.dispatchEvent(new Event('visibilitychange'))"
        )
        call(bench, INGRID, "Little Inga")
        page.wait_for_timeout(1500)
        assert "Little Inga" not in page.locator("main").inner_text()
        page.evaluate("delete document.hidden; document.dispatchEvent(new Event('visibilitychange'))")
        page.get_by_text("Little Inga").first.wait_for()


def test_a_page_that_tells_of_trouble_claims_nothing_of_other_windows(bench, launched):
    with running(bench.app) as address, window(launched, "desk") as page:
        page.goto(f"{address}/nowhere")
        page.get_by_text("There is nothing at this address").wait_for()
        call(bench, INGRID, "Little Inga")
        page.wait_for_timeout(4000)  # a change is shown within two seconds
        assert page.locator("[data-live]").inner_text().strip() == ""
