from __future__ import annotations

from solander.core.kin import Family, How, Kin
from solander.core.people import Person
from solander.look.kin_words import kin_groups, kin_line

FAMILY = Family(
    [
        Kin("Aksel", How.PARENT, "Liv"),
        Kin("Ingeborg", How.PARENT, "Liv"),
        Kin("Aksel", How.PARENT, "Sverre"),
        Kin("Ingeborg", How.PARENT, "Sverre"),
        Kin("Aksel", How.PARENT, "Tor"),
        Kin("Berit", How.PARENT, "Tor"),
        Kin("Liv", How.PARENT, "Jørn", by="adopted"),
        Kin.partners("Liv", "Edmund"),
        *(Kin("Aksel", How.PARENT, f"child {i}") for i in range(5)),
    ]
)


def test_a_line_tells_the_nearest_kin_by_sex():
    liv = Person("Liv", sex="female")
    assert kin_line(liv, FAMILY) == "daughter of Aksel and Ingeborg · partner of Edmund · mother of Jørn"
    assert kin_line(Person("Tor"), FAMILY) == "child of Aksel and Berit"
    assert kin_line(Person("Aksel", sex="male"), FAMILY) == "father of 8, the first Liv"
    assert kin_line(Person("Nobody"), FAMILY) == ""


def test_groups_tell_half_brothers_and_who_was_adopted():
    groups = {group.heading: dict(group.names) for group in kin_groups(Person("Liv"), FAMILY)}
    assert list(groups) == ["Parents", "Brothers and sisters", "Partners", "Children"]
    assert groups["Children"] == {"Jørn": "by adoption"}
    assert groups["Brothers and sisters"]["Sverre"] == ""
    assert groups["Brothers and sisters"]["Tor"] == "one parent shared"
