"""`solander who`: people found by what is said, told to a person and as JSON."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner

from solander.cli.main import solander
from solander.core.errors import CannotBegin
from solander.core.first_words import FirstWords
from solander.core.kin import How, Kin
from solander.core.people import Person
from solander.tasks.collection import Collection
from solander.tasks.first_words_kept import keep_first_words


@pytest.fixture
def box(tmp_path: Path) -> str:
    """A collection that knows a small family, seen from Anna."""
    with (
        Collection.create(tmp_path / "box") as collection,
        collection.catalogue.act("test", "began") as act,
        act.work() as work,
    ):
        for person in (
            Person("Anna Weber", born="1950", sex="female"),
            Person("Karl Weber", born="1918", sex="male"),
            Person("Joseph Weber", born="1920", died="1980", sex="male"),
            Person("Heinrich Weber", born="1890", sex="male"),
            Person("Joseph Holm", born="1922", sex="male"),
        ):
            work.keep_person(person)
        for one, other in (("Karl", "Anna"), ("Heinrich", "Karl"), ("Heinrich", "Joseph")):
            work.keep_kin(Kin(f"{one} Weber", How.PARENT, f"{other} Weber"))
        keep_first_words(work, FirstWords("Anna Weber"))
        work.commit()
    return str(tmp_path / "box")


def run(*arguments: str) -> str:
    result = CliRunner().invoke(solander, ["who", *arguments])
    assert result.exit_code == 0, result.output
    return result.stdout


def test_one_object_a_phrase_in_the_order_of_the_input(box: str) -> None:
    first, second = map(json.loads, run(box, "Uncle Joe, Anna (8)", "Joe", "--on", "1958", "--json").splitlines())
    uncle, anna = first["people"]
    assert (uncle["said"], uncle["understood"]) == ("Uncle Joe", ["Joseph Weber"])
    assert uncle["candidates"][0]["reasons"][0] == "uncle of Anna Weber"
    assert (anna["understood"], anna["age"]) == (["Anna Weber"], [8, 8])
    (joe,) = second["people"]
    assert joe["understood"] is None
    assert {name for each in joe["candidates"] for name in each["people"]} == {"Joseph Weber", "Joseph Holm"}


def test_a_person_reads_who_is_meant_and_why(box: str) -> None:
    told = run(box, "Uncle Joe", "Joe", "Bunty", "--on", "1958")
    assert "“Uncle Joe” is Joseph Weber (uncle of Anna Weber, " in told
    assert "“Joe” may be\n  Joseph Weber (" in told
    assert "“Bunty”: nobody is known by that name" in told


def test_the_family_is_seen_from_whom_one_says(box: str) -> None:
    assert run(box, "my father").startswith("“my father” is Karl Weber")
    assert run(box, "my father", "--from", "Karl").startswith("“my father” is Heinrich Weber")


@pytest.mark.parametrize(("option", "value"), [("--on", "19x"), ("--from", "Zorro")])
def test_what_is_not_understood_stops_it_before_it_begins(box: str, option: str, value: str) -> None:
    result = CliRunner().invoke(solander, ["who", box, "Joe", option, value])
    assert isinstance(result.exception, CannotBegin)


def test_without_a_phrase_names_on_prints_are_asked_about(box: str) -> None:
    assert run(box) == "0 names asked about.\n"
