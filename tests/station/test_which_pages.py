"""Questions about names of places are answered where they wait, and taken back."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from named_box import Workbench
from page_checks import LOOKS, assert_open_to_everybody, keep_picture, open_page, window
from served import running

from solander.core.questions import Asks
from solander.tasks.collection import Collection
from solander.tasks.place_said import enter_place
from solander.tasks.places import place_reader

pytestmark = pytest.mark.slow


@pytest.fixture
def collection(tmp_path: Path) -> Iterator[Collection]:
    with Collection.create(tmp_path / "box", title="A box") as box:
        with box.catalogue.act("test", "slips") as act, act.work() as work:
            enter_place(work, "Springfield", place_reader(box.catalogue))
            work.commit()
        yield box


@pytest.fixture
def bench(collection: Collection) -> Workbench:
    return Workbench(collection)


ASKED = "/questions/one?kind=place"


def waiting(collection: Collection) -> list[str]:
    return [one.subject for one in collection.catalogue.questions() if one.asks is Asks.PLACE]


def test_each_place_that_may_be_meant_is_a_button(bench: Workbench) -> None:
    page = bench.get(ASKED).text
    assert "Springfield (Illinois, United States)</button>" in page
    assert "None of these</button>" in page
    assert "GeoNames, CC BY 4.0" in page


def test_one_press_says_which_and_undo_asks_again(bench: Workbench, collection: Collection) -> None:
    page = bench.post("/which", name="Springfield", place="geonames:4250542", then=ASKED).text
    assert "Springfield is Springfield (Illinois, United States)" in page
    (place,) = collection.catalogue.places()
    assert (place.region, waiting(collection)) == ("Illinois", [])
    act = re.search(r'name="act" value="(\d+)"', page)
    assert act
    bench.post("/undo", act=act[1], then="/questions")
    assert waiting(collection) == ["Springfield"]


def test_none_of_these_asks_no_more_and_guesses_nothing(bench: Workbench, collection: Collection) -> None:
    bench.post("/which", name="Springfield", place="")
    assert waiting(collection) == []
    assert not collection.catalogue.places()[0].is_located


def test_a_place_that_was_not_offered_is_refused(bench: Workbench, collection: Collection) -> None:
    assert bench.post("/which", name="Springfield", place="geonames:1").status_code == 404
    assert waiting(collection) == ["Springfield"]


@pytest.mark.browser
@pytest.mark.parametrize(("size", "scheme"), LOOKS)
def test_the_question_is_open_to_everybody(chromium: object, bench: Workbench, size: str, scheme: str) -> None:
    with running(bench.app) as home, window(chromium, size, scheme) as page:
        open_page(page, home + ASKED)
        keep_picture(page, f"station-which-{size}-{scheme}")
        assert_open_to_everybody(page, home)
