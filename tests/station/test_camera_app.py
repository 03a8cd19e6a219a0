"""What phones are served, and what they are not."""

from __future__ import annotations

import json
import re

import pytest
from stage_parts_here import Here, SocketRefused, TestClient, jpeg

from solander.station.app import create_app, pages
from solander.station.camera_app import COOKIE, CameraDoor, create_camera_app
from solander.station.certificate import certificate_for
from solander.station.guard import TOKEN_HEADER
from solander.station.pairing import Phones
from solander.station.sealing import seal
from solander.station.workbench import Workbench
from solander.tasks.cameras import Cameras

pytestmark = pytest.mark.slow

HOST = "192.168.7.20:8766"
SOCKETS = f"wss://{HOST}"
FROM_HERE = {"origin": f"https://{HOST}"}


@pytest.fixture
def cameras(tmp_path) -> Cameras:
    return Cameras(tmp_path / "cameras.json")


@pytest.fixture
def stages():
    made = Here().stages()
    yield made
    made.close()


@pytest.fixture
def app(cameras, stages):
    return create_camera_app(stages, CameraDoor(cameras), pages(), hosts=["192.168.7.20", "desk.local"])


@pytest.fixture
def phone(app):
    with TestClient(app, base_url=f"https://{HOST}", follow_redirects=False) as client:
        yield client


def pair(phone, cameras: Cameras, *, code: str = "", **form: str):
    sent = {"code": code or cameras.offer(), "name": "Phone in the stand", "at": "1", **form}
    return phone.post("/pair", data=sent, headers=FROM_HERE)


def test_a_phone_is_paired_by_a_code_and_then_sees_the_camera_page(phone, cameras):
    code = cameras.offer()
    asked = phone.get(f"/pair/{code}", headers={"accept": "text/html"})
    assert asked.status_code == 200
    assert code in asked.text
    answer = phone.post("/pair", data={"code": code, "name": "Mette’s", "at": "2"}, headers=FROM_HERE)
    assert answer.status_code == 303
    assert answer.headers["location"] == "/station/2/camera"
    page = phone.get("/station/2/camera", headers={"accept": "text/html"})
    assert page.status_code == 200
    assert "Mette’s" in page.text


def test_looking_at_the_address_of_a_code_does_not_use_it_up(phone, cameras):
    code = cameras.offer()
    assert [phone.get(f"/pair/{code}").status_code for _ in range(3)] == [200] * 3
    assert pair(phone, cameras, code=code).status_code == 303


def test_a_code_is_refused_the_second_time(phone, cameras):
    code = cameras.offer()
    assert pair(phone, cameras, code=code).status_code == 303
    for answer in (pair(phone, cameras, code=code), phone.get(f"/pair/{code}"), phone.get("/pair/made-up")):
        assert answer.status_code == 403
        assert "the code was used already" in answer.text


def test_the_cookie_is_kept_to_this_address_to_secure_lines_and_from_scripts(phone, cameras):
    """RFC 6265bis, 4.1.2 and 4.1.3."""
    told = pair(phone, cameras).headers["set-cookie"]
    assert told.startswith("__Host-camera=")
    words = {word.strip().lower() for word in told.split(";")[1:]}
    assert {"secure", "httponly", "samesite=strict", "path=/"} <= words
    assert not any(word.startswith("domain") for word in words)


NEED_PAIRING = [("GET", "/station/1/camera"), ("POST", "/station/1/still")]


@pytest.mark.parametrize(("method", "path"), NEED_PAIRING)
@pytest.mark.parametrize("cookie", ["", "made-up"])
def test_without_pairing_there_is_nothing(phone, method, path, cookie, stages):
    headers = {**FROM_HERE, "cookie": f"{COOKIE}={cookie}"}
    assert phone.request(method, path, headers=headers, content=jpeg()).status_code == 403
    for end in ("camera", "live", "sound"):
        with (
            pytest.raises(SocketRefused) as refused,
            phone.websocket_connect(f"{SOCKETS}/station/1/{end}", headers=headers),
        ):
            pass
        assert refused.value.status_code == 403
        assert "not paired" in json.loads(refused.value.content)["trouble"]["what"]
    assert not stages.open


