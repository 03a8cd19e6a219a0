"""Checking and drawing outlines over the web, without a browser: pages, answers, refusals."""

from __future__ import annotations

import asyncio
import re
from collections.abc import Iterator
from html import unescape
from pathlib import Path

import httpx
import pytest
from attrs import frozen
from doubtful_box import Doubtful, doubtful_box
from fastapi import FastAPI

from solander.core.questions import Asks
from solander.station.app import create_app
from solander.station.guard import TOKEN_HEADER
from solander.station.sealing import seal
from solander.station.workbench import Workbench
from solander.tasks.collection import Collection
from solander.tasks.outlines import Outlines
from solander.tasks.queue import Queue
from solander.tasks.show import Shown

pytestmark = pytest.mark.slow

OURS = {"origin": "http://127.0.0.1", TOKEN_HEADER: seal()}


@frozen
class Desk:
    """The workbench over a collection that can be changed, asked in this process."""

    collection: Collection
    app: FastAPI
    truths: dict[str, object]

    def get(self, path: str, **headers: str) -> httpx.Response:
        return asyncio.run(self._ask("GET", path, {"accept": "text/html", **headers}))

    def post(self, path: str, form: dict[str, object] | None = None, **headers: str) -> httpx.Response:
        return asyncio.run(self._ask("POST", path, {"accept": "text/html", **OURS, **headers}, form))

    async def _ask(self, method: str, path: str, headers: dict[str, str], form: object = None) -> httpx.Response:
        transport = httpx.ASGITransport(self.app, raise_app_exceptions=False)
        async with httpx.AsyncClient(transport=transport, base_url="http://127.0.0.1") as client:
            return await client.request(method, path, headers=headers, data=form)

    @property
    def waiting(self) -> list[str]:
        """Keys of the outlines that wait, in the order of the desk."""
        return [view.key for _, view in self.collection.catalogue.unsure_views()]

    def asked(self) -> list[str]:
        return [one.subject for one in self.collection.catalogue.questions() if one.asks is Asks.OUTLINE]


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Doubtful:
    return doubtful_box(tmp_path_factory.mktemp("doubtful"))


@pytest.fixture
def desk(made: Doubtful, tmp_path: Path) -> Iterator[Desk]:
    copied = made.copied_to(tmp_path / "collection")
    with copied.opened() as collection:
        outlines = Outlines(collection)
        bench = Workbench(Shown(collection), outlines=outlines, queue=Queue(collection, outlines.sitting))
        yield Desk(collection, create_app(bench), copied.truths)


def text_of(page: str) -> str:
    return " ".join(unescape(re.sub(r"<[^>]+>", "", page)).split())


def fields(corners: object) -> dict[str, object]:
    return {
        f"{axis}-{i}": corner[a] for i, corner in enumerate(corners) for a, axis in enumerate(("across", "down"))
    }


EDGES = "/questions/one?kind=outline"


def test_the_edges_are_told_with_their_number_and_asked_the_least_sure_first(desk):
    page = desk.get("/questions").text
    assert re.search(r"<b>3</b>\s*<span>edges to look at", page)
    assert f"/outline/{desk.waiting[0]}/keep" in desk.get(EDGES).text


def test_one_edge_is_asked_about_with_both_outlines_its_corners_and_the_next_is_fetched(desk):
    none, second, _ = desk.waiting
    page = desk.get(f"{EDGES}&at=outline:{second}").text
    assert "3 wait" in text_of(page)
    assert "Is the front of B12-E34-P5-0002 cut out at the paper's edge?" in text_of(page)
    assert "30% sure" in page
    assert page.count('class="line"') == page.count('class="second"') == 1 + 4, "whole, and each corner magnified"
    for verb in ("keep", "second", "no-print"):
        assert f"/outline/{second}/{verb}" in page
    assert re.search(r'data-next="/capture/\w{64}/0/large.jpg /view/\w{32}.jpg"', page)
    first = desk.get(EDGES).text
    assert f"/outline/{none}/keep" in first
    assert "No edge of a print was found for the front of B12-E34-P5-0004: where is it?" in text_of(first)


