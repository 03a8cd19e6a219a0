"""People and places from a spreadsheet: what is read, and what is set aside with its line."""

from __future__ import annotations

from pathlib import Path

import pytest

from solander.authorities.lists import read_people, read_places
from solander.core.errors import CannotBegin
from solander.core.people import Person
from solander.core.places import Place


def written(folder: Path, text: str, *, encoding: str = "utf-8") -> Path:
    path = folder / "list.csv"
    path.write_text(text, encoding=encoding)
    return path


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig"])
def test_people_with_all_their_names_and_dates(tmp_path: Path, encoding: str) -> None:
    text = "Name,also_called,born,died\nHåkon Ternvåg,Uncle Håkon; Hå ,1911~,1967-05\nLiv,,,\n"
    found = read_people(written(tmp_path, text, encoding=encoding))
    assert found.records == (Person("Håkon Ternvåg", ("Uncle Håkon", "Hå"), "1911~", "1967-05"), Person("Liv"))
    assert found.set_aside == ()


def test_semicolons_between_cells_and_columns_in_any_order(tmp_path: Path) -> None:
    found = read_people(written(tmp_path, "died;name\n1967;Liv\n"))
    assert found.records == (Person("Liv", (), "", "1967"),)


@pytest.mark.parametrize(
    ("row", "why"),
    [("Liv,in spring,", "in spring"), ("Liv,1967,1911", "ends before it begins"), (",1967,", "no name")],
)
def test_a_row_that_cannot_be_true_is_set_aside_with_its_line(tmp_path: Path, row: str, why: str) -> None:
    found = read_people(written(tmp_path, f"name,born,died\nNed,1931,2004\n{row}\nInga,1908,\n"))
    assert [person.name for person in found.records] == ["Ned", "Inga"]
    (sentence,) = found.set_aside
    assert sentence.startswith("list.csv, line 3: ")
    assert why in sentence


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


def test_a_file_that_is_no_such_list_is_refused(tmp_path: Path) -> None:
    with pytest.raises(CannotBegin, match="no column “name”"):
        read_people(written(tmp_path, "who\nLiv\n"))
    with pytest.raises(CannotBegin, match="not saved as UTF-8"):
        read_people(written(tmp_path, "name\nHåkon\n", encoding="latin-1"))
    with pytest.raises(CannotBegin, match="could not be read"):
        read_places(tmp_path / "missing.csv")


@pytest.mark.parametrize(
    ("said", "edtf"),
    [("5 March 1921", "1921-03-05"), ("about 1921", "1921~"), ("12.VII.1936", "1936-07-12"), ("192X", "192X")],
)
def test_dates_may_be_written_in_words(tmp_path: Path, said: str, edtf: str) -> None:
    (person,) = read_people(written(tmp_path, f"name,born\nInga,{said}\n")).records
    assert person.born == edtf


@pytest.mark.parametrize("said", ["3/7/48", "when the ferry sank", "1921 in Bergen", "31 February 1921"])
def test_a_date_that_is_unclear_sets_the_row_aside(tmp_path: Path, said: str) -> None:
    found = read_people(written(tmp_path, f"name,born\nInga,{said}\n"))
    assert found.records == ()
    (sentence,) = found.set_aside
    assert f"“Inga”: “{said}” in the column “born” was not understood" in sentence
