"""The interface for programs: what it tells, what it changes, and how it describes itself."""

from __future__ import annotations

import asyncio
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import httpx
import pytest
from attrs import define, field
from named_box import named_collection

from solander.station.app import create_app
from solander.station.guard import TOKEN_HEADER
from solander.station.sealing import seal
from solander.station.workbench import Workbench
from solander.tasks.collection import Collection

pytestmark = pytest.mark.slow

WORD = {TOKEN_HEADER: seal()}
PRINT = "/api/prints/B2-E5-0006"


@define
class Program:
    """A program on this machine: it names no page that it comes from."""

    collection: Collection
    app: Any = field(init=False)

    def __attrs_post_init__(self) -> None:
        self.app = create_app(Workbench.over(self.collection))

    def ask(self, method: str, path: str, body: object = None, **headers: str) -> httpx.Response:
        async def asking() -> httpx.Response:
            transport = httpx.ASGITransport(self.app, raise_app_exceptions=False)
            async with httpx.AsyncClient(transport=transport, base_url="http://127.0.0.1") as client:
                return await client.request(method, path, json=body, headers=headers)

        return asyncio.run(asking())

    def get(self, path: str) -> Any:
        answer = self.ask("GET", path)
        assert answer.status_code == 200, answer.text
        return answer.json()


@pytest.fixture
def program(tmp_path: Path) -> Iterator[Program]:
    with named_collection(tmp_path / "box") as collection:
        yield Program(collection)


def test_prints_come_page_by_page_in_order_of_time(program):
    found, after = [], ""
    while after is not None:
        page = program.get(f"/api/prints?limit=3&after={after}")
        assert page["total"] == 8
        found += page["prints"]
        after = page["next"]
    assert len({one["accession"] for one in found}) == len(found) == 8
    dated = [one["earliest"] for one in found if one["earliest"]]
    assert dated == sorted(dated)


def test_a_print_is_told_with_who_says_what(program):
    told = program.get(PRINT)
    assert (told["edtf"], told["place"]) == ("1958-22", "Vessholm")
    assert [one["name"] for one in told["people"]] == ["Ingrid Sollihøgda", "Nils Sollihøgda"]
    assert {one["says"] for one in told["statements"]} >= {"exposure", "place", "person"}


def test_what_is_said_stands_beside_the_rest_and_can_be_taken_back(program):
    done = program.ask("POST", f"{PRINT}/statements", {"part": "caption", "words": "At the jetty"}, **WORD)
    assert done.status_code == 201
    assert "At the jetty" in done.json()["sentence"]
    told = program.get(PRINT)
    assert told["caption"] == "At the jetty"
    ident = next(one["id"] for one in told["statements"] if one["says"] == "caption")
    assert program.ask("DELETE", f"{PRINT}/statements/{ident}", **WORD).status_code == 200
    assert program.get(PRINT)["caption"] == ""
    assert program.ask("POST", "/api/undo", **WORD).status_code == 200
    assert program.get(PRINT)["caption"] == "At the jetty"


def test_what_somebody_else_changed_since_is_not_written_over(program):
    seen = program.get("/api/collection")["last_change"]
    address = f"{PRINT}/statements?seen={seen}"
    assert program.ask("POST", address, {"part": "caption", "words": "One"}, **WORD).status_code == 201
    second = program.ask("POST", address, {"part": "caption", "words": "Two"}, **WORD)
    assert second.status_code == 409
    assert "One" in second.json()["others"][0]["sentence"]
    assert program.get(PRINT)["caption"] == "One"


def test_an_occasion_is_made_of_prints_and_stands_in_history(program):
    new = {"name": "The regatta", "accessions": ["B2-E5-0006", "B2-E5-0007"], "date": "July 1958"}
    done = program.ask("POST", "/api/occasions", new, **WORD)
    assert done.status_code == 201, done.text
    assert program.get("/api/occasions/The%20regatta")["prints"] == 2
    last = program.get("/api/history")["acts"][0]
    assert last["sentence"] == "made the occasion “The regatta” of 2 prints"
    assert program.ask("DELETE", f"/api/history/{last['number']}", **WORD).status_code == 200
    assert program.ask("GET", "/api/occasions/The%20regatta").status_code == 404


@pytest.mark.parametrize(
    ("method", "path", "body"),
    [
        ("POST", f"{PRINT}/statements", {"part": "caption", "words": "x"}),
        ("DELETE", f"{PRINT}/statements/abc", None),
        ("POST", "/api/occasions", {"name": "x"}),
        ("PUT", "/api/occasions/x/prints", []),
        ("DELETE", "/api/history/1", None),
        ("POST", "/api/undo", None),
    ],
)
def test_nothing_is_changed_without_the_word(program, method, path, body):
    before = program.collection.catalogue.last_change()
    assert program.ask(method, path, body).status_code == 403
    assert program.ask(method, path, body, **{TOKEN_HEADER: "guessed"}).status_code == 409
    assert program.ask(method, path, body, origin="https://evil.example", **WORD).status_code == 403
    assert program.collection.catalogue.last_change() == before


@pytest.mark.parametrize(
    "path", ["/api/nowhere", "/api/prints/P-9999", "/api/prints?limit=0", "/api/people/Nobody"]
)
def test_what_goes_wrong_is_one_sentence_for_browsers_too(program, path):
    answer = program.ask("GET", path, accept="text/html")
    assert answer.status_code in (404, 422)
    fault = answer.json()
    assert fault["error"].startswith(fault["what"])
    assert fault["error"].endswith(".")


def test_people_places_questions_and_containers_are_told(program):
    people = program.get("/api/people?said=ingr")["people"]
    assert [one["name"] for one in people] == ["Ingrid Sollihøgda"]
    assert program.get("/api/people/Ingrid%20Sollih%C3%B8gda")["accessions"]
    assert program.get("/api/places/Vessholm")["prints"] == 4
    assert isinstance(program.get("/api/questions"), list)
    assert isinstance(program.get("/api/containers"), list)


def test_it_describes_itself_and_nothing_but_itself(program):
    described = program.get("/api/openapi.json")
    assert described["openapi"].startswith("3.1")
    ours = {route.path.replace(":path", "") for route in program.app.routes if route.path.startswith("/api/")}
    assert set(described["paths"]) == ours - {"/api/openapi.json"}
    for path, methods in described["paths"].items():
        for method, told in methods.items():
            assert told.get("description"), f"{method} {path} is not described"
            assert ("security" in told) == (method != "get")
