"""What a station answers to what no page of ours sends: a sentence, never a bare fault; and nothing is lost."""

from __future__ import annotations

import hashlib
import io
from collections.abc import Iterator
from pathlib import Path

import pytest
from named_box import named_collection
from PIL import Image
from stage_parts_here import TestClient

from solander.station.app import create_app
from solander.station.guard import TOKEN_HEADER
from solander.station.sealing import seal
from solander.station.workbench import Workbench
from solander.tasks.collection import Collection

pytestmark = pytest.mark.slow

HERE = {"origin": "http://127.0.0.1", "host": "127.0.0.1"}
SEALED = {**HERE, TOKEN_HEADER: seal()}


@pytest.fixture
def collection(tmp_path: Path) -> Iterator[Collection]:
    with named_collection(tmp_path / "box") as opened:
        yield opened


@pytest.fixture
def client(collection: Collection) -> Iterator[TestClient]:
    bench = Workbench.over(collection)
    with TestClient(create_app(bench), base_url="http://127.0.0.1", raise_server_exceptions=False) as client:
        yield client
    bench.stages.close()


@pytest.mark.parametrize("verb", ["put", "drop"])
def test_a_part_that_no_slip_has_is_told(client: TestClient, verb: str) -> None:
    answer = client.post(f"/station/1/{verb}", json={"part": "colour", "words": "red"}, headers=SEALED)
    assert answer.status_code in (404, 422)
    told = answer.json()["trouble"]
    assert told["what"]
    assert told["why"] in ("a slip has no part “colour”", "it was typed, or taken off the slip")


@pytest.mark.parametrize("token", ["ä", "ſ" * 40, "\x80"])
def test_a_word_of_other_letters_is_refused_like_any_wrong_one(client: TestClient, token: str) -> None:
    sent = {**HERE, TOKEN_HEADER.encode(): token.encode("utf-8")}
    answer = client.post("/station/1/order", json={"order": "clear"}, headers=sent)
    assert answer.status_code == 409
    assert "started anew" in answer.json()["trouble"]["why"]
    form = client.post("/station/1/keeps-sound", data={"token": token, "keeps": "yes"}, headers=HERE)
    assert form.status_code == 409


def test_a_page_that_says_too_much_is_sent_away_with_a_sentence(
    client: TestClient, monkeypatch: pytest.MonkeyPatch
) -> None:
    # However slowly a busy machine sends them: nothing is allowed anew meanwhile.
    monkeypatch.setattr("solander.station.stage_sockets.TEXTS_A_SECOND", 0)
    with client.websocket_connect("/station/1/live", headers=HERE) as live:
        for _ in range(400):
            live.send_text('{"next": true}')
        for _ in range(1000):
            message = live.receive()
            if message["type"] == "websocket.close":
                break
        assert message["code"] == 1008
        assert message["reason"] == "Too many messages came at once. Load the page again."


def test_a_still_whose_capture_is_damaged_is_not_given_up_by_its_camera(
    client: TestClient, collection: Collection
) -> None:
    """Of the answers below 500 the camera page drops its picture (`NEVER` in camera-kept.js)."""
    out = io.BytesIO()
    Image.new("RGB", (400, 300), (90, 90, 90)).save(out, "JPEG")
    kept = collection.vault.put(out.getvalue(), suffix=".jpg")
    kept.path.chmod(0o644)
    kept.path.write_bytes(b"spoilt")
    answer = client.post("/station/1/still?id=x", content=out.getvalue(), headers=SEALED)
    assert answer.status_code == 500
    told = answer.json()["trouble"]
    assert "is damaged" in told["what"]
    assert told["todo"] == "Heal it from the second copy"
    assert kept.path.name.startswith(hashlib.sha256(out.getvalue()).hexdigest())
