"""People and places with their prints: they follow the order of the prints, which may be worked out later."""

from __future__ import annotations

from pathlib import Path

import pytest
from told_prints import say, take_in

from solander.core.statements import Says
from solander.tasks.collection import Collection
from solander.tasks.people_told import PeopleTold
from solander.tasks.places_told import PlacesTold
from solander.tasks.show import Shown


def test_names_follow_when_the_order_is_worked_out_though_nothing_was_written(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with Collection.create(tmp_path / "box") as collection:
        (accession,) = take_in(collection, "B1", 1)
        say(collection, accession, Says.PLACE, "Vessholm")
        say(collection, accession, Says.PERSON, "Nils")
        shown = Shown(collection)
        people, places = PeopleTold(shown), PlacesTold(shown)
        with monkeypatch.context() as at_first:
            at_first.setattr(Shown, "described", lambda self: ())
            assert people.called("Nils") == list(places.all()) == []
        assert [len(one.prints) for one in (*people.called("Nils"), *places.all())] == [1, 1]
