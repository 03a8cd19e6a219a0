"""Questions whether two people are one are answered where they wait, and taken back."""

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
from solander.tasks.people import take_in_people

pytestmark = pytest.mark.slow

FIRST = "name,born\nAnna Weber,1921-03-12\n"
LATER = "BEGIN:VCARD\r\nVERSION:4.0\r\nUID:urn:uuid:1\r\nFN:Anna Weber\r\nBDAY:19210312\r\nEND:VCARD\r\n"


@pytest.fixture
def collection(tmp_path: Path) -> Iterator[Collection]:
    (tmp_path / "list.csv").write_text(FIRST, encoding="utf-8")
    (tmp_path / "book.vcf").write_bytes(LATER.encode())
    with Collection.create(tmp_path / "box", title="A box") as box:
        take_in_people(box, tmp_path / "list.csv")
        take_in_people(box, tmp_path / "book.vcf")
        yield box


@pytest.fixture
def bench(collection: Collection) -> Workbench:
    return Workbench(collection)


ASKED = "/questions/one?kind=same-person"


def waiting(collection: Collection) -> list[str]:
    return [one.subject for one in collection.catalogue.questions() if one.asks is Asks.SAME_PERSON]


def people(collection: Collection) -> list[str]:
    return sorted(one.name for one in collection.catalogue.people())


def pair(bench: Workbench) -> tuple[str, str]:
    page = bench.get(ASKED).text
    one, other = (re.search(rf'name="{field}" value="([^"]+)"', page) for field in ("one", "other"))
    assert one
    assert other
    return one.group(1), other.group(1)


def test_one_press_joins_the_two_and_undo_parts_them(bench: Workbench, collection: Collection) -> None:
    one, other = pair(bench)
    before = people(collection)
    page = bench.post("/one-person", one=one, other=other, keep=one, then=ASKED).text
    assert (people(collection), waiting(collection)) == ([one], [])
    act = re.search(r'name="act" value="(\d+)"', page)
    assert act
    bench.post("/undo", act=act.group(1), then="/questions")
    assert people(collection) == before
    assert len(waiting(collection)) == 1


def test_the_other_name_may_be_kept(bench: Workbench, collection: Collection) -> None:
    one, other = pair(bench)
    bench.post("/one-person", one=one, other=other, keep=other)
    assert people(collection) == [other]


def test_two_stay_two_and_are_not_asked_about_again(bench: Workbench, collection: Collection) -> None:
    one, other = pair(bench)
    bench.post("/one-person", one=one, other=other, keep="")
    assert (people(collection), waiting(collection)) == (sorted((one, other)), [])


@pytest.mark.browser
@pytest.mark.parametrize(("size", "scheme"), LOOKS)
def test_the_question_is_open_to_everybody(chromium: object, bench: Workbench, size: str, scheme: str) -> None:
    with running(bench.app) as home, window(chromium, size, scheme) as page:
        open_page(page, home + ASKED)
        keep_picture(page, f"station-one-person-{size}-{scheme}")
        assert_open_to_everybody(page, home)
