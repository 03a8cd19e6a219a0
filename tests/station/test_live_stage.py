from __future__ import annotations

import json
import socket as network
from concurrent.futures import ThreadPoolExecutor
from threading import Event

import httpx
import pytest
from served import running
from stage_parts_here import Heard, Here, SocketRefused, Stand, TestClient, Watch, jpeg
from websockets.sync.client import connect

from solander.core.orders import Order
from solander.station.app import create_app
from solander.station.guard import TOKEN_HEADER
from solander.station.sealing import seal
from solander.station.stage_parts import SentStill
from solander.station.stage_told import others
from solander.station.workbench import Workbench

pytestmark = pytest.mark.slow

ORIGIN = {"origin": "http://127.0.0.1", "host": "127.0.0.1"}
SEALED = {**ORIGIN, TOKEN_HEADER: seal()}


@pytest.fixture
def here() -> Here:
    return Here()


@pytest.fixture
def stages(here):
    made = here.stages()
    yield made
    made.close()


@pytest.fixture
def client(box, stages):
    with TestClient(create_app(Workbench(box, stages=stages)), base_url="http://127.0.0.1") as client:
        yield client


def socket(client, address: str, **headers: str):
    return client.websocket_connect(address, headers={**ORIGIN, **headers})


def told(socket, kind: str):
    """The next message of a kind; pictures and others are passed over."""
    for _ in range(200):
        message = socket.receive()
        if message.get("text"):
            object_ = json.loads(message["text"])
            if kind in object_:
                return object_
    raise AssertionError(f"nothing of the kind {kind} was told")


def picture(socket) -> bytes:
    for _ in range(1000):
        message = socket.receive()
        if message.get("bytes") is not None:
            return message["bytes"]
    raise AssertionError("no picture came")


def test_a_page_is_told_at_once_how_things_stand(client):
    with socket(client, "/station/1/live") as live:
        assert told(live, "camera") == {"camera": None}
        assert told(live, "slip")["slip"]["words"] == "The slip of station 1"
        assert told(live, "last") == {"last": []}
        assert told(live, "others") == {"others": 0}


def test_a_picture_goes_from_the_camera_to_every_page_and_what_is_seen_with_it(client):
    with (
        socket(client, "/station/1/live") as one,
        socket(client, "/station/1/live") as other,
        socket(client, "/station/1/camera") as camera,
    ):
        camera.send_bytes(jpeg())
        assert picture(one) == picture(other) == jpeg()
        watched = told(one, "watched")["watched"]
        assert watched["state"] == "taken"
        assert watched["outlines"][0]["corners"][0] == [0.25, 0.25]
        assert watched["outlines"][0]["sure"] is True
        assert watched["waits"] is True
        assert watched["words"].endswith("it is being taken.")


def test_a_still_that_is_wanted_is_asked_of_the_camera_and_shown_when_it_is_taken(client, here, stages):
    with socket(client, "/station/1/live") as live, socket(client, "/station/1/camera") as camera:
        camera.send_bytes(jpeg())
        ask = told(camera, "do")
        while ask["do"] != "still":
            ask = told(camera, "do")
        answer = client.post(
            f"/station/1/still?route=frame&id=a1&ask={ask['ask']}", content=jpeg(200, 100), headers=SEALED
        )
        assert answer.status_code == 200
        assert answer.json()["taken"]["accession"] == "P-0001"
        assert told(live, "taken")["taken"]["large"] == f"/view/{'0' * 32}.jpg"
        assert told(live, "last")["last"][0]["accession"] == "P-0001"
    stand = stages.at("1").stage.stand
    (kept, name, route) = stand.pictures[0]
    assert (kept, route) == (jpeg(200, 100), "frame")
    assert name.startswith("stand ")
    assert name.endswith(".jpg")
    assert here.watches[0].kept == [True]


def test_a_still_that_is_sent_twice_is_taken_once(client, stages):
    for _ in range(2):
        answer = client.post("/station/1/still?route=still&id=same", content=jpeg(), headers=SEALED)
        assert answer.json()["taken"]["accession"] == "P-0001"
    client.post("/station/1/still?route=still&id=other", content=jpeg(), headers=SEALED)
    assert len(stages.at("1").stage.stand.pictures) == 2


