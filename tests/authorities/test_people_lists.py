"""People from tables: headings understood as people write them, CSV and XLSX, and what is set aside."""

from __future__ import annotations

import datetime
import zipfile
from pathlib import Path

import openpyxl
import pytest

from solander.authorities.people_lists import read_people_list
from solander.core.errors import CannotBegin
from solander.core.people import Name, NameKind, Person
from solander.core.statements import Says
from solander.core.told import Telling, ToldOf, believed, stated


def person(one: ToldOf) -> Person:
    return believed(one.name, [stated(claim, one.name, "list.csv", "") for claim in one.told])


def people(found: Telling) -> list[Person]:
    return [person(one) for one in found.people]


def written(folder: Path, text: str, *, encoding: str = "utf-8") -> Path:
    path = folder / "list.csv"
    path.write_text(text, encoding=encoding)
    return path


def workbook(folder: Path, *rows: list[object]) -> Path:
    book = openpyxl.Workbook()
    for row in rows:
        book.active.append(row)
    book.save(folder / "list.xlsx")
    return folder / "list.xlsx"


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16"])
def test_people_with_all_their_names_and_dates(tmp_path: Path, encoding: str) -> None:
    text = "Name,also_called,born,died\nHåkon Ternvåg,Uncle Håkon; Hå ,1911~,1967-05\nLiv,,,\n"
    found = read_people_list(written(tmp_path, text, encoding=encoding))
    assert people(found) == [Person("Håkon Ternvåg", ("Uncle Håkon", "Hå"), "1911~", "1967-05"), Person("Liv")]
    assert found.set_aside == found.remarks == ()


@pytest.mark.parametrize("between", [";", ",", "\t"])
def test_columns_in_any_order_and_any_usual_sign_between(tmp_path: Path, between: str) -> None:
    found = read_people_list(written(tmp_path, f"died{between}name\n1967{between}Liv\n"))
    assert people(found) == [Person("Liv", (), "", "1967")]


@pytest.mark.parametrize(
    ("head", "row"),
    [
        ("First Name,Last Name,Birthday,Nickname", "Anna,Weber,1921-03-12,Nan"),
        ("Vorname;Nachname;Geburtsdatum;Rufname", "Anna;Weber;1921-03-12;Nan"),
        ("family name\tgiven names\tdate of birth\tknown as", "Weber\tAnna\t12 March 1921\tNan"),
        ("Prénom,Nom de famille,né,surnom", "Anna,Weber,1921-03-12,Nan"),
    ],
)
def test_headings_as_relatives_and_programs_write_them(tmp_path: Path, head: str, row: str) -> None:
    if "né," in head:
        head = head.replace("né,", "date of birth,")
    (found,) = people(read_people_list(written(tmp_path, f"{head}\n{row}\n")))
    assert (found.name, found.also_called, found.born) == ("Anna Weber", ("Nan",), "1921-03-12")
    assert Name("Anna Weber", NameKind.OTHER, "Weber") in found.names


def test_birth_and_married_names_places_and_sex(tmp_path: Path) -> None:
    head = "name,maiden name,married name,birthplace,place of death,gender"
    (found,) = people(read_people_list(written(tmp_path, f"{head}\nAnna Weber,Moor,Anna Berg,Ternvik,Vik,F\n")))
    assert Name("Anna Moor", NameKind.BIRTH, "Moor") in found.names
    assert Name("Anna Berg", NameKind.MARRIED) in found.names
    assert (found.born_at, found.died_at, found.sex) == ("Ternvik", "Vik", "female")


@pytest.mark.parametrize(("row", "why"), [("Liv,in spring,", "in spring"), (",1967,", "no name")])
def test_a_row_that_cannot_be_read_is_set_aside_with_its_line(tmp_path: Path, row: str, why: str) -> None:
    found = read_people_list(written(tmp_path, f"name,born,died\nNed,1931,2004\n{row}\nInga,1908,\n"))
    assert [one.name for one in found.people] == ["Ned", "Inga"]
    (sentence,) = found.set_aside
    assert sentence.startswith("list.csv, line 3: ")
    assert why in sentence