def test_keeping_goes_to_the_next_with_the_way_back(desk):
    none, key, _ = desk.waiting
    then = f"{EDGES}&was=outline"
    answer = desk.post(f"/outline/{key}/keep", {"then": then})
    assert answer.status_code == 303
    address = answer.headers["location"]
    assert address.startswith(f"{then}&done=")
    page = desk.get(address).text
    assert f"/outline/{none}/keep" in page
    assert "Done: checked the outline of the front of B12-E34-P5-0002." in text_of(page)
    assert "1 answered, 2 wait" in text_of(page)
    act = re.search(r'name="act" value="(\d+)"', page)[1]
    undone = unescape(re.search(r'name="then" value="([^"]+undone=[^"]+)"', page)[1])
    assert desk.asked() == ["B12-E34-P5-0001", "B12-E34-P5-0004"]
    back = desk.post("/undo", {"act": act, "then": undone})
    assert (back.status_code, back.headers["location"]) == (303, f"{EDGES}&undone={act}")
    assert "3 wait" in text_of(desk.get(undone).text)
    assert "answered" not in desk.get(undone).text
    assert key in desk.waiting


def test_the_second_is_taken(desk):
    _, key, _ = desk.waiting
    desk.post(f"/outline/{key}/second")
    view = desk.collection.catalogue.print("B12-E34-P5-0002").recto
    assert view.outline.corners == pytest.approx(desk.truths["b.png"])


def test_when_all_are_looked_at_the_desk_says_so(desk):
    for key in desk.waiting:
        desk.post(f"/outline/{key}/keep")
    page = desk.get(EDGES)
    assert page.status_code == 200
    assert "Nothing of this waits" in page.text
    assert "edges to look at" not in desk.get("/questions").text


def test_an_outline_is_drawn_in_figures_without_any_script(desk):
    key = desk.waiting[0]
    page = desk.get(f"/outline/{key}").text
    assert re.findall(r'name="(across-\d|down-\d)" value="([^"]+)"', page)[:3] == [
        ("across-0", "-0.5"),
        ("down-0", "-0.5"),
        ("across-1", "899.5"),
    ]
    answer = desk.post(f"/outline/{key}/redraw", fields(desk.truths["d.png"]))
    assert answer.status_code == 303
    assert answer.headers["location"].startswith("/print/B12-E34-P5-0004?done=")
    assert desk.collection.catalogue.print("B12-E34-P5-0004").recto.outline.checked
    assert "Done: redrew the outline" in text_of(desk.get(answer.headers["location"]).text)


def test_figures_may_be_written_with_a_comma(desk):
    key = desk.waiting[0]
    told = {name: str(value).replace(".", ",") for name, value in fields(desk.truths["d.png"]).items()}
    assert desk.post(f"/outline/{key}/redraw", told).status_code == 303


@pytest.mark.parametrize(
    ("form", "why"),
    [
        ({"across-0": "2000"}, "its top left corner lies outside the capture"),
        ({"across-0": "soon"}, "a corner of it is no place"),
        ({"across-0": "", "down-2": "nan"}, "a corner of it is no place"),
    ],
)
def test_what_bounds_no_print_is_one_sentence_for_people_and_for_the_script(desk, form, why):
    key = desk.waiting[0]
    before = desk.collection.catalogue.last_change()
    drawn = fields(desk.truths["d.png"]) | form
    page = desk.post(f"/outline/{key}/redraw", drawn)
    assert page.status_code == 422
    assert why in page.text.lower()
    said = desk.post(f"/outline/{key}/redraw", drawn, accept="application/json")
    assert said.json()["error"].startswith(f"The outline was not taken: {why}.")
    assert desk.collection.catalogue.last_change() == before


def test_the_script_is_told_where_to_go(desk):
    key = desk.waiting[0]
    said = desk.post(f"/outline/{key}/redraw", fields(desk.truths["d.png"]), accept="application/json")
    assert said.json()["go"].startswith("/print/B12-E34-P5-0004?done=")


def test_a_missed_print_is_drawn_beside_the_known_ones(desk):
    key = desk.waiting[1]
    page = desk.get(f"/outline/{key}/another?then=%2Fquestions").text
    assert page.count('class="other"') == 1
    small = ((10, 10), (90, 12), (88, 70), (9, 71))
    answer = desk.post(f"/outline/{key}/another", fields(small))
    assert answer.headers["location"].startswith("/print/B12-E34-P5-0005?done=")
    assert len(desk.collection.catalogue.prints()) == 5


def test_what_is_no_print_goes_and_can_be_taken_back(desk):
    key = desk.waiting[1]
    answer = desk.post(f"/outline/{key}/no-print")
    assert len(desk.collection.catalogue.prints()) == 3
    assert desk.get("/print/B12-E34-P5-0002").status_code == 404
    act = re.search(r"done=(\d+)", answer.headers["location"])[1]
    desk.post("/undo", {"act": act})
    assert desk.get("/print/B12-E34-P5-0002").status_code == 200


