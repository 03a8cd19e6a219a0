from __future__ import annotations

from solander.core.chronology import Network
from solander.core.days import day
from solander.core.evidence import evidence_of, things_of
from solander.core.evidence.first_words import collection_years
from solander.core.prints import Print
from solander.core.statements import About, Says, Statement, Sure

PRINTS = [Print("P-0001", None, 1, ()), Print("P-0002", None, 2, ())]
YEARS = "[1900..1950]"


def dated(edtf: str, sure: Sure = Sure.GUESS) -> Statement:
    return Statement("s", About.PRINT, "P-0001", Says.EXPOSURE, edtf, edtf, sure, "x", "2026-01-01T00:00:00Z")


def test_nothing_said_is_no_evidence_and_an_open_end_stays_open():
    assert list(collection_years(PRINTS, "")) == []
    (first, _) = collection_years(PRINTS, "[1904..]")
    assert (first.constraint.earliest, first.constraint.latest) == (day(1904, 1, 1), None)


def test_it_is_soft_and_believed_less_than_everything_else():
    evidence = evidence_of(PRINTS, [dated("1958")], {}, years=YEARS)
    ours = [one for one in evidence if one.shared == "first words"]
    assert len(ours) == 2
    assert all(one.soft and one.reason.sure is Sure.GUESS for one in ours)
    assert {one.rank for one in ours} == {max(one.rank for one in evidence)}


def test_even_a_guess_overrules_it_and_an_undated_print_keeps_it():
    evidence = evidence_of(PRINTS, [dated("1958")], {}, years=YEARS)
    network = Network(things_of(PRINTS, evidence))
    left_out = [one.about for one in evidence if network.add(one.constraint) is not None]
    assert left_out == ["P-0001"]
    ranges = network.solution().ranges
    assert ranges["P-0001"] == (day(1958, 1, 1), day(1958, 12, 31))
    assert ranges["P-0002"] == (day(1900, 1, 1), day(1950, 12, 31))
