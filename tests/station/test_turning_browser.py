"""Which way is up, in a real browser: one key answers, with and without the script, and everybody can."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from page_checks import access_faults, browser, cut_off, keep_picture, open_page, overflow, window
from served import workbench
from served_box import Asking, Box

pytestmark = pytest.mark.browser


@pytest.fixture(scope="module")
def chromium() -> Iterator[object]:
    with browser() as launched:
        yield launched


@pytest.fixture
def asking(box: Box) -> Asking:
    return Asking(box.prints, box.pictures)


def _front(box: Box, place: int) -> str:
    view = box.prints[place].print.recto
    assert view is not None
    return view.key


def _answered(page) -> None:  # type: ignore[no-untyped-def]
    page.wait_for_url("**/questions?done=7#up")
    page.wait_for_load_state()


@pytest.mark.parametrize(
    ("size", "scheme"), [("desk", "light"), ("desk", "dark"), ("phone", "light"), ("zoomed", "light")]
)
def test_the_question_is_open_to_everybody(chromium, asking: Asking, size: str, scheme: str) -> None:  # type: ignore[no-untyped-def]
    with workbench(asking) as home, window(chromium, size, scheme) as page:
        open_page(page, f"{home}/questions")
        keep_picture(page, f"station-upright-{size}-{scheme}")
        assert (page.told, overflow(page), cut_off(page), access_faults(page)) == ([], 0, [], [])


def test_one_key_answers_the_question_at_hand(chromium, asking: Asking) -> None:  # type: ignore[no-untyped-def]
    with workbench(asking) as home, window(chromium, "desk") as page:
        open_page(page, f"{home}/questions")
        page.keyboard.press("3")
        _answered(page)
        page.goto(f"{home}/questions")
        page.locator("form.turns").nth(1).locator("button").first.focus()
        page.keyboard.press("2")
        _answered(page)
        page.goto(f"{home}/questions")
        for key in ("5", "Control+1", "a"):
            page.keyboard.press(key)
    assert asking.turned == [(_front(asking, 0), 2), (_front(asking, 1), 1)]


def test_without_the_script_a_press_on_the_picture_does_the_same(chromium, asking: Asking) -> None:  # type: ignore[no-untyped-def]
    with workbench(asking) as home, window(chromium, "phone", script=False) as page:
        page.goto(f"{home}/questions")
        page.locator("form.turns button").nth(3).click()
        _answered(page)
    assert asking.turned == [(_front(asking, 0), 3)]


def test_the_four_pictures_are_turned_a_quarter_each(chromium, asking: Asking) -> None:  # type: ignore[no-untyped-def]
    """Source: CSS Transforms 1, rotate() turns clockwise; matrix(cos, sin, −sin, cos, 0, 0)."""
    with workbench(asking) as home, window(chromium, "desk") as page:
        open_page(page, f"{home}/questions")
        told = (
            page.locator("form.turns")
            .first.locator("img")
            .evaluate_all("all => all.map(one => getComputedStyle(one).transform)")
        )
    turned = [[round(float(part)) for part in one[7:-1].split(",")[:2]] for one in told[1:]]
    assert told[0] == "none"
    assert turned == [[0, 1], [-1, 0], [0, -1]]
