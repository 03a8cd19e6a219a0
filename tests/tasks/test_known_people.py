"""The people whom a collection knows are read again only where they changed."""

from __future__ import annotations

from pathlib import Path

import pytest

from solander.catalogue.queries import Reading
from solander.core.kin import How, Kin
from solander.core.people import Person
from solander.core.statements import Says
from solander.tasks.collection import Collection
from solander.tasks.keep_people import new_person, say_date, say_name
from solander.tasks.known_people import known_people


def test_after_a_change_of_one_only_that_one_is_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with Collection.create(tmp_path / "box") as collection:
        with collection.catalogue.act("test", "entered") as act, act.work() as work:
            work.enter_people([(Person(f"Person {word}"), ()) for word in ("One", "Two", "Three")])
            work.keep_kin(Kin("Person One", How.PARENT, "Person Two"))
            work.commit()
        assert known_people(collection.catalogue).find("Person One")[0].person.name == "Person One"

        def refused(self: Reading) -> list[Person]:
            raise AssertionError("everybody was read")

        with monkeypatch.context() as once:
            once.setattr(Reading, "people", refused)
            say_name(collection, "Person One", "Kalle")
            act = new_person(collection, "Zwickel")
            known = known_people(collection.catalogue)
            assert [one.person.name for one in known.find("Kalle")] == ["Person One"]
            assert [one.person.name for one in known.find("Zwickel")] == ["Zwickel"]
            say_date(collection, "Person Two", Says.BORN, "1921")
            assert known_people(collection.catalogue).by_heading["Person Two"].born == "1921"
        collection.catalogue.undo("test")
        assert known_people(collection.catalogue).by_heading["Person Two"].born == ""
        collection.catalogue.take_back("test", act or 0)
        assert "Zwickel" not in known_people(collection.catalogue).by_heading
