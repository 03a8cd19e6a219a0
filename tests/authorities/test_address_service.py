"""The address service, against a stand-in on this computer that speaks as Nominatim does (its API from memory)."""

from __future__ import annotations

import json
import threading
from collections.abc import Iterator
from http.server import BaseHTTPRequestHandler, HTTPServer
from pathlib import Path
from urllib.parse import parse_qs, urlsplit

import pytest

from solander.authorities.address_service import USER_AGENT, AddressService
from solander.core.errors import InvalidValue, Trouble

pytestmark = pytest.mark.slow

ANSWER = [
    {
        "osm_type": "way",
        "osm_id": 5,
        "lat": "60.3929",
        "lon": "5.3242",
        "name": "Old school",
        "display_name": "Old school, Bergen, Norway",
        "boundingbox": ["60.3920", "60.3940", "5.3230", "5.3250"],
        "type": "school",
        "licence": "Data © OpenStreetMap contributors, ODbL 1.0",
        "address": {"country_code": "no"},
    }
]


class StandIn(BaseHTTPRequestHandler):
    """Answers what the server holds, and keeps what it was asked."""

    def do_GET(self) -> None:
        self.server.asked.append((parse_qs(urlsplit(self.path).query), self.headers["User-Agent"]))  # type: ignore[attr-defined]
        status, body = self.server.answer  # type: ignore[attr-defined]
        if not status:
            self.wfile.write(body.encode())
            return
        self.send_response(status)
        self.end_headers()
        self.wfile.write(body.encode())

    def log_message(self, *_: object) -> None:
        """Says nothing."""


@pytest.fixture
def server(monkeypatch: pytest.MonkeyPatch) -> Iterator[HTTPServer]:
    monkeypatch.setenv("NO_PROXY", "127.0.0.1")
    monkeypatch.setenv("no_proxy", "127.0.0.1")
    with HTTPServer(("127.0.0.1", 0), StandIn) as server:
        server.asked, server.answer = [], (200, json.dumps(ANSWER))  # type: ignore[attr-defined]
        threading.Thread(target=server.serve_forever, daemon=True).start()
        yield server
        server.shutdown()


def service(server: HTTPServer, tmp_path: Path, **more: object) -> AddressService:
    return AddressService(f"http://127.0.0.1:{server.server_port}/search", tmp_path / "kept.db", **more)  # type: ignore[arg-type]


def test_an_answer_is_a_circle_with_its_licence(server: HTTPServer, tmp_path: Path) -> None:
    (found,) = service(server, tmp_path).find("Old  school, Bergen")
    assert (found.name, found.country, found.known_as, found.what) == ("Old school", "NO", "way:5", "school")
    assert found.radius_m == pytest.approx(135, abs=15)
    assert "ODbL" in found.reasons[1]
    asked, agent = server.asked[0]
    assert asked["q"] == ["Old school, Bergen"]
    assert agent == USER_AGENT


def test_the_same_phrase_is_asked_once(server: HTTPServer, tmp_path: Path) -> None:
    asking = service(server, tmp_path, sleep=lambda _: None)
    assert asking.find("Old school") == asking.find("Old school")
    assert len(server.asked) == 1


def test_questions_wait_for_their_second(server: HTTPServer, tmp_path: Path) -> None:
    clock, waited = [100.0], []

    def sleep(seconds: float) -> None:
        waited.append(seconds)
        clock[0] += seconds

    asking = service(server, tmp_path, now=lambda: clock[0], sleep=sleep)
    asking.find("one")
    clock[0] += 0.25
    asking.find("two")
    clock[0] += 5
    asking.find("three")
    assert waited == [pytest.approx(0.75)]


def test_without_a_network_a_sentence_says_so(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("no_proxy", "127.0.0.1")
    with HTTPServer(("127.0.0.1", 0), StandIn) as gone:
        port = gone.server_port
    with pytest.raises(Trouble, match="can't be reached") as told:
        AddressService(f"http://127.0.0.1:{port}/", tmp_path / "kept.db").find("x")
    assert "lay the place on the map" in told.value.todo


@pytest.mark.parametrize(
    ("answer", "why"),
    [
        ((200, "<html>"), "not understood"),
        ((200, '{"error": 1}'), "not understood"),
        ((200, '[{"lat": "95", "lon": "0"}]'), "not understood"),
        ((429, "slow down"), "answered 429"),
        ((0, "this is no web server\r\n\r\n"), "can't be reached"),
    ],
)
def test_what_is_no_answer_is_told_and_not_kept(
    server: HTTPServer, tmp_path: Path, answer: tuple[int, str], why: str
) -> None:
    asking = service(server, tmp_path, sleep=lambda _: None)
    server.answer = answer
    with pytest.raises(Trouble, match=why):
        asking.find("x")
    server.answer = (200, "[]")
    assert asking.find("x") == ()


@pytest.mark.parametrize("url", ["", "file:///etc/passwd", "ftp://x/", "nominatim"])
def test_only_addresses_of_the_web_are_services(url: str, tmp_path: Path) -> None:
    with pytest.raises(InvalidValue, match="no address of a service"):
        AddressService(url, tmp_path / "kept.db")