def test_a_still_of_another_collection_is_sent_back(client, stages):
    stages.collection = "ours"
    sent = client.post("/station/1/still?id=a&collection=another", content=jpeg(), headers=SEALED)
    assert sent.status_code == 421
    assert "another collection" in sent.text
    assert stages.at("1").stage.stand.pictures == []
    assert client.post("/station/1/still?id=a&collection=ours", content=jpeg(), headers=SEALED).status_code == 200


def test_an_ask_that_was_answered_is_not_answered_twice(client, stages):
    with socket(client, "/station/1/camera") as camera:
        camera.send_bytes(jpeg())
        ask = told(camera, "do")
        while ask["do"] != "still":
            ask = told(camera, "do")
        for number in "ab":
            client.post(f"/station/1/still?id={number}&ask={ask['ask']}", content=jpeg(), headers=SEALED)
    assert len(stages.at("1").stage.stand.pictures) == 1


def test_a_still_that_spoils_is_told_and_may_be_sent_again(client, here, stages):
    with socket(client, "/station/1/live") as live:
        answer = client.post("/station/1/still?id=x", content=jpeg() + b"spoilt", headers=SEALED)
        assert answer.status_code == 422
        assert answer.json()["trouble"]["why"] == "it is spoilt"
        assert told(live, "trouble")["trouble"]["todo"] == "Take it again"
    assert client.post("/station/1/still?id=x", content=jpeg(), headers=SEALED).status_code == 200
    assert here.watches[0].kept == [False, True]


def test_a_fault_of_ours_in_taking_is_told_at_the_station_and_the_camera_keeps_the_picture(client, here, stages):
    class Faulty(Stand):
        def take(self, picture: bytes, name: str, *, route: str):
            if not here.watches[0].kept:
                raise ZeroDivisionError("of ours")
            return super().take(picture, name, route=route)

    stages.at("1").stage.stand = Faulty("1")
    with socket(client, "/station/1/live") as live:
        answer = client.post("/station/1/still?id=x", content=jpeg(), headers=SEALED)
        assert answer.status_code == 500  # which the camera's page sends again
        assert "of ours" in answer.json()["trouble"]["why"]
        assert "of ours" in told(live, "trouble")["trouble"]["why"]
    assert client.post("/station/1/still?id=x", content=jpeg(), headers=SEALED).status_code == 200
    assert here.watches[0].kept == [False, True]


def test_an_ask_that_two_answer_at_the_same_time_is_answered_once(here, stages):
    """As when another camera came while the first one still sent."""

    class Slow(Stand):
        def take(self, picture: bytes, name: str, *, route: str):
            begun.set()
            goes_on.wait(20)
            return super().take(picture, name, route=route)

    begun, goes_on, stage = Event(), Event(), stages.at("1").stage
    stage.stand = Slow("1")
    stills = [SentStill(jpeg(grey=grey), "a.jpg", sent=str(grey), ask=7) for grey in (1, 2)]
    with ThreadPoolExecutor() as both:
        first = both.submit(stage.take, stills[0])
        begun.wait(20)
        begun.clear()
        second = both.submit(stage.take, stills[1])
        assert not begun.wait(0.2)  # the second waits, or it would be taken as well
        goes_on.set()
        assert "taken" in first.result(20)
        assert second.result(20) == {"known": True}
    assert len(stage.stand.pictures) == 1


def test_taking_again_what_was_missed_is_no_second_try_of_the_print_before(client, here, stages):
    with socket(client, "/station/1/live") as live, socket(client, "/station/1/camera"):
        client.post("/station/1/still?id=a", content=jpeg(), headers=SEALED)
        client.post("/station/1/order", json={"order": "take-again"}, headers=SEALED)
        client.post("/station/1/still?id=b", content=jpeg() + b"nothing", headers=SEALED)
        client.post("/station/1/order", json={"order": "take-again"}, headers=SEALED)
        while told(live, "told")["told"]["words"] != "No print was found":
            pass
    assert stages.at("1").stage.stand.done == [Order.TAKE_AGAIN]
    assert here.watches[0].missed == [False, True]
    assert here.watches[0].orders == [Order.TAKE_AGAIN, Order.TAKE_AGAIN]


