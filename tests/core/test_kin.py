"""Who is whose: a family of our own; half brothers and sisters count (GEDCOM 7 has no other word for them)."""

from __future__ import annotations

from solander.core.kin import Family, How, Kin

FAMILY = Family(
    [
        Kin("Ida", How.PARENT, "Karl"),
        Kin("Ida", How.PARENT, "Lena", "adopted"),
        Kin("Otto", How.PARENT, "Lena"),
        Kin("Otto", How.PARENT, "Max"),
        Kin.partners("Otto", "Ida"),
        Kin("Ida", How.PARENT, "Karl", "birth", "another tree"),
        Kin("Zoe", How.PARENT, "Zoe"),
    ]
)


def test_parents_children_partners_and_half_siblings() -> None:
    assert FAMILY.parents("Lena") == ("Ida", "Otto")
    assert FAMILY.children("Ida") == ("Karl", "Lena")
    assert FAMILY.partners("Ida") == ("Otto",)
    assert FAMILY.siblings("Lena") == ("Karl", "Max")
    assert FAMILY.siblings("Karl") == ("Lena",)


def test_what_a_second_source_says_of_how_is_added_and_nobody_is_kin_of_themselves() -> None:
    assert (FAMILY.by("Ida", "Karl"), FAMILY.by("Ida", "Lena"), FAMILY.by("Otto", "Lena")) == (
        "birth",
        "adopted",
        "",
    )
    assert FAMILY.parents("Zoe") == FAMILY.children("Zoe") == FAMILY.siblings("Zoe") == ()


def test_partners_are_the_same_whoever_is_named_first() -> None:
    assert Kin.partners("Otto", "Ida") == Kin.partners("Ida", "Otto")
    assert FAMILY.partners("nobody") == ()