def test_a_file_that_is_no_such_list_is_refused(tmp_path: Path) -> None:
    with pytest.raises(CannotBegin, match="no column “name”"):
        read_people_list(written(tmp_path, "colour\nLiv\n"))
    with pytest.raises(CannotBegin, match="not saved as UTF-8"):
        read_people_list(written(tmp_path, "name\nHåkon\n", encoding="latin-1"))
    with pytest.raises(CannotBegin, match="could not be read"):
        read_people_list(tmp_path / "missing.csv")


@pytest.mark.parametrize(
    ("said", "edtf"),
    [("5 March 1921", "1921-03-05"), ("about 1921", "1921~"), ("12.VII.1936", "1936-07-12"), ("192X", "192X")],
)
def test_dates_may_be_written_in_words(tmp_path: Path, said: str, edtf: str) -> None:
    (found,) = people(read_people_list(written(tmp_path, f"name,born\nInga,{said}\n")))
    assert found.born == edtf


@pytest.mark.parametrize("said", ["3/7/48", "when the ferry sank", "1921 in Bergen", "31 February 1921"])
def test_a_date_that_is_unclear_sets_the_row_aside(tmp_path: Path, said: str) -> None:
    found = read_people_list(written(tmp_path, f"name,born\nInga,{said}\n"))
    assert found.people == ()
    (sentence,) = found.set_aside
    assert f"“Inga”: “{said}” in the column “born” was not understood" in sentence


def test_a_date_that_may_be_several_tells_each_once(tmp_path: Path) -> None:
    (sentence,) = read_people_list(written(tmp_path, "name,born\nInga,3/4/21\n")).set_aside
    assert sentence.count("4 March") == 1
    assert sentence.count("3 April") == 1


def test_a_sheet_that_says_its_sign_first_and_has_a_heading_twice(tmp_path: Path) -> None:
    found = read_people_list(written(tmp_path, "sep=;\nname;born;born\nLiv, the elder;;1911\nNed;1912;1913\n"))
    assert people(found) == [Person("Liv, the elder", (), "1911"), Person("Ned", (), "1912")]
    assert found.remarks == (
        "list.csv has several columns “born”; of each row the first that is filled was taken.",
    )


def test_a_list_speaks_only_of_the_columns_that_it_has(tmp_path: Path) -> None:
    told = read_people_list(written(tmp_path, "name,died\nLiv,1967\nNed,\n"))
    assert told.covers == {Says.DIED}
    assert [one.silent for one in told.people] == [frozenset(), {Says.DIED}]


def test_lines_of_one_name_tell_of_one_person(tmp_path: Path) -> None:
    text = "name,also_called,born\nLiv,Livvy,1911\nLiv,Aunt Liv,1912\n"
    assert people(read_people_list(written(tmp_path, text))) == [Person("Liv", ("Livvy", "Aunt Liv"), "1912")]


def test_a_column_that_is_not_known_is_named_once(tmp_path: Path) -> None:
    found = read_people_list(written(tmp_path, "name,shoe size\nLiv,1\nNed,2\n"))
    assert found.remarks == ("The column “shoe size” of list.csv is not known and was passed over.",)
    assert (len(found.people), found.set_aside) == (2, ())


def test_a_workbook_with_days_and_years(tmp_path: Path) -> None:
    day = datetime.datetime(1921, 3, 12)
    found = read_people_list(
        workbook(tmp_path, ["Name", "Born", "Died"], ["Anna Weber", day, 1996.0], [None, None])
    )
    assert people(found) == [Person("Anna Weber", (), "1921-03-12", "1996")]


def test_a_formula_that_was_never_worked_out_sets_its_row_aside(tmp_path: Path) -> None:
    found = read_people_list(workbook(tmp_path, ["Name", "Born"], ["Anna", "=1900+21"], ["Ned", 1931]))
    assert [one.name for one in found.people] == ["Ned"]
    (sentence,) = found.set_aside
    assert sentence.startswith("list.xlsx, row 2: The cell under “Born” holds a formula without its result")


def test_a_package_that_is_no_workbook_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "list.xlsx"
    with zipfile.ZipFile(path, "w") as package:
        package.writestr("something.txt", "else")
    with pytest.raises(CannotBegin, match="no workbook"):
        read_people_list(path)
    whole = workbook(tmp_path, ["Name"], ["Liv"]).read_bytes()
    path.write_bytes(whole[: len(whole) // 2])
    with pytest.raises(CannotBegin, match="no workbook"):
        read_people_list(path)
