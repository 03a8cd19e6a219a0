"""Dates told by a person's age or beside an occasion follow what is known of them."""

from __future__ import annotations

from pathlib import Path

import pytest
from small_box import Draw, asked, slip_file

from solander.core.questions import Asks
from solander.core.statements import About, Says
from solander.tasks.accession import accession
from solander.tasks.collection import Collection
from solander.tasks.lists import take_in_people


def dates(collection: Collection) -> dict[str, str]:
    found = (said for said in collection.catalogue.statements() if said.says is Says.EXPOSURE)
    return {said.subject: said.value for said in found if said.about is About.PRINT}


@pytest.fixture
def people(tmp_path: Path):
    def listed(*lines: str) -> Path:
        path = tmp_path / "people.csv"
        path.write_text("\n".join(["name,also_called,born,died", *lines]), encoding="utf-8")
        return path

    return listed


def enter(collection: Collection, picture: Path, *lines: str) -> None:
    accession(collection, [picture], slips=slip_file(picture.parent.parent, *lines))


def test_a_date_told_by_an_age_follows_the_birth(draw: Draw, collection: Collection, people) -> None:
    take_in_people(collection, people("Anna Moor,Nan,1931,"))
    enter(collection, draw("a.jpg", 1), "file,date", "a.jpg,when Nan was six")
    assert dates(collection) == {"P-0001": "[1937-01-01..1938-12-30]"}
    take_in_people(collection, people("Anna Moor,Nan,1931-12-24,"))
    assert dates(collection) == {"P-0001": "[1937-12-24..1938-12-23]"}


def test_an_age_of_somebody_unknown_is_asked_about(draw: Draw, collection: Collection) -> None:
    enter(collection, draw("a.jpg", 1), "file,date", "a.jpg,when Nan was six")
    assert dates(collection) == {}
    assert [subject for subject, _ in asked(collection, Asks.WORDS)] == ["P-0001"]


def test_a_date_beside_an_occasion_follows_its_date(draw: Draw, collection: Collection) -> None:
    rows = ("file,occasion,date", "a.jpg,,the winter after the wedding")
    enter(collection, draw("a.jpg", 1), *rows, ",the wedding,June 1950")
    assert dates(collection) == {"P-0001": "1950-24"}
    enter(collection, draw("a.jpg", 1), *rows, ",the wedding,June 1952")
    assert dates(collection) == {"P-0001": "1952-24"}


def test_a_birth_that_comes_after_a_dated_print_is_asked_about(draw: Draw, collection: Collection, people) -> None:
    enter(collection, draw("a.jpg", 1), "file,date,people", "a.jpg,1950,Anna Moor")
    take_in_people(collection, people("Anna Moor,,1955,"))
    assert [subject for subject, _ in asked(collection, Asks.CONTRADICTION)] == ["P-0001"]
