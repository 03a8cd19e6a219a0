"""Lists of people and places while several pages are asked for and something is written."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor

from solander.tasks.collection import Collection
from solander.tasks.keep_people import new_person
from solander.tasks.keep_places import new_place
from solander.tasks.names import Names
from solander.tasks.show import Shown


def test_pages_that_are_asked_for_at_once_agree_with_what_was_written(collection: Collection) -> None:
    names = Names(Shown(collection))

    def read(_: int) -> tuple[int, int, bool]:
        words = names.understanding.date("1921").readings
        return len(names.people.called("an")), names.places.page(said="an").total, bool(words)

    with ThreadPoolExecutor(4) as pages:
        for number in range(6):
            asked = pages.map(read, range(8))
            new_person(collection, f"Anna {number}")
            new_place(collection, f"Annen {number}")
            for people, places, understood in asked:
                assert number <= people <= number + 1
                assert number <= places <= number + 1
                assert understood
            assert read(0)[:2] == (number + 1, number + 1)
