"""The page of an album beside the print that comes from it."""

from __future__ import annotations

import asyncio
import io
from collections.abc import Iterator
from pathlib import Path

import httpx
import pytest
from PIL import Image

from solander.core.prints import Capture, Container, Corners, Outline, Print, Side, View
from solander.core.upright import Upright
from solander.station.app import create_app
from solander.station.workbench import Workbench
from solander.tasks.album import Albums
from solander.tasks.collection import Collection
from solander.tasks.show import Shown

pytestmark = pytest.mark.slow


@pytest.fixture
def album(tmp_path: Path) -> Iterator[Collection]:
    """One page with two prints, captured sideways, and a print that does not come from a page."""
    with Collection.create(tmp_path / "collection", title="The blue album") as made:
        file = tmp_path / "page-3.png"
        Image.new("RGB", (400, 300), "tan").save(file)
        sha256 = made.vault.put(file, suffix=".png").sha256
        with made.catalogue.act("Ada", "took in") as act, act.work() as work:
            work.keep_capture(Capture(sha256, file.name, "image/png", 1, 400, 300, suffix=".png"))
            work.add_container(Container("A1/P3", captures=(sha256,)))
            for number, left in enumerate((20, 220), start=1):
                work.add_print(Print(f"A1-P3-{number:04d}", "A1/P3", number, (view(sha256, left),)))
            parts = (view(sha256, left, Side.DETAIL) for left in (110, 120))
            work.add_print(Print("A1-0001", "A1", 1, (view(sha256, 100), *parts)))
            work.commit()
        yield made


def view(sha256: str, left: float, side: Side = Side.RECTO) -> View:
    corners: Corners = ((left, 50), (left + 150, 50), (left + 150, 250), (left, 250))
    return View(sha256, 0, Outline(corners, 1.0), side, 200, 150, turn=1, upright=Upright.PERSON)


def got(album: Collection, address: str) -> httpx.Response:
    """What the workbench answers."""
    app = create_app(Workbench(Shown(album), albums=Albums(album)))

    async def ask() -> httpx.Response:
        transport = httpx.ASGITransport(app)
        async with httpx.AsyncClient(transport=transport, base_url="http://127.0.0.1:8765") as client:
            return await client.get(address)

    return asyncio.run(ask())


def test_page_is_shown_upright_with_a_way_to_each_print(album: Collection) -> None:
    page = got(album, "/print/A1-P3-0002").text
    assert 'viewBox="-0.5 -0.5 300 400"' in page
    assert 'href="/print/A1-P3-0001" aria-label="A1-P3-0001, print 1 of this page">' in page
    assert 'aria-label="A1-P3-0002, print 2 of this page" aria-current="true"' in page
    assert "<code>page-3.png#2</code>" in page
    address = page.partition('<image href="')[2].partition('"')[0]
    picture = got(album, address)
    assert picture.headers["content-type"] == "image/jpeg"
    with Image.open(io.BytesIO(picture.content)) as seen:
        assert seen.size == (300, 400)


def test_print_from_elsewhere_has_no_page(album: Collection) -> None:
    assert "The page it is from" not in got(album, "/print/A1-0001").text


def test_details_are_counted_where_there_are_several(album: Collection) -> None:
    page = got(album, "/print/A1-0001").text
    assert [f'<span class="side-word">{name}</span>' in page for name in ("front", "detail 1", "detail 2")] == [
        True
    ] * 3
    assert ['id="front"' in page, 'id="detail-2"' in page, 'class="side across near"' in page] == [True] * 3


@pytest.mark.parametrize("address", ["/album-page/../../etc/1.jpg", f"/album-page/{'0' * 64}/0.jpg"])
def test_other_pages_are_not_there(address: str, album: Collection) -> None:
    assert got(album, address).status_code in (404, 400)
