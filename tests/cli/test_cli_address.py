"""`solander address` and `solander landmarks`: what is looked up beyond the towns on this computer."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner

from solander.cli import address as asking
from solander.cli.main import solander
from solander.core.errors import CannotBegin
from solander.core.place_finds import PlaceFound
from solander.tasks.collection import Collection


@pytest.fixture
def box(tmp_path: Path) -> Path:
    Collection.create(tmp_path / "box").close()
    return tmp_path / "box"


def said(*arguments: object, status: int = 0) -> str:
    result = CliRunner().invoke(solander, [*map(str, arguments)])
    assert result.exit_code == status, result.output
    return result.stdout


def test_a_service_is_named_and_switched_off(box: Path) -> None:
    told = said("address", box, "--service", "https://addresses.example/search", "--credit", "Example")
    assert told == "https://addresses.example/search is asked when you name a place.\n"
    assert said("address", box, "--service", "off") == "The address service is off.\n"
    result = CliRunner().invoke(solander, ["address", str(box), "Old school"])
    assert isinstance(result.exception, CannotBegin)
    assert "none is named" in result.exception.sentence


def test_the_first_answer_is_taken_and_nothing_found_is_said(box: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    found = PlaceFound("Old school", "NO", 60.39, 5.32, 30.0, reasons=("Old school, Bergen, Norway",))
    monkeypatch.setattr(asking, "ask_service", lambda _, name: (found,) if name == "the school" else ())
    assert said("address", box, "the school").startswith("the school is Old school, Bergen, Norway, within 30 m.")
    with Collection.open(box) as collection:
        (school,) = collection.catalogue.places()
    assert (school.name, school.latitude, school.radius_m) == ("the school", 60.39, 30.0)
    assert said("address", box, "nowhere", status=1) == "The address service knows no place like “nowhere”.\n"


def test_without_anything_to_do_it_says_so(box: Path) -> None:
    result = CliRunner().invoke(solander, ["address", str(box)])
    assert isinstance(result.exception, CannotBegin)


def test_landmarks_are_counted(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SOLANDER_GAZETTEER", str(tmp_path / "gazetteer.db"))
    columns = [
        "1",
        "The mill",
        "The mill",
        "",
        "60.1",
        "5.2",
        "S",
        "ML",
        "NO",
        "",
        "",
        "",
        "",
        "",
        "0",
        "",
        "",
        "",
        "",
    ]
    (tmp_path / "NO.txt").write_text("\t".join(columns) + "\n", encoding="utf-8")
    assert said("landmarks", tmp_path / "NO.txt") == "1 place of NO.txt taken in, for all collections.\n"
