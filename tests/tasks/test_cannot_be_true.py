"""What can't be true: one sentence that names what clashes, and nothing is changed by it."""

from __future__ import annotations

from pathlib import Path

import pytest
from small_box import Draw, asked, slip_file

from solander.core.people import Person
from solander.core.questions import Asks
from solander.tasks.accession import accession
from solander.tasks.collection import Collection
from solander.tasks.described import described
from solander.tasks.people import PeopleTakenIn, take_in_people

pytestmark = pytest.mark.slow


@pytest.fixture
def folder(draw: Draw) -> Path:
    """Two prints."""
    draw("b.jpg", 2)
    return draw("a.jpg", 1).parent


def take_in(collection: Collection, folder: Path, *lines: str) -> PeopleTakenIn:
    path = folder.parent / "people.csv"
    path.write_text("\n".join(lines) + "\n", encoding="utf-8")
    return take_in_people(collection, path)


def clash(collection: Collection, folder: Path, *lines: str) -> str:
    """The one contradiction that a slip file makes."""
    accession(collection, [folder], slips=slip_file(folder.parent, *lines))
    ((_, sentence),) = asked(collection, Asks.CONTRADICTION)
    return sentence


def test_a_life_that_ends_before_it_begins_changes_nothing(folder: Path, collection: Collection) -> None:
    take_in(collection, folder, "name,born,died", "Liv,1911,1967", "Ned,1931,")
    second = take_in(collection, folder, "name,born,died", "Liv,1976,1967")
    assert second.count == 0
    assert second.set_aside == (
        "people.csv, line 2: “Liv” has a life that ends before it begins: 1976 to 1967. Correct one.",
    )
    assert set(collection.catalogue.people()) == {Person("Liv", (), "1911", "1967"), Person("Ned", (), "1931")}


@pytest.mark.parametrize(("year", "life"), [("1955", "Inga was born 1960"), ("1999", "died 1991")])
def test_a_person_before_birth_or_after_death(folder: Path, collection: Collection, year: str, life: str) -> None:
    take_in(collection, folder, "name,born,died", "Inga,1960,1991")
    sentence = clash(collection, folder, "file,date,people", f"a.jpg,{year},Inga")
    assert f"dated “{year}”" in sentence
    assert life in sentence
    assert [one.when.edtf for one in described(collection) if one.people] == [year], "the date was said of it"


def test_a_stated_age_against_a_date(folder: Path, collection: Collection) -> None:
    take_in(collection, folder, "name,born", "Nan,1921-03-05")
    sentence = clash(collection, folder, "file,date,people", "a.jpg,1935,Nan (6)")
    assert "dated “1935”" in sentence
    assert "Nan, born 5 March 1921, was 6 years old" in sentence


def test_numbers_against_dates(folder: Path, collection: Collection) -> None:
    sentence = clash(collection, folder, "file,date,order", "a.jpg,1960,1", "b.jpg,1950,2")
    for part in ("dated “1960”", "dated “1950”", "P-0002 follows P-0001", "9 years apart"):
        assert part in sentence


def test_printed_before_it_was_taken(folder: Path, collection: Collection) -> None:
    sentence = clash(collection, folder, "file,date", "a.jpg,1960", "a.jpg,DEVELOPED SEP 1959")
    for part in ("dated “1960”", "this paper was made: “DEVELOPED SEP 1959”", "taken before it is printed"):
        assert part in sentence
