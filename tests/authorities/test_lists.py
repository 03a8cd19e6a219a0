"""People and places from a spreadsheet: what is read, and what is set aside with its line."""

from __future__ import annotations

from pathlib import Path

import pytest

from solander.authorities.lists import check_life, read_people, read_places, updated
from solander.core.errors import CannotBegin, InvalidValue
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


def test_a_date_that_may_be_several_tells_each_once(tmp_path: Path) -> None:
    (sentence,) = read_people(written(tmp_path, "name,born\nInga,3/4/21\n")).set_aside
    assert sentence.count("4 March") == 1
    assert sentence.count("3 April") == 1


def test_a_list_tells_only_the_columns_that_it_has(tmp_path: Path) -> None:
    """A list of deaths leaves births and other names alone; what is empty in a column is told to be unknown."""
    known = Person("Liv", ("Livvy",), "1911", "1960")
    died = read_people(written(tmp_path, "name,died\nLiv,1967\n"))
    assert died.columns == ("name", "died")
    assert updated(known, died.records[0], died.columns) == Person("Liv", ("Livvy",), "1911", "1967")
    empty = read_people(written(tmp_path, "name,died\nLiv,\n"))
    assert updated(known, empty.records[0], empty.columns) == Person("Liv", ("Livvy",), "1911", "")


def test_a_list_of_countries_leaves_positions_alone(tmp_path: Path) -> None:
    known = Place("Ternvik", "NO", 68.5, 15.25, 900.0)
    found = read_places(written(tmp_path, "country,name\nSE,Ternvik\n"))
    assert updated(known, found.records[0], found.columns) == Place("Ternvik", "SE", 68.5, 15.25, 900.0)


def test_a_death_before_the_birth_that_is_known_already_is_refused(tmp_path: Path) -> None:
    died = read_people(written(tmp_path, "name,died\nLiv,1905\n"))
    now = updated(Person("Liv", (), "1911"), died.records[0], died.columns)
    with pytest.raises(InvalidValue, match="“Liv” has a life that ends before it begins"):
        check_life(now)
    check_life(died.records[0])


@pytest.mark.parametrize(("read", "unknown"), [(read_people, "birthday"), (read_places, "altitude")])
def test_a_column_that_is_not_known_is_named_once(tmp_path: Path, read, unknown) -> None:
    found = read(written(tmp_path, f"name,{unknown}\nLiv,1\nNed,2\n"))
    assert found.passed_over == (f"The column “{unknown}” of list.csv is not known and was passed over.",)
    assert (len(found.records), found.set_aside, found.columns) == (2, (), ("name",))
