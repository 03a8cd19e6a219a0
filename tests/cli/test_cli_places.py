"""`solander places`: own places from files, and what a person says of places, one command each."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner

from solander.cli.main import solander
from solander.core.errors import CannotBegin
from solander.core.places import Place
from solander.tasks.collection import Collection


@pytest.fixture
def box(tmp_path: Path) -> Path:
    made = Collection.create(tmp_path / "box")
    with made as box, box.catalogue.act("test", "slips") as act, act.work() as work:
        work.keep_place(Place("Frankfurt"))
        work.keep_place(Place("Springfield"))
        work.commit()
    return tmp_path / "box"


def said(*arguments: object, status: int = 0) -> str:
    result = CliRunner().invoke(solander, ["places", *map(str, arguments)])
    assert result.exit_code == status, result.output
    return result.stdout


def places(box: Path) -> dict[str, Place]:
    with Collection.open(box) as collection:
        return {place.name: place for place in collection.catalogue.places()}


def test_looking_changes_nothing(box: Path, tmp_path: Path) -> None:
    (tmp_path / "own.csv").write_text("name,latitude,longitude\nNordgard,60,5\n", encoding="utf-8")
    assert "1 place would be taken in: 1 new" in said(box, tmp_path / "own.csv", "--look")
    assert "Nordgard" not in places(box)


def test_which_place_is_meant_is_said_in_words(box: Path) -> None:
    assert "Frankfurt (Oder)" in said(box, "--mean", "Frankfurt", "Frankfurt an der Oder")
    assert places(box)["Frankfurt"].known_as == ("geonames:2925535",)


def test_names_are_looked_up_when_asked(box: Path) -> None:
    told = said(box, "--look-up")
    assert "Frankfurt: Frankfurt am Main, Hesse, DE" in told
    assert "“Springfield” may be more than one place" in told
    assert max(len(line) for line in told.splitlines() if "“" not in line) <= 80


def test_a_position_is_pasted(box: Path) -> None:
    said(box, "--lay", "The mill", "geo:60.1,5.2;u=80")
    mill = places(box)["The mill"]
    assert (mill.latitude, mill.longitude, mill.radius_m) == (60.1, 5.2, 80.0)


def test_without_anything_to_do_it_says_so(box: Path) -> None:
    result = CliRunner().invoke(solander, ["places", str(box)])
    assert isinstance(result.exception, CannotBegin)
