"""Questions in a real browser: one key turns a print, and those that have a form of their own are open to all."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from asking_box import FIRST, SECOND, THIRD, asking_box, bench_over
from attrs import frozen
from doubtful_box import doubtful_box
from page_checks import LOOKS, access_faults, cut_off, keep_picture, open_page, overflow, window
from served import running

from solander.core.questions import Asks
from solander.imaging.one_negative import Likeness
from solander.station.app import create_app
from solander.tasks.ask import ask
from solander.tasks.collection import Collection
from solander.tasks.duplicates import Kind, Pair, sentence_of
from solander.tasks.print_desk import PrintDesk
from solander.tasks.seen_twice import duplicate_sentence, one_negative
from solander.tasks.show import Shown
from solander.tasks.typed import Field, Typed

pytestmark = [pytest.mark.slow, pytest.mark.browser]


@frozen
class Served:
    """A collection, and where its workbench answers."""

    collection: Collection
    home: str


@pytest.fixture(scope="module")
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    folder = tmp_path_factory.mktemp("asked")
    with asking_box(doubtful_box(folder), folder / "box") as collection:
        with collection.catalogue.act("test", "asked") as act, act.work() as work:
            ask(work, Asks.DUPLICATE, SECOND, duplicate_sentence(SECOND, FIRST))
            pair = Pair(FIRST, THIRD, Kind.ONE_NEGATIVE, Likeness())
            one_negative_key = ask(work, Asks.DUPLICATE, THIRD, sentence_of(pair))
            work.commit()
        one_negative(collection, one_negative_key)
        PrintDesk(Shown(collection)).say(Typed(SECOND, Field.TRANSCRIPTION, "Nils at the lake, August 1936"))
        with running(create_app(bench_over(collection))) as home:
            yield Served(collection, home)


@pytest.mark.parametrize("kind", ["upright", "duplicate", "inscription"])
@pytest.mark.parametrize(("size", "scheme"), LOOKS)
def test_a_question_is_open_to_everybody(served: Served, chromium, kind: str, size: str, scheme: str) -> None:
    with window(chromium, size, scheme) as page:
        open_page(page, f"{served.home}/questions/one?kind={kind}")
        keep_picture(page, f"question-{kind}-{size}-{scheme}")
        assert access_faults(page) == []
        assert overflow(page) == 0
        assert cut_off(page) == []
        assert page.told == []


@pytest.mark.parametrize(("size", "scheme"), LOOKS)
def test_other_prints_of_a_negative_are_open_to_everybody(
    served: Served, chromium, size: str, scheme: str
) -> None:
    with window(chromium, size, scheme) as page:
        open_page(page, f"{served.home}/print/{THIRD}")
        others = page.locator(".other-prints")
        others.scroll_into_view_if_needed()
        assert FIRST in others.inner_text()
        keep_picture(page, f"print-others-{size}-{scheme}")
        assert access_faults(page) == []
        assert overflow(page) == 0
        assert cut_off(page) == []
        assert page.told == []


def turn_of(served: Served, accession: str) -> int:
    """Quarter turns of the picture that is asked about."""
    there = served.collection.catalogue.print(accession)
    return next(view.turn for view in (there.recto, there.verso) if view is not None)


def asked_about(page) -> str:
    return str(page.locator(".judged .number").inner_text()).strip()


def test_one_key_turns_a_print_and_asks_about_the_next(served: Served, chromium) -> None:
    with window(chromium, "desk") as page:
        open_page(page, f"{served.home}/questions/one?kind=upright")
        first = asked_about(page)
        before = turn_of(served, first)
        page.keyboard.press("2")
        page.wait_for_url("**done=*")
        assert turn_of(served, first) == (before + 1) % 4
        assert asked_about(page) != first
        page.keyboard.press("u")
        page.wait_for_url("**undone=*")
        assert turn_of(served, first) == before
        assert page.told == []


def test_the_turns_are_answered_without_script_by_a_press(served: Served, chromium) -> None:
    with window(chromium, "phone", script=False) as page:
        open_page(page, f"{served.home}/questions/one?kind=upright")
        first = asked_about(page)
        before = turn_of(served, first)
        page.locator("form.turns button").nth(2).click()
        page.wait_for_url("**done=*")
        assert turn_of(served, first) == (before + 2) % 4