FOREIGN = {
    "another page": ({"origin": "https://evil.example"}, 403),
    "another port": ({"origin": "http://127.0.0.1:9"}, 403),
    "nobody": ({"origin": ""}, 403),
    "hidden": ({"origin": "null"}, 403),
    "another name": ({"origin": "http://evil.example", "host": "evil.example"}, 421),
}


@pytest.mark.parametrize("end", ["camera", "live", "sound"])
@pytest.mark.parametrize(("headers", "status"), FOREIGN.values(), ids=FOREIGN.keys())
def test_a_socket_from_elsewhere_is_refused(client, end, headers, status, stages):
    with pytest.raises(SocketRefused) as refused, socket(client, f"/station/1/{end}", **headers):
        pass
    assert refused.value.status_code == status
    assert not stages.open


def test_what_is_sent_without_the_word_of_this_sitting_is_refused(client, stages):
    answer = client.post(
        "/station/1/still", content=jpeg(), headers={**ORIGIN, TOKEN_HEADER: "of another sitting"}
    )
    assert answer.status_code == 409
    assert client.post("/station/1/order", json={"order": "undo"}, headers=ORIGIN).status_code == 409
    assert not stages.open


@pytest.mark.parametrize("says_how_long", [True, False])
def test_a_still_that_is_too_large_is_refused(client, monkeypatch, says_how_long, stages):
    monkeypatch.setattr("solander.station.stage_answers.LARGEST_STILL", 10_000)
    content = b"\xff\xd8\xff" + b"0" * 20_000
    pieces = content if says_how_long else iter([content[:8000], content[8000:]])
    answer = client.post("/station/1/still", content=pieces, headers=SEALED)
    assert answer.status_code == 413
    assert "larger than" in answer.json()["trouble"]["why"]
    assert not stages.open


WRONG = {"text": b"hello, this is text", "a film": b"\0\0\0\x18ftypmp42" + b"0" * 99, "nothing": b""}


@pytest.mark.parametrize("content", WRONG.values(), ids=WRONG.keys())
def test_what_is_no_picture_is_refused(client, content, stages):
    answer = client.post("/station/1/still", content=content, headers=SEALED)
    assert answer.status_code == 422
    assert answer.json()["trouble"]["what"] == "The picture was not taken in"
    assert not stages.open


def test_too_many_stills_at_once_are_refused_and_may_come_later(client, monkeypatch):
    monkeypatch.setattr("solander.station.stage_answers.STILLS_AT_ONCE", 3)
    monkeypatch.setattr("solander.station.stage_answers.STILLS_A_SECOND", 0.0001)
    statuses = [client.post("/station/1/still", content=jpeg(), headers=SEALED).status_code for _ in range(5)]
    assert statuses == [200, 200, 200, 429, 429]


@pytest.mark.parametrize("content", [b"hello", jpeg(1300, 40), b"\xff\xd8\xff" + b"0" * 500_000])
def test_a_camera_that_sends_what_is_no_picture_of_a_stage_is_sent_away(client, content):
    with socket(client, "/station/1/camera") as camera:
        camera.send_bytes(content)
        message = camera.receive()
        while message["type"] != "websocket.close":
            message = camera.receive()
        assert message["code"] == 1003
        assert message["reason"].startswith("A picture of the stage was not taken in")


def test_a_page_that_says_when_it_drew_gets_no_picture_before(client, stages):
    with socket(client, "/station/1/live") as live:
        told(live, "others")
        live.send_text('{"next": true}')
        stage = stages.at("1").stage
        # The order of what is told tells that the "next" was read: another page is told of.
        stage.frame(jpeg(grey=1))
        assert picture(live) == jpeg(grey=1)
        for grey in (2, 3, 4):
            stage.frame(jpeg(grey=grey))
        live.send_text('{"next": true}')
        assert picture(live) in [jpeg(grey=grey) for grey in (2, 3, 4)]


def test_another_camera_sends_the_one_before_away(client):
    with socket(client, "/station/1/camera") as first:
        with socket(client, "/station/1/camera") as second:
            assert told(first, "do") == {"do": "leave"}
            second.send_bytes(jpeg())
            assert told(second, "watched")
        with socket(client, "/station/1/live") as live:
            assert told(live, "camera") == {"camera": None}


