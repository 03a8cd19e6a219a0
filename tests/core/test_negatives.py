"""Prints of one negative: one exposure, a printing each, what is said of the picture shared."""

from __future__ import annotations

from solander.core.chronology import Network
from solander.core.dates import parse_edtf
from solander.core.evidence import evidence_of, printing_of, things_of
from solander.core.negatives import of_one_negative, ties_to
from solander.core.prints import Print
from solander.core.statements import About, Says, Statement, Sure

PRINTS = [Print(f"P-000{number}", None, number) for number in range(1, 5)]


def said(ident: str, subject: str, says: Says, value: str) -> Statement:
    return Statement(ident, About.PRINT, subject, says, value, value, Sure.CERTAIN, "slip", "2026-11-26T09:00:00Z")


def test_what_is_said_of_two_pairs_ties_all_three():
    pairs = [said("1", "P-0002", Says.NEGATIVE, "P-0001"), said("2", "P-0003", Says.NEGATIVE, "P-0002")]
    assert of_one_negative(pairs) == {
        "P-0001": ("P-0002", "P-0003"), "P-0002": ("P-0001", "P-0003"), "P-0003": ("P-0001", "P-0002"),
    }  # fmt: skip
    assert of_one_negative([said("1", "P-0001", Says.NEGATIVE, "P-0001")]) == {}


def test_one_that_leaves_a_negative_leaves_all_that_hangs_together_without_it():
    chain = [said("1", "P-0002", Says.NEGATIVE, "P-0001"), said("2", "P-0003", Says.NEGATIVE, "P-0002")]
    chain += [said("3", "P-0004", Says.NEGATIVE, "P-0003")]
    assert [tie.id for tie in ties_to(chain, "P-0001", leaving="P-0003")] == ["2"]  # P-0004 stays with P-0003
    assert [tie.id for tie in ties_to(chain, "P-0001", leaving="P-0004")] == ["3"]
    assert [tie.id for tie in ties_to(chain, "P-0003", leaving="P-0001")] == ["1"]
    around = [*chain, said("4", "P-0003", Says.NEGATIVE, "P-0001")]
    assert [tie.id for tie in ties_to(around, "P-0001", leaving="P-0003")] == ["2", "4"]
    assert ties_to(chain[:1], "P-0001", leaving="P-0004") == []


def test_the_exposure_is_one_and_each_printing_its_own():
    statements = [
        said("1", "P-0002", Says.NEGATIVE, "P-0001"),
        said("2", "P-0001", Says.EXPOSURE, "1931"),
        said("3", "P-0002", Says.PRINTING, "1954"),
    ]
    evidence = evidence_of(PRINTS, statements, {})
    network = Network(things_of(PRINTS, evidence))
    for one in evidence:
        network.add(one.constraint)
    ranges = network.solution().ranges
    year = parse_edtf("1931").bounds()
    assert ranges["P-0002"] == ranges["P-0001"] == (year.earliest, year.latest)
    later = parse_edtf("1954").bounds()
    assert ranges[printing_of("P-0002")] == (later.earliest, later.latest)
    assert ranges[printing_of("P-0001")] == (year.earliest, None)
    assert ranges["P-0003"] == (None, None)


def test_a_print_that_is_gone_binds_nothing():
    gone = [said("1", "P-0002", Says.NEGATIVE, "P-0009")]
    assert all("of one negative" not in one.reason.sentence for one in evidence_of(PRINTS, gone, {}))
