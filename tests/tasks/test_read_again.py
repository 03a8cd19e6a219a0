"""Dates told by a person's age or beside an occasion follow what is known of them."""

from __future__ import annotations

from pathlib import Path

import pytest
from small_box import Draw, asked, slip_file

from solander.core.people import Person
from solander.core.questions import Asks
from solander.core.statements import About, Says, Sure
from solander.tasks.accession import accession
from solander.tasks.collection import Collection
from solander.tasks.described import described
from solander.tasks.people import take_in_people

pytestmark = pytest.mark.slow


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


def test_words_that_waited_are_read_when_the_list_of_people_comes(
    draw: Draw, collection: Collection, people
) -> None:
    """The slip knew “Nan” first, as a bare name; the list says who she is."""
    row = "a.jpg,when Nan was six,Nan"
    enter(collection, draw("a.jpg", 1), "file,date,people", row)
    taken_in = take_in_people(collection, people("Anna Moor,Nan,1931-12-24,"))
    assert dates(collection) == {"P-0001": "[1937-12-24..1938-12-23]"}
    assert asked(collection, Asks.WORDS) == []
    assert len(taken_in.changed) == 1
    assert "now it is" in taken_in.changed[0]
    (one,) = described(collection)
    assert [(shown.person.name, shown.age) for shown in one.people] == [("Anna Moor", "6")]
    enter(collection, draw("a.jpg", 1), "file,date,people", row)
    assert dates(collection) == {"P-0001": "[1937-12-24..1938-12-23]"}, "entering the slip again changes nothing"
    assert asked(collection, Asks.WORDS) == []


def test_somebody_named_in_two_slip_files_is_shown_once(draw: Draw, collection: Collection) -> None:
    picture = draw("a.jpg", 1)
    enter(collection, picture, "file,people", "a.jpg,Tom?")
    second = picture.parent.parent / "more.csv"
    second.write_text("file,people\na.jpg,Tom\n", encoding="utf-8")
    accession(collection, [picture], slips=second)
    (one,) = described(collection)
    assert [(shown.person.name, shown.sure) for shown in one.people] == [("Tom", Sure.CERTAIN)]


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


def test_occasions_that_hang_on_each_other_are_read_at_once(draw: Draw, collection: Collection) -> None:
    rows = (",the honeymoon,the summer after the wedding", ",the wedding,March 1950")
    enter(collection, draw("a.jpg", 1), "file,occasion,date", *rows, "a.jpg,the honeymoon,")

    def said() -> list[tuple[str, str]]:
        return sorted(
            (one.subject, one.value) for one in collection.catalogue.statements() if one.value[:4] == "1950"
        )

    assert said() == [("the honeymoon", "1950-22"), ("the wedding", "1950-03")]
    assert asked(collection, Asks.WORDS) == []
    enter(collection, draw("a.jpg", 1), "file,occasion,date", *rows, "a.jpg,the honeymoon,")
    assert said() == [("the honeymoon", "1950-22"), ("the wedding", "1950-03")], (
        "the same file again changes nothing"
    )


def test_a_contradiction_that_comes_back_is_asked_about_again(draw: Draw, collection: Collection, people) -> None:
    take_in_people(collection, people("Nan,,1921,"))
    head, wrong, right = "file,date,people", "a.jpg,1910,Nan", "a.jpg,1910,"
    for row, waiting in ((wrong, 1), (right, 0), (wrong, 1)):
        enter(collection, draw("a.jpg", 1), head, row)
        assert len(asked(collection, Asks.CONTRADICTION)) == waiting, row


def test_a_phrase_that_may_mean_two_things_is_asked_about(draw: Draw, collection: Collection) -> None:
    enter(collection, draw("a.jpg", 1), "file,date", "a.jpg,during the war")
    (said,) = [one for one in collection.catalogue.statements() if one.says is Says.EXPOSURE]
    assert said.sure is Sure.LIKELY
    ((_, sentence),) = asked(collection, Asks.WORDS)
    assert "1939" in sentence
    assert "1914" in sentence


def test_a_list_that_tells_only_deaths_leaves_births_alone(
    draw: Draw, collection: Collection, tmp_path: Path
) -> None:
    lists = {
        "first.csv": "name,also_called,born,died\nAnna Moor,Nan,1931,\n",
        "deaths.csv": "name,died\nAnna Moor,2004\n",
        "wrong.csv": "name,died\nAnna Moor,1910\n",
    }
    for name, text in lists.items():
        (tmp_path / name).write_text(text, encoding="utf-8")
        told = take_in_people(collection, tmp_path / name)
    assert set(collection.catalogue.people()) == {Person("Anna Moor", ("Nan",), "1931", "2004")}
    (sentence,) = told.set_aside
    assert "Anna Moor" in sentence, "who was born after that death keeps what was known"


def test_an_age_that_nobody_can_have_is_asked_about(draw: Draw, collection: Collection) -> None:
    enter(collection, draw("a.jpg", 1), "file,people", "a.jpg,Nan (200)")
    (one,) = described(collection)
    assert [shown.person.name for shown in one.people] == ["Nan"]
    ((_, sentence),) = asked(collection, Asks.WORDS)
    assert "200" in sentence