def test_what_a_camera_tells_of_itself_is_shown_with_measured_figures(client):
    says = {"camera": {"routes": {"frame": [1920, 1080], "still": [4000, 3000], "x": "y"}, "not": ["focus"]}}
    with socket(client, "/station/1/camera") as camera, socket(client, "/station/1/live") as live:
        camera.send_json(says)
        before = told(live, "camera")["camera"]
        while before is None or not before["routes"]:
            before = told(live, "camera")["camera"]
        assert before["routes"]["still"] == {"width": 4000, "height": 3000, "ppi": None, "across": 0}
        assert "focus" in " ".join(before["words"])
        client.post("/station/1/still?route=still", content=jpeg(), headers=SEALED)
        after = told(live, "camera")["camera"]
        assert after["ppi"] == 400
        assert after["routes"]["frame"]["ppi"] == 192
        assert "400 pixels an inch" in " ".join(after["words"])


def test_until_the_scale_is_known_it_is_told_how_many_pixels_a_print_has(client):
    """The print of the stand-in covers half of the picture each way."""
    with socket(client, "/station/1/camera") as camera, socket(client, "/station/1/live") as live:
        camera.send_json({"camera": {"routes": {"frame": [1920, 1080]}}})
        camera.send_bytes(jpeg())
        while told(camera, "do")["do"] != "still":
            pass
        camera.send_json({"camera": {"routes": {"frame": [1920, 1080]}}})
        while not (shown := told(live, "camera")["camera"]) or not shown["routes"].get("frame", {}).get("across"):
            pass
        assert shown["routes"]["frame"]["across"] == 960
        assert "960 pixels long in the live picture" in " ".join(shown["words"])


def test_rest_stops_the_camera_and_a_key_wakes_it(client, here):
    with socket(client, "/station/1/camera") as camera:
        camera.send_bytes(jpeg())
        assert told(camera, "do")["do"] in ("still", "watch")
        client.post("/station/1/order", json={"order": "rest"}, headers=SEALED)
        while told(camera, "do")["do"] != "rest":
            pass
        client.post("/station/1/order", json={"order": "wake"}, headers=SEALED)
        assert told(camera, "do")["do"] == "watch"
    assert here.watches[0].orders == [Order.REST, Order.WAKE]


def test_a_camera_that_rests_by_its_own_button_is_woken_by_a_key(client, stages):
    with socket(client, "/station/1/camera") as camera:
        camera.send_json({"pace": "rest"})
        camera.send_json({"camera": {"locked": ["focus"]}})
        while told(camera, "camera")["camera"]["locked"] != ["focus"]:  # it is told how things stand before that
            pass
        client.post("/station/1/order", json={"order": "wake"}, headers=SEALED)
        assert told(camera, "do")["do"] == "watch"


def test_the_empty_stage_is_taken_when_it_is_said_to_be_empty(client, stages):
    with socket(client, "/station/1/camera") as camera:
        client.post("/station/1/order", json={"order": "empty-stage"}, headers=SEALED)
        while told(camera, "do")["do"] != "still":
            pass
    assert stages.at("1").stage.stand.done == [Order.EMPTY_STAGE]


def test_nothing_can_be_taken_without_a_camera(client):
    answer = client.post("/station/1/order", json={"order": "take"}, headers=SEALED)
    assert answer.status_code == 422
    assert answer.json()["trouble"]["why"] == "there is no camera at this station"


ACTS = {
    "order": ({"order": "back"}, Order.BACK),
    "say": ({"words": "Bergen"}, "Bergen"),
    "put": ({"part": "place", "words": "Oslo"}, ("place", "Oslo")),
    "drop": ({"part": "place"}, ("drop", "place")),
    "again": ({"keep": "old"}, "old"),
    "back": ({"yes": True}, True),
}


@pytest.mark.parametrize("verb", ACTS)
def test_what_is_pressed_or_typed_is_carried_out(client, stages, verb):
    said, done = ACTS[verb]
    with socket(client, "/station/1/live") as live:
        assert client.post(f"/station/1/{verb}", json=said, headers=SEALED).json() == {}
        assert told(live, "slip")
    assert stages.at("1").stage.stand.done == [done]


