"""Files on their way in: looked at beside the pages, shown, and taken in once and as they were shown."""

from __future__ import annotations

import threading
from pathlib import Path

import pytest

from solander.core.errors import CannotBegin, Trouble
from solander.core.people import Person
from solander.tasks import beside, given_files
from solander.tasks.collection import Collection
from solander.tasks.given_files import GivenFiles


@pytest.fixture
def given(collection: Collection) -> GivenFiles:
    return GivenFiles(collection)


def test_what_takes_long_goes_on_while_the_page_says_so(
    given: GivenFiles, monkeypatch: pytest.MonkeyPatch
) -> None:
    ready = threading.Event()
    real = given_files.difference

    def slow(*args: object) -> object:
        assert ready.wait(10)
        return real(*args)

    monkeypatch.setattr(given_files, "difference", slow)
    monkeypatch.setattr(beside, "PATIENCE_S", 0.01)
    in_hand = given.look(given.send("list.txt", b"Liv, born 1911\n"), "people")
    assert in_hand.given is None
    assert in_hand.taken is None
    ready.set()
    monkeypatch.setattr(beside, "PATIENCE_S", 10)
    assert in_hand.given is not None
    assert in_hand.given.new == (("Liv", "born 1911"),)
    assert not in_hand.is_confirmed


def test_saying_so_twice_takes_in_once_and_gives_the_act(given: GivenFiles) -> None:
    in_hand = given.look(given.send("list.txt", b"Liv, born 1911\n"), "people")
    in_hand.take_in()
    first = in_hand.taken
    in_hand.take_in()
    assert first is not None
    assert in_hand.taken is first
    assert given.collection.catalogue.last_act() == (first.act, "took in people from list.txt")


def test_places_that_change_nothing_give_no_act(given: GivenFiles) -> None:
    with given.collection.catalogue.act("somebody else", "did something") as act, act.work() as work:
        work.keep_person(Person("Liv"))
        work.commit()
    table = b"name,latitude,longitude,radius_m\nThe mill,60.39,5.32,30\n"
    for expected in (True, False):
        in_hand = given.look(given.send("own.csv", table), "places")
        in_hand.take_in()
        taken = in_hand.taken
        assert taken is not None
        assert (taken.act is not None) is expected, "nobody else's act is offered to be taken back"


def test_what_has_changed_since_it_was_shown_is_not_taken_in(given: GivenFiles) -> None:
    in_hand = given.look(given.send("list.txt", b"Liv, born 1911\n"), "people")
    assert in_hand.given is not None
    in_hand.path.write_bytes(b"Tor, born 1911\n")
    in_hand.take_in()
    with pytest.raises(Trouble, match="has changed since"):
        _ = in_hand.taken
    assert given.collection.catalogue.people() == []


def test_what_is_wrong_with_a_file_is_told_where_it_is_asked_for(given: GivenFiles) -> None:
    in_hand = given.look(given.send("photo.ged", b"\xff\xd8\xff\xe0"), "people")
    with pytest.raises(CannotBegin, match="it is a picture"):
        _ = in_hand.given


@pytest.mark.parametrize("said", ["/nowhere/x.ged", "~nobody-of-that-name/x.ged", "a\0b", "", "/"])
def test_where_no_file_lies_is_said_in_a_sentence(given: GivenFiles, said: str) -> None:
    with pytest.raises(CannotBegin, match="there is no such file"):
        given.named(said)


def test_a_path_may_stand_in_quotation_marks(given: GivenFiles, tmp_path: Path) -> None:
    path = tmp_path / "the family.ged"
    path.touch()
    assert given.named(f'"{path}"') == path


@pytest.mark.parametrize("name", ["x" * 300 + ".ged", "a\0b.ged"])
def test_a_name_that_no_file_can_have_is_refused_in_a_sentence(given: GivenFiles, name: str) -> None:
    with pytest.raises(CannotBegin, match="The file was not taken"):
        given.send(name, b"0 HEAD")
