"""Places from a spreadsheet: what is read, and what is set aside with its line."""

from __future__ import annotations

from pathlib import Path

import pytest

from solander.authorities.lists import read_places, updated
from solander.core.errors import CannotBegin
from solander.core.places import Place


def written(folder: Path, text: str, *, encoding: str = "utf-8") -> Path:
    path = folder / "list.csv"
    path.write_text(text, encoding=encoding)
    return path


def test_places_with_their_circle(tmp_path: Path) -> None:
    text = "name,country,latitude,longitude,radius_m\nTernvik,NO,68.5,15.25,900\nSandvær,NO,,,\n"
    found = read_places(written(tmp_path, text))
    assert found.records == (Place("Ternvik", "NO", 68.5, 15.25, 900.0), Place("Sandvær", "NO"))


@pytest.mark.parametrize("numbers", ["91,15,900", "68,181,900", "68,15,0", "68,15,", "north,15,900"])
def test_a_position_that_is_none_is_set_aside(tmp_path: Path, numbers: str) -> None:
    found = read_places(written(tmp_path, f"name,latitude,longitude,radius_m\nTernvik,{numbers}\n"))
    assert found.records == ()
    assert "line 2" in found.set_aside[0]
    assert "Ternvik" in found.set_aside[0]


def test_a_list_of_countries_leaves_positions_alone(tmp_path: Path) -> None:
    known = Place("Ternvik", "NO", 68.5, 15.25, 900.0)
    found = read_places(written(tmp_path, "country,name\nSE,Ternvik\n"))
    assert updated(known, found.records[0], found.columns) == Place("Ternvik", "SE", 68.5, 15.25, 900.0)


def test_a_file_that_is_no_such_list_is_refused(tmp_path: Path) -> None:
    with pytest.raises(CannotBegin, match="no column “name”"):
        read_places(written(tmp_path, "who\nLiv\n"))
    with pytest.raises(CannotBegin, match="not saved as UTF-8"):
        read_places(written(tmp_path, "name\nHåkon\n", encoding="latin-1"))
    with pytest.raises(CannotBegin, match="could not be read"):
        read_places(tmp_path / "missing.csv")


def test_a_column_that_is_not_known_is_named_once(tmp_path: Path) -> None:
    found = read_places(written(tmp_path, "name,altitude\nLiv,1\nNed,2\n"))
    assert found.passed_over == ("The column “altitude” of list.csv is not known and was passed over.",)
    assert (len(found.records), found.set_aside, found.columns) == (2, (), ("name",))