@pytest.mark.parametrize("verb", ["order", "say", "put", "drop", "again", "heard"])
@pytest.mark.parametrize("content", [b"{}", b"[]", b"no json", b'{"words": 3, "order": [], "id": "x"}'])
def test_what_makes_no_sense_is_told(client, verb, content):
    answer = client.post(f"/station/1/{verb}", content=content, headers=SEALED)
    assert answer.status_code in (404, 422)
    assert answer.json()["trouble"]["what"]


@pytest.mark.parametrize("name", ["", "a b", "../1", "1" * 40, "é"])
def test_only_names_of_stations_are_stations(client, name):
    assert client.post(f"/station/{name}/order", json={"order": "undo"}, headers=SEALED).status_code in (404, 405)


def test_two_stations_keep_apart(client, here, stages):
    with socket(client, "/station/1/live") as one, socket(client, "/station/2/live") as two:
        client.post("/station/2/still", content=jpeg(), headers=SEALED)
        assert told(two, "taken")
        assert told(one, "slip")["slip"]["words"] == "The slip of station 1"
    assert stages.at("1").stage.stand.pictures == []
    assert len(here.watches) == 2


def test_what_is_heard_is_done_asked_about_or_kept(client, here, stages):
    here.ear.next = [
        Heard("Bergen"),
        Heard(order=Order.UNDO),
        Heard("Oslo", sure="ask"),
        Heard("mumbled", sure="not", sound=b"mm"),
    ]
    with socket(client, "/station/1/live") as live, socket(client, "/station/1/sound") as sound:
        assert told(live, "microphone") == {"microphone": {"open": True, "muted": False}}
        sound.send_bytes(b"\0" * 1024)
        heard = [told(live, "heard")["heard"] for _ in range(4)]
        assert [one["state"] for one in heard] == ["understood", "understood", "ask", "not"]
        answer = client.post("/station/1/heard", json={"id": heard[2]["id"], "yes": True}, headers=SEALED)
        assert answer.status_code == 200
        again = client.post("/station/1/heard", json={"id": heard[2]["id"], "yes": True}, headers=SEALED)
        assert again.status_code == 404
    assert stages.at("1").stage.stand.done == ["Bergen", Order.UNDO, b"mm", "Oslo"]


def test_a_shut_ear_hears_nothing_and_says_so(client, here):
    with socket(client, "/station/1/live") as live, socket(client, "/station/1/sound") as sound:
        sound.send_bytes(b"\0\0")
        sound.send_json({"own_sound": 300})
        sound.send_json({"mute": True})
        state = told(live, "microphone")["microphone"]
        while not state["muted"]:
            state = told(live, "microphone")["microphone"]
        sound.send_bytes(b"\1\1")
        sound.send_json({"mute": False})
        while state["muted"]:
            state = told(live, "microphone")["microphone"]
    assert here.ear.pieces == [b"\0\0", b"own"]


def test_a_told_story_changes_nothing(client, here, stages):
    here.ear.next = [Heard("Bergen"), Heard(order=Order.STORY_ENDS)]
    stand = stages.at("1").stage.stand
    stand.story = type("Story", (), {"seconds": 3, "prints": ("P-0001",)})()
    with socket(client, "/station/1/live") as live, socket(client, "/station/1/sound") as sound:
        assert told(live, "story")["story"]["prints"] == ["P-0001"]
        sound.send_bytes(b"\0\0")
        assert told(live, "told")["told"]["words"] == "Done: story-ends"
    assert stand.done == [("story", b"\0\0"), Order.STORY_ENDS]


def test_pages_at_the_stand_may_use_the_camera_and_no_other_page(client, stages):
    stages.at("1")
    at_the_stand = client.get("/station/1/sounds/7.wav", headers=ORIGIN)
    assert at_the_stand.content == b"RIFF7"
    assert "camera=(self)" in at_the_stand.headers["permissions-policy"]
    assert "connect-src 'self' ws://127.0.0.1" in at_the_stand.headers["content-security-policy"]
    assert client.get("/", headers=ORIGIN).headers["permissions-policy"] == "camera=(), microphone=()"


