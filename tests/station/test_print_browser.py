"""One print in a browser: seen by everybody, described without a mouse, and without script."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from page_checks import (
    LOOKS,
    access_faults,
    faults_of_pages,
    keep_picture,
    open_page,
    overflow,
    window,
)
from print_bench import PrintBench, opened_bench
from served import running

from solander.core.statements import Sure
from solander.tasks.typed import Field, Typed

pytestmark = pytest.mark.browser

LONG = "Wawrzyniec Brzęczyszczykiewicz-Chrząszczyżewoszycki (40), Nan?"
PAGES = {
    "both-sides": "/print/B1-0001",
    "no-back": "/print/B1-0002",
    "open": "/print/B1-0001?say=date",
    "clash": "/print/B1-0003",
    "seen": "/print/B1-0002/seen",
}


@pytest.fixture(scope="module")
def home(tmp_path_factory, gazetteer) -> Iterator[str]:
    with opened_bench(tmp_path_factory.mktemp("prints") / "box", pictures=True) as bench:
        fill(bench)
        with running(bench.app) as address:
            yield address


def fill(bench: PrintBench) -> None:
    """Makes the page difficult: a date between feasts and wars, a long name, a contradiction."""
    for accession, field, words, by, sure in (
        ("B1-0001", Field.DATE, "between Whitsun 1936 and the war", "Grandma Chrząszczyżewoszycka", None),
        ("B1-0001", Field.PEOPLE, LONG, "Uncle Kasimir", None),
        ("B1-0001", Field.NOTE, "One line.\nAnother line.", "", None),
        ("B1-0003", Field.DATE, "1958", "Aunt Vera", Sure.LIKELY),
        ("B1-0003", Field.EVIDENCE, "50-star US flag", "", None),
        ("B1-0003", Field.DATE, "1961", "Uncle Kasimir", Sure.GUESS),
    ):
        bench.prints.say(Typed(accession, field, words, sure, by))


@pytest.fixture
def bench(tmp_path, gazetteer) -> Iterator[tuple[PrintBench, str]]:
    with opened_bench(tmp_path / "box", pictures=True) as bench, running(bench.app) as address:
        yield bench, address


def said(bench: PrintBench, accession: str) -> list[tuple[str, str, str]]:
    there = bench.collection.catalogue.statements(subject=accession)
    return [(one.value, one.sure, one.source) for one in there]


@pytest.mark.parametrize("look", LOOKS)
def test_pages_are_open_to_everybody_fit_and_stay_at_home(chromium, home, look):
    assert faults_of_pages(chromium, look, home, PAGES, "print") == []


@pytest.mark.parametrize("name", ["open", "seen"])
def test_type_of_twice_the_size_fits(chromium, home, name):
    with window(chromium, "phone") as page:
        open_page(page, home + PAGES[name])
        page.evaluate("document.documentElement.style.fontSize = '200%'")
        assert overflow(page) == 0


def test_the_photograph_comes_first_and_the_slip_second(chromium, home):
    with window(chromium, "desk") as page:
        open_page(page, f"{home}/print/B1-0002")
        photo, slip = (page.locator(which).bounding_box() for which in (".side .paper", "#slip"))
        assert photo["width"] * photo["height"] > 0.25 * 1440 * 900
        assert photo["y"] < slip["y"] < 900 - 60


def test_a_date_is_typed_seen_kept_and_taken_back_by_keys_alone(chromium, bench):
    desk, address = bench
    with window(chromium, "desk") as page:
        open_page(page, f"{address}/print/B1-0001")
        page.keyboard.press("1")
        page.keyboard.type("summer 58")
        page.wait_for_selector("#understood-date .taken:has-text('Summer 1958')")
        assert page.locator("#understood-date .rule-row.now .strip").count() == 1
        assert said(desk, "B1-0001") == []
        keep_picture(page, "print-date-understood")
        page.keyboard.press("Alt+l")
        page.wait_for_selector("#understood-date .taken:has-text('likely')")
        page.keyboard.press("Enter")
        page.wait_for_url("**done=*")
        assert said(desk, "B1-0001") == [("1958-22", "likely", "archivist")]
        assert page.locator(".part-date .words").inner_text() == "Summer 1958, likely"
        page.keyboard.press("u")
        page.wait_for_url(f"{address}/print/B1-0001")
        assert said(desk, "B1-0001") == []


def test_escape_leaves_and_nothing_is_kept(chromium, bench):
    desk, address = bench
    with window(chromium, "desk") as page:
        open_page(page, f"{address}/print/B1-0001")
        page.keyboard.press("5")
        page.keyboard.type("Before the snow")
        page.keyboard.press("Escape")
        assert page.locator("#say-caption").is_hidden()
        assert page.evaluate("document.activeElement.dataset.key") == "5"
        assert said(desk, "B1-0001") == []


def test_how_sure_follows_the_words_until_it_is_said_apart(chromium, bench):
    _, address = bench
    with window(chromium, "desk") as page:
        open_page(page, f"{address}/print/B1-0001?say=date")
        page.keyboard.type("1958?")
        page.wait_for_selector("#say-date [name=sure][value=guess]:checked")
        page.keyboard.press("Alt+c")
        page.keyboard.type(" ")
        page.wait_for_selector("#understood-date .taken:not(:has-text('a guess'))")
        assert page.locator("#say-date [name=sure][value=certain]").is_checked()


def test_a_run_of_prints_is_described_with_the_same_part_open(chromium, bench):
    desk, address = bench
    with window(chromium, "desk") as page:
        open_page(page, f"{address}/print/B1-0001?say=people")
        for number, words in enumerate(("Nan", "Uncle Joe"), 1):
            page.keyboard.type(words)
            page.wait_for_selector("#understood-people .taken")
            page.keyboard.press("Control+Enter")
            page.wait_for_url(f"**/print/B1-000{number + 1}?say=people*")
        page.keyboard.type("Nan")
        page.keyboard.press("Enter")
        page.wait_for_url(lambda url: "say=" not in url)
        found = [[value for value, _, _ in said(desk, f"B1-000{number}")] for number in (1, 2, 3)]
        assert found == [["Ingrid Sollihøgda"], ["1952", "Joseph Weber"], ["Ingrid Sollihøgda"]]


def test_page_down_goes_on_with_the_part_open_and_what_is_typed_stays(chromium, bench):
    _, address = bench
    with window(chromium, "desk") as page:
        open_page(page, f"{address}/print/B1-0001?say=note")
        page.keyboard.press("PageDown")
        page.wait_for_url("**/print/B1-0002?say=note")
        page.keyboard.type("not yet kept")
        page.keyboard.press("PageDown")
        page.wait_for_timeout(200)
        assert "/print/B1-0002" in page.url
        assert page.locator(".part-note textarea").input_value() == "not yet kept"


def test_people_are_parted_and_one_of_two_is_chosen_by_keys(chromium, bench):
    desk, address = bench
    with window(chromium, "desk") as page:
        open_page(page, f"{address}/print/B1-0001")
        page.keyboard.press("3")
        page.keyboard.type("Nan + Anna Weber")
        page.wait_for_selector("#understood-people .choice")
        assert page.locator("#understood-people .taken").count() == 2
        page.keyboard.press("Tab")
        page.keyboard.press("Space")
        page.wait_for_selector("#understood-people [name=means-1]:checked")
        chosen = page.locator("#understood-people [name=means-1]:checked").input_value()
        page.keyboard.press("Enter")
        page.wait_for_url("**done=*")
        assert [value for value, _, _ in said(desk, "B1-0001")] == ["Ingrid Sollihøgda", chosen]


def test_a_place_is_laid_on_the_map_before_it_is_kept(chromium, bench):
    desk, address = bench
    with window(chromium, "desk") as page:
        open_page(page, f"{address}/print/B1-0001")
        page.keyboard.press("2")
        page.keyboard.type("the boathouse")
        page.wait_for_selector("#understood-place [data-laid]")
        keep_picture(page, "print-place-understood")
        assert access_faults(page) == []
        assert page.told == []
        page.keyboard.press("Enter")
        page.wait_for_url("**done=*")
        assert said(desk, "B1-0001") == [("the boathouse", "certain", "archivist")]


def test_what_is_seen_is_looked_for_and_chosen_by_keys(chromium, bench):
    desk, address = bench
    with window(chromium, "desk") as page:
        open_page(page, f"{address}/print/B1-0002/seen")
        page.keyboard.press("/")
        page.keyboard.type("little waves")
        page.wait_for_function("document.querySelectorAll('.facts-seen li:not([hidden])').length === 1")
        page.keyboard.press("Enter")
        page.keyboard.press("Space")
        assert "little waves" in page.locator(".chosen-words").inner_text()
        page.keyboard.press("Alt+g")
        page.keyboard.press("Enter")
        page.wait_for_url("**done=*")
        assert said(desk, "B1-0002")[1:] == [("E124", "guess", "archivist")]


def test_one_comes_closer_to_every_pixel_and_back_by_keys_and_wheel(chromium, home):
    with window(chromium, "desk") as page:
        open_page(page, f"{home}/print/B1-0001")
        for _ in range(5):
            page.keyboard.press("+")
        assert page.locator(".zoom-words").inner_text() == "every pixel"
        scale = "Number(new DOMMatrix(getComputedStyle(document.querySelector('.held .paper')).transform).a)"
        assert page.evaluate(scale) == pytest.approx(1)
        page.keyboard.press("b")
        assert page.locator(".held .side-word").inner_text() == "back"
        page.keyboard.press("Escape")
        assert page.locator(".held").count() == 0
        page.locator(".glass").first.click()
        page.mouse.wheel(0, 300)
        page.wait_for_function("!document.querySelector('.held')")


def test_ones_own_words_stand_in_the_field_to_be_changed(chromium, bench):
    desk, address = bench
    desk.prints.say(Typed("B1-0001", Field.CAPTION, "Before the snow"))
    desk.prints.say(Typed("B1-0001", Field.NOTE, "of another", by="Aunt Vera"))
    with window(chromium, "desk") as page:
        open_page(page, f"{address}/print/B1-0001?say=note")
        assert page.locator(".part-note textarea").input_value() == ""
        page.keyboard.press("Escape")
        page.keyboard.press("5")
        assert page.locator(".part-caption input").input_value() == "Before the snow"
        page.keyboard.type("After the snow")
        page.wait_for_selector("#understood-caption:has-text('in the place of')")
        page.keyboard.press("Enter")
        page.wait_for_url("**done=*")
        assert said(desk, "B1-0001")[1:] == [("After the snow", "certain", "archivist")]


def test_what_is_typed_stays_when_another_changes_the_print_and_both_are_shown(chromium, bench):
    desk, address = bench
    with window(chromium, "desk") as page:
        open_page(page, f"{address}/print/B1-0001")
        page.keyboard.press("1")
        page.keyboard.type("summer 58")
        page.wait_for_selector("#understood-date .taken")
        desk.prints.say(Typed("B1-0001", Field.DATE, "1960", by="Aunt Vera"))
        page.wait_for_selector(".views .who:has-text('Aunt Vera')")
        assert page.locator(".part-date input").input_value() == "summer 58"
        page.keyboard.press("Enter")
        page.wait_for_selector("text=somebody else changed the same")
        assert said(desk, "B1-0001") == [("1960", "certain", "Aunt Vera")]
        assert "summer 58" in page.content()
        keep_picture(page, "print-changed-meanwhile")


def test_without_script_every_part_is_a_form(chromium, bench):
    desk, address = bench
    with window(chromium, "desk", script=False) as page:
        open_page(page, f"{address}/print/B1-0001")
        page.get_by_role("link", name="when?").click()
        page.get_by_role("textbox", name="When").fill("summer 58")
        page.get_by_role("button", name="Show what is understood").click()
        assert page.locator("#understood-date .taken").inner_text() == "Summer 1958"
        page.get_by_role("button", name="Keep", exact=False).first.click()
        assert said(desk, "B1-0001") == [("1958-22", "certain", "archivist")]
        page.get_by_role("button", name="Take it back").click()
        assert said(desk, "B1-0001") == []