def test_undo_takes_back_nothing_else_than_what_was_shown(desk):
    key = desk.waiting[1]
    for form in ({"act": "1"}, {"act": ""}, {}, {"act": "1; DROP"}):
        answer = desk.post("/undo", form)
        assert answer.status_code == 422
        assert "Nothing was taken back" in answer.text
    first = re.search(r"done=(\d+)", desk.post(f"/outline/{key}/keep").headers["location"])[1]
    desk.post(f"/outline/{desk.waiting[0]}/keep")
    assert "This was done since: checked" in desk.post("/undo", {"act": first}).text
    assert len(desk.waiting) == 1


def test_after_undo_one_stays_in_the_workbench(desk):
    for then in ("https://evil.example/", "//evil.example/", "", "evil"):
        act = re.search(r"done=(\d+)", desk.post(f"/outline/{desk.waiting[0]}/keep").headers["location"])[1]
        assert desk.post("/undo", {"act": act, "then": then}).headers["location"] == "/"


@pytest.mark.parametrize("verb", ["keep", "second", "redraw", "another", "no-print"])
def test_a_foreign_page_changes_nothing(desk, verb):
    before = desk.collection.catalogue.last_change()
    answer = desk.post(f"/outline/{desk.waiting[1]}/{verb}", origin="https://evil.example")
    assert answer.status_code == 403
    assert desk.collection.catalogue.last_change() == before


@pytest.mark.parametrize(
    "address",
    [
        "/outline/" + "0" * 32,
        "/outline/x",
        "/outline/%2e%2e%2fsolander",
        "/outline/" + "0" * 32 + "/another",
        "/capture/" + "0" * 64 + "/0/large.jpg",
        "/capture/..%2f..%2fsolander.db/0/large.jpg",
        "/capture/" + "0" * 64 + "/0/0-0.png",
    ],
)
def test_what_is_not_there_is_not_found(desk, address):
    assert desk.get(address).status_code == 404


def test_a_stale_page_is_told_that_the_picture_was_cut_out_anew(desk):
    key = desk.waiting[1]
    desk.post(f"/outline/{key}/second")
    answer = desk.post(f"/outline/{key}/keep")
    assert answer.status_code == 404
    assert "It was cut out anew since." in answer.text


def test_pictures_of_the_capture_are_kept_by_the_browser(desk):
    sha256 = desk.collection.catalogue.captures()[0].sha256
    for name, kind in (("large.jpg", "image/jpeg"), ("0-0.png", "image/png")):
        answer = desk.get(f"/capture/{sha256}/0/{name}")
        assert (answer.status_code, answer.headers["content-type"]) == (200, kind)
        assert "immutable" in answer.headers["cache-control"]


def test_the_edge_beside_a_drawn_outline_is_told(desk):
    captures = {one.name: one.sha256 for one in desk.collection.catalogue.captures()}
    drawn = [round(value, 2) for corner in desk.truths["d.png"] + [[4, -3]] for value in corner]
    said = desk.get(f"/capture/{captures['d.png']}/0/fit?corners={','.join(map(str, drawn))}").json()
    assert said["sides"] == 4
    assert said["corners"] == [pytest.approx(list(corner), abs=0.5) for corner in desk.truths["d.png"]]
    bad = desk.get(f"/capture/{captures['d.png']}/0/fit?corners=1,2,3", accept="application/json")
    assert bad.status_code == 422
    assert bad.json()["error"].startswith("The outline was not taken")


@pytest.mark.parametrize(
    "path", [EDGES, "/questions", "/outline/{}", "/outline/{}/another", "/print/B12-E34-P5-0002"]
)
def test_pages_have_nothing_that_their_policy_forbids(desk, path):
    page = desk.get(path.format(desk.waiting[1])).text
    assert not re.findall(r"<style|\sstyle=|\son[a-z]+=|<script(?![^>]*src=)", page)
    assert not re.findall(r'(?:src|href)="(?:https?:)?//', page)


def test_a_print_leads_to_the_outline_of_each_of_its_pictures(desk):
    view = desk.collection.catalogue.print("B12-E34-P5-0003").recto
    assert f'href="/outline/{view.key}"' in desk.get("/print/B12-E34-P5-0003").text
