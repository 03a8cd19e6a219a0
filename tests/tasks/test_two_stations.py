"""Two stations of one collection in two programs at once: slips apart, no lost write, no number given twice."""

from __future__ import annotations

import multiprocessing
from pathlib import Path

import pytest
from stand_here import said, still

from solander.core.orders import Order
from solander.core.statements import Says
from solander.tasks.at_stand import AtStand
from solander.tasks.collection import Collection
from solander.tasks.verify import verify

EACH = 4


def sit(root: Path, name: str, words: str, pictures: list[bytes]) -> None:
    """One whole sitting in a program of its own; its last print is taken back."""
    with Collection.open(root) as collection:
        stand = AtStand(collection, station=name)
        stand.say(words)
        for number, picture in enumerate(pictures):
            stand.take(picture, f"{name}-{number}.jpg")
        stand.order(Order.UNDO)


@pytest.mark.slow
def test_two_programs_take_into_one_envelope_at_once(people: Collection) -> None:
    pictures = [still(number) for number in range(2 * EACH)]
    context = multiprocessing.get_context("spawn")
    programs = [
        context.Process(target=sit, args=(people.root, "1", "envelope five, with Ingrid", pictures[:EACH])),
        context.Process(target=sit, args=(people.root, "2", "envelope five, with Nils", pictures[EACH:])),
    ]
    for program in programs:
        program.start()
    for program in programs:
        program.join()
    assert [program.exitcode for program in programs] == [0, 0]
    found = people.catalogue.prints()
    shown = [said(people, one.accession, Says.PERSON) for one in found]
    assert shown.count(["Ingrid Sollihøgda"]) == shown.count(["Nils Sollihøgda"]) == EACH - 1
    assert len(found) == 2 * (EACH - 1)
    assert len({one.number for one in found}) == len(found)
    assert len(people.catalogue.captures()) == 2 * EACH
    assert AtStand(people, station="1").slip.people == ("Ingrid Sollihøgda",)
    assert AtStand(people, station="2").slip.people == ("Nils Sollihøgda",)
    assert verify(people.root).faults == ()
