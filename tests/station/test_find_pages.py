"""Looking for prints on the pages: what is found, why, what is offered instead, with and without the script."""

from __future__ import annotations

import re
from collections.abc import Iterator
from html import unescape
from urllib.request import Request, urlopen

import pytest
from named_box import named_collection
from page_checks import LOOKS, assert_open_to_everybody, keep_picture, open_page, window
from served import running

from solander.core.statements import About, Says, Statement, Sure
from solander.station.app import create_app
from solander.station.find import Sought
from solander.station.workbench import Workbench
from solander.tasks.collection import Collection
from solander.tasks.find import Facet
from solander.tasks.standing import keep_all


@pytest.fixture(scope="module")
def collection(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Collection]:
    """The eight prints of the named box, and a note on one of them."""
    with named_collection(tmp_path_factory.mktemp("looked") / "box") as made:
        note = "torn corner; taken from the pier while the steamer <was> leaving; see the harbour print"
        with made.catalogue.act("test", "noted") as act, act.work() as work:
            said = (About.PRINT, "B2-E5-0003", Says.NOTE, note, note, Sure.CERTAIN, "Ada", "2026-01-02T10:00:00Z")
            work.state(Statement("note", *said))
            work.commit()
        keep_all(made)
        yield made


@pytest.fixture(scope="module")
def home(collection: Collection) -> Iterator[str]:
    with running(create_app(Workbench.over(collection))) as address:
        yield address


def text_of(page: str) -> str:
    return " ".join(unescape(re.sub(r"<[^>]+>", "", page)).split())


def get(home: str, path: str) -> str:
    with urlopen(Request(home + path, headers={"accept": "text/html"})) as answer:
        return str(answer.read().decode())


def found(page: str) -> list[str]:
    return re.findall(r'<article class="place[^"]*" id="([^"]+)"', page)


@pytest.mark.slow
def test_what_is_found_is_told_with_where_the_words_stand(home: str) -> None:
    page = get(home, "/find?look-for=harbour+mormor")
    assert found(page) == ["B2-E5-0003"]
    assert "1 print" in text_of(page)
    assert "<mark>harbour</mark>" in page
    assert "<mark>Mormor</mark>" in page
    assert "&lt;was&gt;" in page, "what was said is text and nothing else"
    assert 'value="harbour mormor"' in page


@pytest.mark.slow
def test_a_time_that_was_understood_is_said(home: str) -> None:
    page = text_of(get(home, "/find?look-for=summer+58"))
    assert "Understood as between 1 June 1958 and 31 August 1958" in page
    assert "B2-E5-0006" in page


@pytest.mark.slow
def test_of_a_time_in_which_no_print_lies_no_words_are_spoken(home: str) -> None:
    told = text_of(get(home, "/find?look-for=1850"))
    assert "0 prints" in told
    assert "No print is known to be of that time" in told
    assert "Each of these words" not in told


@pytest.mark.slow
def test_misspelt_words_and_former_names_are_helped(home: str) -> None:
    page = get(home, "/find?look-for=harbuor")
    assert "Nothing has “harbuor”." in text_of(page)
    assert 'href="/find?look-for=harbour"' in page
    page = get(home, "/find?look-for=rohrbach")
    assert found(page) == ["B2-E5-0001"]
    assert "Trzcianna pod Wzgórzem · <mark>Rohrbach</mark>" in page


@pytest.mark.slow
def test_what_is_chosen_stands_in_the_address_and_is_counted(home: str) -> None:
    page = get(home, "/find?only=nobody")
    assert found(page) == ["B2-E5-0008"]
    assert re.search(r'value="nobody" checked> nobody named <small>1</small>', page)
    assert found(get(home, "/find?in=B2&look-for=ingrid&laid=container"))[0] == "B2-E5-0002"
    assert get(home, "/find?only=nonsense&laid=nonsense&in=nowhere&after=x").count("No print has all of this") == 1
    part = get(home, "/find?look-for=ingrid&part=found")
    assert "<html" not in part
    assert len(found(part)) == 6


def test_the_address_says_what_is_looked_for() -> None:
    sought = Sought("Åse & co", (Facet.BACK,), "B2/E5")
    assert sought.address() == "/find?look-for=%C3%85se+%26+co&only=has_back&in=B2%2FE5"
    assert sought.with_facet(Facet.BACK).with_facet(Facet.NOBODY).facets == (Facet.NOBODY,)


@pytest.mark.browser
def test_it_is_found_as_one_types_and_one_can_go_back(chromium: object, home: str) -> None:
    with window(chromium, "desk") as page:
        open_page(page, home)
        page.keyboard.press("/")
        page.keyboard.type("boathouse", delay=20)
        page.wait_for_url("**/find?look-for=boathouse")  # the first letters find it already
        page.locator("#B2-E5-0005 mark").first.wait_for()
        assert page.locator("#lies").is_hidden()
        assert page.evaluate("document.activeElement.id") == "sought"
        page.keyboard.press("Escape")
        assert page.evaluate("document.activeElement.id") != "sought"
        page.go_back()
        page.locator("#lies").wait_for()
        assert (page.locator("#sought").input_value(), page.locator(".found-prints").count()) == ("", 0)
        page.go_forward()
        page.locator("#B2-E5-0005 mark").first.wait_for()
        page.locator("[data-put-away]").click()
        page.locator("#lies").wait_for()
        page.get_by_label("nobody named").check()
        page.locator(".found-prints #B2-E5-0008").wait_for()
        page.wait_for_url("**/find?only=nobody")
        assert page.told == []


@pytest.mark.browser
def test_without_the_script_it_is_a_form(chromium: object, home: str) -> None:
    with window(chromium, "phone", script=False) as page:
        page.goto(home)
        page.get_by_label("Look for").fill("boathouse")
        page.get_by_role("button", name="Look").click()
        page.wait_for_url("**/find?look-for=boathouse")
        assert page.locator(".found-prints article").count() == 1


@pytest.mark.browser
@pytest.mark.parametrize("address", ["/find?look-for=ingrid+summer+58", "/find?look-for=harbuor", "/find"])
@pytest.mark.parametrize(("size", "scheme"), LOOKS)
def test_what_is_found_is_open_to_everybody(
    chromium: object, home: str, address: str, size: str, scheme: str
) -> None:
    with window(chromium, size, scheme) as page:
        open_page(page, home + address)
        keep_picture(page, f"station-{re.sub('[^a-z]+', '-', address)}-{size}-{scheme}")
        assert_open_to_everybody(page, home)
