"""Looking up in the catalogue who may be named gives those whom an index of everybody gives."""

from __future__ import annotations

import pytest

from solander.core.people import Person
from solander.core.phrases.sought import NameIndex
from solander.tasks.collection import Collection
from solander.tasks.date import date_reader
from solander.tasks.people_named import PeopleNamed

PEOPLE = (
    Person("Anna Weber", ("Nan", "Oma Anna"), born="1921-05-12"),
    Person("Anna Moor", ("Nana",), born="1950"),
    Person("Jan", born="1930"),
    Person("Åse-Marie O'Brien", ("Ása",), born="1901"),
    Person("Нана", ("Анна Вебер",), born="1935"),
    Person("Other", born="1900"),
)
PHRASES = (
    "when Nan was six",
    "Nana's school",
    "als Oma Anna klein war",
    "Åse-Marie O'Brien",
    "когда Нане",
    "1952",
    "",
)


@pytest.fixture
def known(collection: Collection) -> Collection:
    with collection.catalogue.act("Ada", "told") as act, act.work() as work:
        for person in PEOPLE:
            work.keep_person(person)
        work.commit()
    return collection


@pytest.mark.parametrize("phrase", PHRASES)
def test_the_catalogue_finds_whom_the_index_finds(known: Collection, phrase: str) -> None:
    found = PeopleNamed(known.catalogue).people_named_in(phrase)
    assert {one.name for one in found} == {one.name for one in NameIndex(PEOPLE).named_in(phrase)}


def test_a_name_that_is_taken_back_is_not_found(known: Collection) -> None:
    with known.catalogue.act("Ada", "corrected") as act, act.work() as work:
        work.keep_person(Person("Anna Weber", ("Annie",), born="1921-05-12"))
        work.commit()
    assert known.catalogue.people_called(["nan"]) == []
    assert [one.name for one in known.catalogue.people_called(["ANNIE"])] == ["Anna Weber"]
    known.catalogue.undo("Ada")
    assert [one.name for one in known.catalogue.people_called(["Nan"])] == ["Anna Weber"]


def test_a_reader_that_is_told_something_knows_that_instead(known: Collection) -> None:
    before = date_reader(known.catalogue)
    now = before.knowing([Person("Jan", ("Janek",), born="1940")], formerly=[PEOPLE[2]])
    assert before("when Jan was six").readings
    assert now("when Jan was six").readings != before("when Jan was six").readings
    assert now("when Janek was six").readings
    assert now.may_read_otherwise("when Jan was six", before)
    assert now.may_read_otherwise("Janek's birth", before)
    assert not now.may_read_otherwise("when Nan was six", before)
    assert date_reader(known.catalogue) == before
