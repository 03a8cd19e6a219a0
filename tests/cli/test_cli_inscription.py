"""`solander inscription`: what it prints, in words and as JSON, and how it ends. The reading is scripted."""

from __future__ import annotations

import json
from pathlib import Path

import numpy as np
import pytest
from click.testing import CliRunner, Result
from PIL import Image

from solander.cli import inscription as command
from solander.cli.main import solander
from solander.core.errors import CannotBegin
from solander.reading.inscriptions import networks
from solander.reading.inscriptions.reader import Patch, ScriptedReader
from solander.tasks.inscription import Readers

RED, BLUE, PAPER = (200, 30, 30), (30, 30, 200), (245, 245, 245)


@pytest.fixture
def back(tmp_path: Path) -> Path:
    page = np.full((200, 300, 3), PAPER, np.uint8)
    page[30:50, 20:220] = RED
    page[150:165, 20:180] = BLUE
    Image.fromarray(page).save(tmp_path / "back.png")
    return tmp_path / "back.png"


@pytest.fixture
def scripted(monkeypatch: pytest.MonkeyPatch) -> None:
    boxes = [(19.5, 29.5, 219.5, 49.5), (19.5, 149.5, 179.5, 164.5)]
    patches = [Patch(((x, y), (right, y), (right, low), (x, low)), 0.9) for x, y, right, low in boxes]
    reader = ScriptedReader(patches, {RED: "Ada 1931", BLUE: "PROCESSED BY CASTLE LABS MAY 1952"}, sure=0.95)
    monkeypatch.setattr(command, "readers", lambda **_: Readers(reader))
    # The light is left as it is, so that the script's colours are found again.
    monkeypatch.setattr("solander.tasks.inscription.flattened", lambda rgb: rgb)


def run(*arguments: object) -> Result:
    return CliRunner().invoke(solander, ["inscription", *map(str, arguments)], standalone_mode=False)


@pytest.mark.slow
@pytest.mark.usefixtures("scripted")
def test_one_object_an_image_with_lines_facts_and_places(back: Path, tmp_path: Path) -> None:
    ended = run(back, tmp_path / "missing.png", back, "--json")
    first, missing, again = map(json.loads, ended.output.splitlines())
    assert ended.exit_code == 1
    assert missing["error"].endswith("there is no such file. Check the name.")
    assert again["text"] == first["text"] == "Ada 1931\nPROCESSED BY CASTLE LABS MAY 1952"
    assert (first["width"], first["height"], first["written"], first["turn"]) == (300, 200, True, 0)
    assert first["lines"][0]["corners"] == [[19.5, 29.5], [219.5, 29.5], [219.5, 49.5], [19.5, 49.5]]
    assert [word["text"] for word in first["lines"][0]["words"]] == ["Ada", "1931"]
    facts = {(fact["kind"], fact["value"], fact["line"]) for fact in first["facts"]}
    assert {("person", "Ada", 0), ("date", "1931", 0), ("printing", "1952-05", 1)} <= facts
    assert first["facts"][0]["corners"] == first["lines"][0]["corners"]


@pytest.mark.slow
@pytest.mark.usefixtures("scripted")
def test_in_words(back: Path) -> None:
    ended = run(back)
    assert ended.exit_code == 0
    assert f"{back}: 2 lines of writing" in ended.output
    assert "date: 1931 (likely)" in ended.output


def test_without_the_extra_nothing_begins(back: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(networks, "is_installed", lambda: False)
    networks.network.cache_clear()
    ended = run(back)
    assert isinstance(ended.exception, CannotBegin)
    assert "pip install" in str(ended.exception)
