"""A school outing described in a browser, every action counted; and the pages of arranging seen by everybody."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from statistics import median

import pytest
from arranged_box import CLASS, Workbench, arranging, number, outing
from page_checks import (
    LOOKS,
    faults_of_pages,
    keep_picture,
    open_page,
    window,
)
from served import running

from solander.core.statements import Says
from solander.tasks.arrange import put_into
from solander.tasks.collection import Collection
from solander.tasks.containers import mark_done, say_where
from solander.tasks.described import described
from solander.tasks.occasions import make_occasion, say_of_occasion

pytestmark = pytest.mark.browser

FEW = 20
PAGES = {
    "occasions": "/occasions",
    "occasion": "/occasion/School%20outing",
    "by-print": "/occasion-by-print/School%20outing",
    "containers": "/containers",
    "container": "/container/B2-E5",
    "how-far": "/how-far",
    "what-was-done": "/what-was-done",
    "act": "/what-was-done/2",
}


def done_before(collection: Collection) -> None:
    """An occasion with two views of its date, paper that lies elsewhere, a box that is lent, an envelope that is
    done."""
    make_occasion(collection, "School outing", [number(count) for count in range(1, 8)], date="May 1936")
    say_of_occasion(collection, "School outing", date="about 1935", place="Vessholm", source="Aunt Signe")
    put_into(collection, [number(9)], "B2/E6")
    say_where(collection, "B2", "lent to Vera on 3 May")
    mark_done(collection, "B2/E6")


@pytest.fixture(scope="module")
def home(tmp_path_factory) -> Iterator[str]:
    """A workbench at which something was done already."""
    with arranging(tmp_path_factory.mktemp("arranged") / "box", prints=9) as bench:
        done_before(bench.collection)
        with running(bench.app) as address:
            yield address


@pytest.fixture(scope="module")
def bare(tmp_path_factory) -> Iterator[str]:
    with arranging(tmp_path_factory.mktemp("bare") / "box", empty=True) as bench, running(bench.app) as address:
        yield address


@pytest.mark.parametrize("look", LOOKS)
def test_pages_are_open_to_everybody_fit_and_stay_at_home(chromium, home, look):
    assert faults_of_pages(chromium, look, home, PAGES, "arrange") == []


@pytest.mark.parametrize("look", LOOKS)
def test_empty_pages_are_open_to_everybody_too(chromium, bare, look):
    pages = {name: f"/{name}" for name in ("occasions", "containers", "how-far", "what-was-done")}
    assert faults_of_pages(chromium, look, bare, pages, "arrange-empty") == []


def held(page) -> str:
    return page.locator("[data-in-hand]").inner_text()


def test_the_hand_is_filled_and_emptied_by_keys_alone(chromium, home):
    with window(chromium, "desk") as page:
        open_page(page, f"{home}/occasion/School%20outing")
        assert held(page) == "In your hand: nothing"
        page.keyboard.press("ArrowRight")
        page.keyboard.press("Space")
        assert held(page) == "In your hand: 1 print"
        page.keyboard.press("Shift+ArrowRight")
        page.keyboard.press("Shift+ArrowRight")
        assert held(page) == "In your hand: 3 prints"
        assert page.locator(".doings").is_visible()
        page.keyboard.press("Escape")
        assert held(page) == "In your hand: nothing"
        assert not page.locator(".doings").is_visible()


def test_without_script_ticks_and_buttons_do_the_same(chromium, tmp_path):
    with outing(tmp_path / "box", prints=4) as collection, running(Workbench(collection).app) as address:
        with window(chromium, "desk", script=False) as page:
            open_page(page, f"{address}/container/B2-E5")
            for box in page.locator("[data-takes-up]").all()[:3]:
                box.check()
            page.locator('input[name="occasion"]').fill("School outing")
            page.locator('button[value="pile"]').click()
            page.wait_for_url("**/occasion/School%20outing?done=*")
        assert len(collection.catalogue.belongings(to="School outing")) == 3


def test_enter_in_a_field_presses_its_own_button_and_an_empty_field_is_led_to(chromium, tmp_path):
    with outing(tmp_path / "box", prints=4) as collection, running(Workbench(collection).app) as address:
        with window(chromium, "desk") as page:
            open_page(page, f"{address}/container/B2-E5")
            page.locator("[data-takes-up]").first.check()
            page.keyboard.press("Enter")  # on the tick, where a browser presses the first button there is
            assert page.locator('input[name="occasion"]').evaluate("e => e === document.activeElement")
            page.locator('input[name="container"]').fill("B2/E6")
            page.keyboard.press("Enter")
            page.wait_for_url("**/container/B2-E5?done=*")
        assert [one.value for one in collection.catalogue.kept_elsewhere()] == ["B2/E6"]


class Counting:
    """A person at the page: every key that commands, click and field that is typed counts."""

    def __init__(self, page) -> None:
        self.page, self.actions = page, 0

    def click(self, what: str, **how: object) -> None:
        self.actions += 1
        self.page.locator(what).click(**how)

    def type(self, words: str) -> None:
        """Into the field that has the focus."""
        self.actions += 1
        self.page.keyboard.insert_text(words)

    def press(self, key: str) -> None:
        self.actions += 1
        self.page.keyboard.press(key)


def who_is_on(count: int) -> list[str]:
    """One to three of the class, another mixture on each print."""
    return [CLASS[(count * step) % len(CLASS)] for step in range(1, 2 + count % 3)]


def caption_of(count: int) -> str:
    """Every fifth has words of its own."""
    return f"On the steps, number {count}" if count % 5 == 0 else ""


def test_an_outing_is_described_wholly_with_three_actions_a_print(chromium, tmp_path):
    """An outing of sixty is to take no more (our target); among the few of these, what is said once for all weighs
    three times as much in each, and the rest is the same."""
    numbers = [number(count) for count in range(1, FEW + 1)]
    with outing(tmp_path / "box", prints=FEW) as collection, running(Workbench(collection).app) as address:
        with window(chromium, "desk") as page:
            open_page(page, f"{address}/container/B2-E5")
            shared, own = describe(Counting(page), numbers)
            assert page.told == []
        a_print = [actions + shared / FEW for actions in own]
        print(f"\nactions: {shared} for all, {Counter(own)} a print, {median(a_print):.2f} at the median")
        assert median(a_print) <= 3
        assert (shared + sum(own)) / FEW <= 3
        told = {one.print.accession: one for one in described(collection)}
        for count, accession in enumerate(numbers, 1):
            one = told[accession]
            assert (one.occasion, one.when.edtf, one.place and one.place.name) == (
                "School outing",
                "1936-05",
                "Vessholm",
            )
            assert {who.person.name for who in one.people} == set(who_is_on(count))
            assert one.caption == caption_of(count)
        said_once = [one.says for one in collection.catalogue.said_of_occasion("School outing")]
        assert said_once == [Says.EXPOSURE, Says.PLACE], "date and place are said once"
        assert all(one.occasion == "" for accession, one in told.items() if accession not in numbers)


def describe(hands: Counting, numbers: list[str]) -> tuple[int, list[int]]:
    """Describes the outing from the page of its envelope; the actions for all, and those for each print."""
    page = hands.page
    hands.click("[data-takes-up] >> nth=0")
    hands.click("[data-takes-up] >> nth=-1", modifiers=["Shift"])
    assert held(page) == f"In your hand: {len(numbers)} prints"
    hands.click('input[name="occasion"]')
    hands.type("School outing")
    hands.press("Enter")
    page.wait_for_url("**/occasion/School%20outing?done=*")
    hands.click('input[name="date"]')
    hands.type("May 1936")
    hands.press("Tab")
    hands.type("Vessholm")
    hands.press("Enter")
    page.wait_for_selector("text=May 1936 · Vessholm")
    hands.click("text=Say who is on each, one by one")
    shared, own = hands.actions, []
    for count in range(1, len(numbers) + 1):
        page.wait_for_selector(f"text=Print {count} of {len(numbers)}")
        page.wait_for_selector('input[name="people"]:focus')
        before = hands.actions
        hands.type(", ".join(who_is_on(count)))
        if words := caption_of(count):
            hands.press("Tab")
            hands.type(words)
        hands.press("Enter")
        own.append(hands.actions - before)
    page.wait_for_url("**/occasion/School%20outing?done=*")
    return shared, own


def test_the_list_for_putting_back_prints_without_what_is_for_the_screen(chromium, home):
    with window(chromium, "desk") as page:
        open_page(page, f"{home}/container/B2-E5")
        page.emulate_media(media="print")
        assert page.locator(".order li").first.is_visible()
        for gone in (".hand", ".within", ".tick", ".not-printed", ".languages"):
            assert not page.locator(gone).first.is_visible(), gone
        keep_picture(page, "arrange-container-printed")
