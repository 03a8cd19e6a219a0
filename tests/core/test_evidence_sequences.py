"""Which prints lie beside each other: chains for the best guess."""

from __future__ import annotations

import pytest

from solander.core.chronology.guess import Chain
from solander.core.evidence import chains_of
from solander.core.prints import Print, accession_number
from solander.core.statements import About, Says, Statement, Sure

BOX = [Print(accession_number("B1", number), "B1", number) for number in range(1, 6)]
ONE, TWO, THREE, FOUR, FIVE = (print_.accession for print_ in BOX)


def said(accession: str, says: Says, value: str) -> Statement:
    ident = f"{accession} {says}"
    return Statement(ident, About.PRINT, accession, says, value, value, Sure.CERTAIN, "slips", "2026-11-25")


def numbers(**of: int) -> list[Statement]:
    return [said(globals()[name], Says.ORDER, str(number)) for name, number in of.items()]


@pytest.mark.parametrize(
    ("statements", "precedes", "chain"),
    [
        ([], [], Chain((ONE, TWO, THREE, FOUR, FIVE), (False, False, False, False))),
        # Numbered against the order in which they were taken in: they change places among themselves.
        (
            numbers(ONE=3, TWO=1, FOUR=2),
            [(TWO, FOUR), (FOUR, ONE)],
            Chain((TWO, FOUR, THREE, ONE, FIVE), (True, False, False, False)),
        ),
        # A number that was left out, for it contradicted a date, orders nothing.
        (numbers(ONE=1, TWO=2), [], Chain((ONE, TWO, THREE, FOUR, FIVE), (False,) * 4)),
    ],
    ids=["as taken in", "numbered", "number left out"],
)
def test_a_container_is_one_chain(statements, precedes, chain) -> None:
    assert chains_of(BOX, statements, precedes=precedes) == [chain]


def test_a_numbered_roll_is_a_chain_of_its_own_wherever_its_prints_lie() -> None:
    elsewhere = Print("B2-0001", "B2", 1)
    roll = [said(one, Says.ROLL, "film 7") for one in (TWO, "B2-0001", FIVE)]
    order = [*numbers(TWO=12, FIVE=14), said("B2-0001", Says.ORDER, "13")]
    precedes = [(TWO, "B2-0001"), ("B2-0001", FIVE)]
    found = chains_of([*BOX, elsewhere], [*roll, *order], precedes=precedes)
    assert found == [Chain((TWO, "B2-0001", FIVE), (True, True)), Chain((ONE, THREE, FOUR), (False, False))]


def test_every_print_is_in_one_chain_at_most() -> None:
    roll = [said(one, Says.ROLL, "film 7") for one in (ONE, TWO)]  # on a roll, not numbered
    found = chains_of(BOX, roll, precedes=[])
    assert sorted(thing for chain in found for thing in chain.things) == [ONE, TWO, THREE, FOUR, FIVE]