def test_every_address_is_known_and_needs_pairing_or_holds_nothing_of_anybody(app):
    """A rule about all addresses is a test that walks them."""
    open_to_all = {"/static", "/station", "/words/{code}.js", "/pair/{code}", "/pair", "/"}
    behind = {f"/station/{{name}}/{end}" for end in ("camera", "live", "sound", "still")}
    assert {route.path for route in app.routes} == open_to_all | behind


@pytest.mark.parametrize(
    "path", ["/people", "/phones", "/print/P-0001", "/thumb/0.jpg", "/undo", "/station/1/order"]
)
def test_a_paired_phone_reaches_nothing_else(phone, cameras, path):
    pair(phone, cameras)
    headers = {**FROM_HERE, TOKEN_HEADER: seal()}
    assert phone.get(path).status_code == 404
    assert phone.post(path, json={"order": "undo"}, headers=headers).status_code in (404, 405)


def test_a_paired_phone_sends_pictures_and_stills_and_sees_the_stage(phone, cameras, stages):
    pair(phone, cameras)
    with phone.websocket_connect(f"{SOCKETS}/station/1/camera", headers=FROM_HERE) as camera:
        camera.send_bytes(jpeg())
        message = camera.receive_json()
        while "watched" not in message:
            message = camera.receive_json()
        assert message["watched"]["outlines"]
    answer = phone.post("/station/1/still?route=still&id=a", content=jpeg(), headers=FROM_HERE)
    assert answer.status_code == 200
    assert len(stages.at("1").stage.stand.pictures) == 1


ELSEWHERE = {
    "another page": ({"origin": "https://evil.example"}, 403),
    "an open line": ({"origin": f"http://{HOST}"}, 403),
    "hidden": ({"origin": "null", "sec-fetch-site": "cross-site"}, 403),
    "another name": ({"host": "evil.example:8766", "origin": "https://evil.example:8766"}, 421),
    "another port": ({"host": "192.168.7.20:1", "origin": "https://192.168.7.20:1"}, 421),
}


@pytest.mark.parametrize(("headers", "status"), ELSEWHERE.values(), ids=ELSEWHERE.keys())
def test_what_comes_from_elsewhere_is_refused_also_with_the_cookie(phone, cameras, headers, status, stages):
    pair(phone, cameras)
    assert phone.post("/station/1/still", content=jpeg(), headers=headers).status_code == status
    for end in ("camera", "live", "sound"):
        with (
            pytest.raises(SocketRefused) as refused,
            phone.websocket_connect(f"{SOCKETS}/station/1/{end}", headers=headers),
        ):
            pass
        assert refused.value.status_code == status
    assert not stages.open


def ended_with(socket) -> int:
    """The code with which a socket was closed, after whatever it was told before."""
    while (message := socket.receive())["type"] != "websocket.close":
        pass
    return message["code"]


def test_a_phone_that_is_sent_away_loses_its_sockets_at_once(phone, cameras):
    pair(phone, cameras)
    with (
        phone.websocket_connect(f"{SOCKETS}/station/1/camera", headers=FROM_HERE) as camera,
        phone.websocket_connect(f"{SOCKETS}/station/1/live", headers=FROM_HERE) as live,
    ):
        cameras.revoke(cameras.all[0].key)
        for socket in (camera, live):
            assert ended_with(socket) == 4403
    assert phone.post("/station/1/still", content=jpeg(), headers=FROM_HERE).status_code == 403
    assert phone.get("/station/1/camera").status_code == 403


