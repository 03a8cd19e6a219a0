"""Suggestions for a face: with reasons, in order, and nobody who was not alive."""

from __future__ import annotations

from solander.core.dates import Bounds, parse_edtf
from solander.core.likely_people import FaceEvidence, likely_people
from solander.core.people import Person

IN_1952 = parse_edtf("1952").bounds()
ANY = Bounds(None, None)


def _told(evidence, *people, on=ANY):
    found = likely_people(evidence, people={one.name: one for one in people}, on=on)
    return [(one.person, one.reasons, one.age) for one in found]


def test_reasons_say_what_speaks_for_a_person():
    assert _told({"Ingrid": FaceEvidence(in_group=1, alike=3, likest=0.7, said=True)}) == [
        (
            "Ingrid",
            (
                "1 face of this group is named so",
                "3 other faces named so look like this one",
                "said to be in this print",
            ),
            "",
        )
    ]
    assert _told({"Karl": FaceEvidence(alike=1, likest=0.5)})[0][1] == ("1 face named so looks like this one",)


def test_who_is_like_and_said_to_be_there_comes_first_then_the_group_then_the_likest():
    evidence = {
        "like": FaceEvidence(alike=2, likest=0.6),
        "likest": FaceEvidence(alike=1, likest=0.7),
        "grouped": FaceEvidence(in_group=2, likest=0.6),
        "both": FaceEvidence(alike=1, likest=0.5, said=True),
        "said": FaceEvidence(said=True),
    }
    assert [one for one, _, _ in _told(evidence)] == ["both", "grouped", "likest"], "three at most"
    assert [one for one, _, _ in _told({"said": evidence["said"], "like": evidence["like"]})] == ["like", "said"]


def test_nobody_is_suggested_before_birth_or_after_death_and_the_age_then_is_told():
    evidence = {name: FaceEvidence(alike=1, likest=0.6) for name in ("unborn", "dead", "child")}
    people = Person("unborn", born="1953"), Person("dead", died="1951-12"), Person("child", born="1946-05-02")
    assert _told(evidence, *people, on=IN_1952) == [("child", ("1 face named so looks like this one",), "5 or 6")]
    assert len(_told(evidence, *people)) == 3, "without a date nothing rules anybody out"