def test_a_fault_of_one_picture_does_not_end_the_watching(client, stages):
    class Faulty(Watch):
        def frame(self, picture: bytes, at_ms: int):
            if not self.frames:
                self.frames.append(picture)
                raise ZeroDivisionError("of ours")
            return super().frame(picture, at_ms)

    stages.at("1").stage.watch = Faulty()
    with socket(client, "/station/1/live") as live, socket(client, "/station/1/camera") as camera:
        camera.send_bytes(jpeg())
        assert "of ours" in told(live, "trouble")["trouble"]["why"]
        camera.send_bytes(jpeg(grey=2))
        assert told(live, "watched")["watched"]["state"] == "taken"


@pytest.mark.slow
def test_a_page_that_reads_nothing_holds_up_nobody(box, stages):
    """Over a real line: one page never reads, while the other sees the newest picture of 60 MB of them."""
    with running(create_app(Workbench(box, stages=stages)), ws_ping_interval=None) as home:
        address, origin = f"ws{home.removeprefix('http')}/station/1/live", home
        with (
            connect(address, origin=origin, max_queue=1, max_size=None) as slow,
            connect(address, origin=origin, max_queue=1, max_size=None) as quick,
        ):
            stage = stages.at("1").stage
            for number in range(600):
                stage.frame(number.to_bytes(2, "big") + b"\0" * 100_000)
            stage.tell(others(77))
            newest, last = -1, ""
            while newest < 599 or "77" not in last:
                message = quick.recv(timeout=30)
                if isinstance(message, bytes):
                    assert int.from_bytes(message[:2], "big") > newest
                    newest = int.from_bytes(message[:2], "big")
                elif "others" in message:
                    last = message
            waiting = [one for one in stage._viewers if one._picture is not None]
            assert len(waiting) <= 1
            slow.close_socket()


@pytest.mark.slow
def test_a_body_without_an_end_is_not_read_on(box, stages, monkeypatch):
    """Over a real line: what is too large is refused while it still comes."""
    monkeypatch.setattr("solander.station.stage_answers.LARGEST_STILL", 1_000_000)
    sent = []

    def endless():
        while len(sent) < 10_000:
            sent.append(1)
            yield b"\xff\xd8\xff" + b"\0" * 65_000

    with running(create_app(Workbench(box, stages=stages))) as home:
        address = f"{home}/station/1/still"
        headers = {"origin": home, TOKEN_HEADER: seal()}
        try:
            answer = httpx.post(address, content=endless(), headers=headers, timeout=30)
            assert answer.status_code == 413
        except httpx.TransportError:
            pass  # the line was cut while it was still being sent
    assert len(sent) < 10_000


def half_sent(home: str) -> network.socket:
    """A still of which the line has brought the first half."""
    host = home.removeprefix("http://")
    line = network.create_connection(host.split(":"), timeout=60)
    headers = f"host: {host}\r\norigin: {home}\r\n{TOKEN_HEADER}: {seal()}\r\ncontent-length: {len(jpeg())}"
    line.sendall(f"POST /station/1/still HTTP/1.1\r\n{headers}\r\n\r\n".encode() + jpeg()[:100])
    return line


def test_stills_that_come_at_the_same_time_are_few(box, stages, monkeypatch):
    """Each is held in memory as a whole while it comes."""
    monkeypatch.setattr("solander.station.stage_answers.STILLS_UNDER_WAY", 1)
    monkeypatch.setattr("solander.station.stage_answers.STILLS_AT_ONCE", 10_000)
    with running(create_app(Workbench(box, stages=stages))) as home, half_sent(home) as line:
        address, headers = f"{home}/station/1/still", {"origin": home, TOKEN_HEADER: seal()}
        for _ in range(5000):  # until the first half is there
            if (refused := httpx.post(address, content=jpeg(), headers=headers).status_code) == 429:
                break
        assert refused == 429
        line.sendall(jpeg()[100:])
        assert line.recv(99).startswith(b"HTTP/1.1 200")
        assert httpx.post(address, content=jpeg(), headers=headers).status_code == 200


def test_a_still_that_stops_coming_is_given_up(box, stages, monkeypatch):
    """A line that breaks without a word would hold it for good."""
    monkeypatch.setattr("solander.station.stage_answers.STILL_COMES_S", 0.05)
    with running(create_app(Workbench(box, stages=stages))) as home, half_sent(home) as line:
        assert line.recv(99).startswith(b"HTTP/1.1 408")
    assert not stages.open
