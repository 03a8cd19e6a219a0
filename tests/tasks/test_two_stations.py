"""Two stations of one collection in two programs at once: slips apart, no lost write, no number given twice."""

from __future__ import annotations

import multiprocessing
import subprocess
import sys
from pathlib import Path

import pytest
from stand_here import said, still

from solander.core.errors import Trouble
from solander.core.orders import Order
from solander.core.statements import Says
from solander.tasks.at_stand import AtStand
from solander.tasks.collection import Collection
from solander.tasks.stand_claim import claim_station
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
        program.join(240)
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


@pytest.mark.slow
def test_after_a_new_start_a_station_takes_its_last_deeds_back(people: Collection, stand: AtStand) -> None:
    stand.say("Vessholm")
    stand.take(still(1), "1.jpg")
    stand.finish()
    stand.say("summer 1958")
    stand.take(still(2), "2.jpg")
    stand.finish()
    stand.order(Order.CLEAR)
    again = AtStand(people)
    assert again.slip.entries == ()
    again.order(Order.UNDO)
    assert "Summer 1958" in again.slip_words()
    assert "took P-0002 at the stand" in again.order(Order.UNDO).words
    assert [one.accession for one in again.last()] == ["P-0001"]
    anew = AtStand(people)  # what was taken back is not taken back once more
    assert "said last" in anew.order(Order.UNDO).words
    assert anew.slip_words() == "Vessholm"
    assert "took P-0001 at the stand" in anew.order(Order.UNDO).words
    anew.order(Order.UNDO)
    assert anew.slip.entries == ()
    with pytest.raises(Trouble, match="nothing was done at this station, or not lately"):
        anew.order(Order.UNDO)


CLAIMS = """
import sys
from pathlib import Path
from solander.core.errors import Trouble
from solander.tasks.collection import Collection
from solander.tasks.stand_claim import claim_station
with Collection.open(Path(sys.argv[1])) as collection:
    try:
        claim_station(collection, sys.argv[2])
    except Trouble as trouble:
        print(trouble.sentence, flush=True)
    else:
        print("ours", flush=True)
    sys.stdin.read()
"""


@pytest.mark.slow
def test_a_station_that_another_program_has_is_told_and_freed_when_that_ends(people: Collection) -> None:
    command = [sys.executable, "-c", CLAIMS, str(people.root)]
    other = subprocess.Popen([*command, "1"], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True)
    try:
        assert other.stdout.readline() == "ours\n"
        with pytest.raises(Trouble, match="another Solander") as refused:
            claim_station(people, "1")
        assert refused.value.status == 409
        assert "use another station here" in refused.value.todo
        claim_station(people, "2")
        claim_station(people, "2")  # our own
    finally:
        other.kill()
        other.communicate(timeout=60)
    claim_station(people, "1")
    assert verify(people.root).faults == ()
