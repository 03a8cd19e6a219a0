"""People from lines as somebody types them; the forms are ours, so no source outside checks them."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from solander.authorities.people_files import read_people
from solander.authorities.people_typed import read_typed_people
from solander.core.errors import CannotBegin
from solander.core.kin import How
from solander.core.people import Name, NameKind, Person
from solander.core.told import Telling, ToldKin, ToldOf, believed, stated


def person(one: ToldOf) -> Person:
    return believed(one.name, [stated(claim, one.name, "list.txt", "") for claim in one.told])


def typed(folder: Path, text: str) -> Telling:
    (folder / "list.txt").write_text(text, encoding="utf-8")
    return read_typed_people(folder / "list.txt")


@pytest.mark.parametrize(
    ("line", "name", "called", "born", "died"),
    [
        ("Nan = Anna Weber, born 12 March 1921", "Anna Weber", ("Nan",), "1921-03-12", ""),
        ('Anna "Nan" Weber (1881–1950)', "Anna Weber", ("Nan",), "1881", "1950"),
        ("Anna (Nan) Weber 1881-1950", "Anna Weber", ("Nan",), "1881", "1950"),
        ("Anna Weber *1881 †1950", "Anna Weber", (), "1881", "1950"),
        ("Anna Weber, * 12.3.1881, † about 1950", "Anna Weber", (), "1881-03-12", "1950~"),
        ("Anna Weber, b. 1881, d. 1950", "Anna Weber", (), "1881", "1950"),
        ("Anna Weber (b. 1881)", "Anna Weber", (), "1881", ""),
        ("Anna Weber, 1881–", "Anna Weber", (), "1881", ""),
        ("Anna Weber, c. 1881–1950", "Anna Weber", (), "1881~", "1950"),
        ("Anna Weber, geb. 1881, gest. 1950", "Anna Weber", (), "1881", "1950"),
        ("Anna Weber born 12 March 1921", "Anna Weber", (), "1921-03-12", ""),
        ("Anna Weber b. 1881 d. about 1950", "Anna Weber", (), "1881", "1950~"),
        ("Anna Weber, –1950", "Anna Weber", (), "", "1950"),
        ("John I. Weber, 1881–1950", "John I. Weber", (), "1881", "1950"),
        ("Anna Weber   # next door", "Anna Weber", (), "", ""),
    ],
)
def test_one_person_a_line(
    tmp_path: Path, line: str, name: str, called: tuple[str, ...], born: str, died: str
) -> None:
    (found,) = typed(tmp_path, line).people
    one = person(found)
    assert (one.name, one.also_called, one.born, one.died) == (name, called, born, died)


@pytest.mark.parametrize("line", ["Anna Weber née Moor", "Anna Weber, nee Moor", "Anna Weber (geb. Moor)"])
def test_a_name_at_birth(tmp_path: Path, line: str) -> None:
    (found,) = typed(tmp_path, line).people
    assert person(found).names == (Name("Anna Moor", NameKind.BIRTH, "Moor"),)


def test_a_second_person_behind_a_semicolon(tmp_path: Path) -> None:
    found = typed(tmp_path, "Nan = Anna Weber, born 1921; her husband Joe Weber, b. 1919; her son Tom\n")
    assert [(one.name, person(one).sex) for one in found.people] == [
        ("Anna Weber", ""),
        ("Joe Weber", "male"),
        ("Tom", "male"),
    ]
    assert found.kin == (
        ToldKin("Anna Weber", How.PARTNER, "Joe Weber"),
        ToldKin("Anna Weber", How.PARENT, "Tom"),
    )


@pytest.mark.parametrize(
    "line", ["Anna, from Vik", "Anna, born in spring", "= , 1921", "Anna; the neighbour Ned", "see the album"]
)
def test_a_line_that_is_not_understood_is_set_aside_whole(tmp_path: Path, line: str) -> None:
    found = typed(tmp_path, f"Ned\n{line}\n")
    assert [one.name for one in found.people] == ["Ned"]
    (sentence,) = found.set_aside
    assert sentence.startswith("list.txt, line 2: ")


def test_a_father_and_a_son_of_one_name_are_not_one(tmp_path: Path) -> None:
    found = typed(tmp_path, "Joe Weber, 1881–1950\nJoe Weber, born 1910; his wife Mia\n")
    assert [(one.name, person(one).born) for one in found.people] == [("Joe Weber", "1881"), ("Mia", "")]
    assert found.kin == ()
    assert (
        "line 2: an earlier line tells of “Joe Weber” with a birth more than 10 years apart" in found.set_aside[0]
    )


def test_running_text_is_no_list(tmp_path: Path) -> None:
    text = "\n".join(f"this is line {number} of a letter, and it goes on" for number in range(9))
    with pytest.raises(
        CannotBegin, match="is no list of people: only 0 of its lines read like one person, 9 do not"
    ):
        typed(tmp_path, text)


TODAY = date(2026, 11, 25)


@pytest.mark.parametrize(
    ("name", "data", "why"),
    [
        ("tree.ged", b"\xff\xd8\xff\xe0JFIF", "it is a picture or a document"),
        ("list.csv", b"", "it is empty"),
        ("list.csv", b"\0\1\2\0", "it holds no text"),
        ("list.csv", b"colour,size\nred,1\n", "has no column “name”"),
        ("list.xlsx", b"PK\3\4", "it is no workbook"),
        ("list.txt", b"\n# nothing\n", "has no line with a name"),
    ],
)
def test_what_tells_of_nobody_is_refused_in_one_sentence(tmp_path: Path, name: str, data: bytes, why: str) -> None:
    (tmp_path / name).write_bytes(data)
    with pytest.raises(CannotBegin, match=why) as trouble:
        read_people(tmp_path / name, today=TODAY)
    assert trouble.value.todo


@pytest.mark.parametrize(
    ("name", "text"),
    [
        ("tree.txt", "0 HEAD\n1 GEDC\n2 VERS 7.0\n0 @I1@ INDI\n1 NAME Liv\n0 TRLR\n"),
        ("book", "BEGIN:VCARD\nFN:Liv\nEND:VCARD\n"),
        ("list.txt", "name,born\nLiv,1911\n"),
        ("list.txt", "Liv (1911–)\n"),
    ],
)
def test_a_file_is_known_by_what_is_in_it(tmp_path: Path, name: str, text: str) -> None:
    (tmp_path / name).write_text(text, encoding="utf-8")
    assert [one.name for one in read_people(tmp_path / name, today=TODAY).people] == ["Liv"]