def test_sending_one_away_leaves_the_others(phone, app, cameras):
    pair(phone, cameras)
    with TestClient(app, base_url=f"https://{HOST}", follow_redirects=False) as other:
        pair(other, cameras)
        with other.websocket_connect(f"{SOCKETS}/station/1/live", headers=FROM_HERE) as live:
            cameras.revoke(cameras.all[1].key)
            assert live.receive_json()
            assert phone.get("/station/1/camera").status_code == 403
            assert other.get("/station/1/camera").status_code == 200


def test_pages_are_told_in_the_reader_s_language(phone, cameras):
    asked = phone.get(f"/pair/{cameras.offer()}", headers={"accept-language": "de"})
    assert 'lang="de"' in asked.text


# The workbench's own page


@pytest.fixture
def bench(box, stages, cameras, tmp_path) -> Workbench:
    certificate = certificate_for(["192.168.7.20"], tmp_path)
    return Workbench(box, stages=stages, phones=Phones(cameras, certificate, [f"https://{HOST}"]))


@pytest.fixture
def desk(bench):
    with TestClient(create_app(bench), base_url="http://127.0.0.1") as client:
        client.headers.update({"origin": "http://127.0.0.1", TOKEN_HEADER: seal()})
        yield client


def test_the_code_leads_a_phone_to_its_pairing(desk, bench, phone):
    """The drawing is read by OpenCV's readers of QR codes, which share nothing with what drew it."""
    assert desk.get("/phones/code.svg").status_code == 404
    desk.post("/phones/offer", data={"at": "2"})
    drawn = desk.get("/phones/code.svg")
    assert drawn.headers["content-type"].startswith("image/svg")
    address = _read(_pixels(drawn.text))
    assert address == f"https://{HOST}/pair/{bench.phones.code}?at=2"
    assert phone.get(address.removeprefix(f"https://{HOST}")).status_code == 200


def _read(modules) -> str:
    """What a code says. One reader fails at one code in 400, the other at none of them."""
    import cv2
    import numpy as np

    pixels = np.kron(modules, np.ones((8, 8), np.uint8))
    readers = cv2.QRCodeDetectorAruco(), cv2.QRCodeDetector()
    return next(filter(None, (reader.detectAndDecode(pixels)[0] for reader in readers)), "")


def _pixels(svg: str):
    """The drawing, one pixel a module: segno draws rows of squares as lines of one path."""
    import numpy as np

    side = int(re.search(r'viewBox="0 0 (\d+)', svg).group(1)) if "viewBox" in svg else None
    scale = float(re.search(r"scale\((\d+)\)", svg).group(1)) if "scale(" in svg else 1
    width = int(re.search(r'width="(\d+)"', svg).group(1))
    side = side or round(width / scale)
    grid = np.full((side, side), 255, np.uint8)
    path = re.search(r'stroke="#000"[^>]* d="([^"]+)"| d="(M[^"]*m[^"]+)"[^>]*stroke="#000"', svg)
    x = y = 0.0
    for command, numbers in re.findall(r"([Mmh])([^Mmh]*)", path.group(1) or path.group(2)):
        values = [float(one) for one in re.findall(r"-?[\d.]+", numbers)]
        if command == "h":
            grid[int(y), int(x) : int(x + values[0])] = 0
            x += values[0]
        else:
            x, y = values if command == "M" else (x + values[0], y + values[1])
    return grid


def test_the_page_lists_phones_and_sends_them_away(desk, cameras, phone):
    pair(phone, cameras, name="Mette’s <phone>")
    shown = desk.get("/phones", headers={"accept": "text/html"}).text
    assert "Mette’s &lt;phone&gt;" in shown
    desk.post("/phones/away", data={"key": cameras.all[0].key})
    assert "Mette" not in desk.get("/phones").text
    assert phone.get("/station/1/camera").status_code == 403


