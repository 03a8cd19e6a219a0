"""`solander faces`: what it prints with and without its model, and its set-up. The finds are scripted."""

from __future__ import annotations

import hashlib
import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from PIL import Image

from solander.cli.main import solander
from solander.core.errors import CannotBegin, Trouble
from solander.reading import models
from solander.reading.faces import Face
from solander.reading.models import Model
from solander.tasks import faces as tasks_faces
from solander.tasks import look_for_faces, turn_by_faces
from solander.tasks.collection import Collection

MADE_UP = Model("made-up.onnx", hashlib.sha256(b"made up").hexdigest(), 7, "is made up")
OTHER = Model("other.onnx", hashlib.sha256(b"another").hexdigest(), 7, "tells faces apart")


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("SOLANDER_MODELS", str(tmp_path / "models"))
    monkeypatch.setattr(models, "FACE_MODELS", (MADE_UP, OTHER))
    monkeypatch.setattr(tasks_faces, "FACE_MODELS", (MADE_UP, OTHER))
    monkeypatch.setattr(tasks_faces, "YUNET", MADE_UP)
    return tmp_path / "models"


@pytest.fixture
def photo(tmp_path: Path) -> Path:
    Image.new("RGB", (80, 60), (120, 130, 140)).save(tmp_path / "photo.png")
    return tmp_path / "photo.png"


def _faces(*arguments: object) -> Result:
    return CliRunner().invoke(solander, ["faces", *map(str, arguments)])


def _own_files(tmp_path: Path, *contents: bytes) -> Path:
    source = tmp_path / "own"
    source.mkdir()
    for number, content in enumerate(contents):
        (source / f"{number}.onnx").write_bytes(content)
    return source


def test_without_the_model_nothing_is_looked_for_and_the_way_to_it_is_said(photo: Path) -> None:
    ended = _faces(photo, "--json").exception
    assert isinstance(ended, CannotBegin)
    assert ended.sentence == (
        "No faces were looked for: the model that finds them is not set up. "
        "Set it up once: solander faces --set-up."
    )


def test_set_up_from_own_files_says_where_they_are_what_is_missing_and_what_to_mind(
    tmp_path: Path, folder: Path
) -> None:
    done = _faces("--set-up", _own_files(tmp_path, b"made up"))
    assert done.exit_code == 0, done.output
    assert str(folder) in done.output
    assert "Not there: the model that tells faces apart" in done.output
    for word in ("on this computer alone", "consent of those who live", "Ask where you live", "GDPR", "erase"):
        assert word in " ".join(done.output.split())


def test_set_up_from_the_wrong_files_keeps_nothing(tmp_path: Path, folder: Path) -> None:
    ended = _faces("--set-up", _own_files(tmp_path, b"no such")).exception
    assert isinstance(ended, Trouble)
    assert "holds no file with the checksum that is known" in ended.sentence
    assert not folder.exists()


def test_set_up_alone_fetches(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(tasks_faces, "fetched", lambda: {MADE_UP: b"made up", OTHER: b"another"})
    done = _faces("--set-up")
    assert done.exit_code == 0, done.output
    assert "Not there" not in done.output


def test_faces_of_good_and_bad_files_in_their_order(
    photo: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    _faces("--set-up", _own_files(tmp_path, b"made up"))
    monkeypatch.setattr(tasks_faces, "find_faces", lambda rgb, model: (Face(1.04, 2, 30, 40, 0.9131),))
    done = _faces(tmp_path / "missing.png", photo, "--json")
    assert done.exit_code == 1
    missing, found = map(json.loads, done.stdout.splitlines())
    assert set(missing) == {"image", "error"}
    assert found.pop("ms") >= 0
    assert found == {
        "image": str(photo),
        "width": 80,
        "height": 60,
        "faces": [{"box": [1.0, 2, 30, 40], "score": 0.913}],
    }


def test_neither_pictures_nor_set_up_is_no_use() -> None:
    assert _faces().exit_code == 2


def test_a_collection_keeps_no_face_until_somebody_read_what_it_means_and_said_yes(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    _faces("--set-up", _own_files(tmp_path, b"made up"))
    monkeypatch.setattr(turn_by_faces, "face_model", lambda: tmp_path)
    monkeypatch.setattr(look_for_faces, "face_reader", lambda: object())
    box = tmp_path / "box"
    Collection.create(box).close()
    assert "has not been given leave" in _faces(box).output
    refused = CliRunner().invoke(solander, ["faces", str(box), "--on"], input="n\n")
    assert "Ask where you live" in " ".join(refused.output.split())
    assert "Nothing was changed." in refused.output
    assert isinstance(_faces(box, "--on").exception, CannotBegin), "nobody there to ask"
    assert "Faces are kept from now on" in _faces(box, "--on", "--yes").output
    assert "0 new faces in 0 prints kept" in _faces(box).output
    assert json.loads(_faces(box, "--json").stdout)["found"] == 0
    assert "No more faces are looked for" in _faces(box, "--off").output
    assert "has not been given leave" in _faces(box).output


def test_erasing_asks_first_and_says_what_stays(tmp_path: Path) -> None:
    box = tmp_path / "box"
    Collection.create(box).close()
    assert isinstance(_faces(box, "--erase").exception, CannotBegin)
    done = _faces(box, "--erase", "--yes")
    assert done.exit_code == 0, done.output
    assert "0 faces erased, the names you gave stay. Faces are switched off." in done.output
    assert "0 names withdrawn" in _faces(box, "--erase", "--names-too", "--yes").output