def test_the_page_shows_the_fingerprint(desk, bench):
    shown = re.sub(r"<[^>]+>", "", desk.get("/phones").text)
    assert bench.phones.certificate.fingerprint in shown


def test_the_page_sees_that_the_code_was_used(desk, bench, phone, cameras):
    desk.post("/phones/offer", data={"at": "1"})
    assert desk.get("/phones/state").json() == {"offered": True, "cameras": []}
    pair(phone, cameras, code=bench.phones.code)
    state = desk.get("/phones/state").json()
    assert state["offered"] is False
    assert len(state["cameras"]) == 1
    assert desk.get("/phones/code.svg").status_code == 404


def test_without_phones_the_page_says_how_to_let_them_in(box, stages):
    with TestClient(create_app(Workbench(box, stages=stages)), base_url="http://127.0.0.1") as client:
        assert "--phones" in client.get("/phones").text


# Sent away by whatever way


def test_a_phone_that_another_program_sends_away_loses_its_sockets(phone, cameras, monkeypatch):
    monkeypatch.setattr("solander.station.stage_sockets.KNOWN_FOR_S", 0.02)
    pair(phone, cameras)
    with phone.websocket_connect(f"{SOCKETS}/station/1/live", headers=FROM_HERE) as live:
        elsewhere = Cameras(cameras.file)
        elsewhere.revoke(elsewhere.all[0].key)
        assert ended_with(live) == 4403


def test_a_still_that_comes_while_its_phone_is_sent_away_is_not_taken(phone, cameras, stages):
    pair(phone, cameras)

    def coming():
        yield jpeg()[:100]
        cameras.revoke(cameras.all[0].key)
        yield jpeg()[100:]

    assert phone.post("/station/1/still", content=coming(), headers=FROM_HERE).status_code == 403
    assert not stages.open


ODD = {
    "a half of a letter": {"camera": {"locked": ["\ud800"], "not": ["\udfff"]}},
    "no sizes": {"camera": {"routes": [1, 2]}},
    "many ways": {"camera": {"routes": {f"way{n}": [10, 10] for n in range(500)}}},
    "odd sizes": {"camera": {"routes": {"frame": [1], "still": {"a": 1}, "file": ["x", 2]}}},
    "odd names": {"camera": {"locked": [["focus"], {}, 3], "not": "focus"}},
}


@pytest.mark.parametrize("message", ODD.values(), ids=ODD.keys())
def test_nothing_that_a_phone_tells_of_itself_stops_the_pages_that_look(phone, cameras, message):
    """Half of a pair (U+D800) is JSON and no text that can be sent (RFC 8259, 8.2)."""
    pair(phone, cameras)
    with (
        phone.websocket_connect(f"{SOCKETS}/station/1/live", headers=FROM_HERE) as live,
        phone.websocket_connect(f"{SOCKETS}/station/1/camera", headers=FROM_HERE) as camera,
    ):
        camera.send_json(message)
        camera.send_bytes(jpeg())
        shown = {}
        while "watched" not in shown:
            got = live.receive()
            assert got["type"] == "websocket.send"
            shown |= json.loads(got.get("text") or "{}")
            if told := shown.get("camera"):
                assert (told["routes"], told["locked"], told["not"]) == ({}, [], [])


def test_brackets_within_brackets_end_one_socket_in_good_order(phone, cameras):
    pair(phone, cameras)
    with phone.websocket_connect(f"{SOCKETS}/station/1/camera", headers=FROM_HERE) as camera:
        camera.send_text("[" * 200_000)
        assert ended_with(camera) == 1008


def test_looking_at_pages_makes_no_station(phone, cameras, stages, desk):
    """Pages elsewhere can't read what is here, but may ask for any address."""
    pair(phone, cameras)
    assert phone.get("/station/7/camera").status_code == 200
    assert desk.get("/station/8/camera").status_code == 200
    assert desk.get("/station/9/sounds/abc.wav").status_code == 404
    assert not stages.open
