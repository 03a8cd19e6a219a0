"""Taking people in: the difference first, nobody twice, nothing lost, nobody joined by a machine."""

from __future__ import annotations

from pathlib import Path

import pytest

from solander.core.errors import CannotBegin, Trouble
from solander.core.kin import Family, How, Kin
from solander.core.people import Name, NameKind, Person
from solander.core.questions import Asks, Question
from solander.core.statements import Says
from solander.tasks.collection import Collection
from solander.tasks.people import PeopleTakenIn, difference, take_in_people
from solander.tasks.same_person import asked_about, join_people, say_two_people

TREE = """0 HEAD
1 GEDC
2 VERS 5.5.1
1 CHAR UTF-8
0 @I1@ INDI
1 NAME Anna /Moor/
1 SEX F
1 BIRT
2 DATE 12 MAR 1921
2 PLAC Ternvik
1 DEAT
2 DATE 1996
0 @I2@ INDI
1 NAME Joe /Weber/
1 BIRT
2 DATE ABT 1919
0 @I3@ INDI
1 NAME Joe /Weber/
1 BIRT
2 DATE 1950
0 @F1@ FAM
1 WIFE @I1@
1 HUSB @I2@
1 CHIL @I3@
0 TRLR
"""


def take_in(collection: Collection, folder: Path, name: str, text: str, **options: str) -> PeopleTakenIn:
    (folder / name).write_text(text, encoding="utf-8")
    return take_in_people(collection, folder / name, **options)


def dump(collection: Collection) -> tuple[object, ...]:
    catalogue = collection.catalogue
    return catalogue.people(), catalogue.kin(), catalogue.said_of_people(withdrawn=True), catalogue.statements()


def waiting(collection: Collection) -> list[Question]:
    return [one for one in collection.catalogue.questions() if one.asks is Asks.SAME_PERSON]


def test_a_tree_gives_people_with_lives_names_and_kin(collection: Collection, tmp_path: Path) -> None:
    done = take_in(collection, tmp_path, "tree.ged", TREE)
    assert (done.count, len(done.difference.plan.new), done.set_aside) == (3, 3, ())
    anna, *joes = collection.catalogue.people()
    assert anna == Person(
        "Anna Moor",
        (),
        "1921-03-12",
        "1996",
        (Name("Anna Moor", NameKind.BIRTH, "Moor"),),
        "female",
        "Ternvik",
        "",
        ("tree.ged#@I1@",),
    )
    assert [joe.name for joe in joes] == ["Joe Weber, born 1950", "Joe Weber, born about 1919"]
    family = Family(collection.catalogue.kin())
    assert family.parents("Joe Weber, born 1950") == ("Anna Moor", "Joe Weber, born about 1919")
    assert family.partners("Anna Moor") == ("Joe Weber, born about 1919",)
    said = collection.catalogue.said_of_person("Anna Moor")
    assert {one.source for one in said} == {"tree.ged"}
    assert (Says.BORN, "1921-03-12", "12 MAR 1921") in {(one.says, one.value, one.words) for one in said}


def test_the_same_again_changes_nothing(collection: Collection, tmp_path: Path) -> None:
    take_in(collection, tmp_path, "tree.ged", TREE)
    before, history = dump(collection), collection.catalogue.last_change()
    again = take_in(collection, tmp_path, "tree.ged", TREE)
    assert again.difference.plan.is_empty
    assert again.difference.as_before == again.count == 3
    assert (dump(collection), collection.catalogue.last_change()) == (before, history)


def test_looking_changes_nothing_and_tells_what_would(collection: Collection, tmp_path: Path) -> None:
    take_in(collection, tmp_path, "tree.ged", TREE)
    newer = TREE.replace("2 DATE ABT 1919", "2 DATE 3 MAY 1919").replace(
        "0 @I3@ INDI\n1 NAME Joe", "0 @I3@ INDI\n1 NAME Jo"
    )
    newer = newer.replace("1 CHIL @I3@\n", "").replace("0 @F1@", "0 @I4@ INDI\n1 NAME Liv /Weber/\n0 @F1@")
    (tmp_path / "tree.ged").write_text(newer, encoding="utf-8")
    before = dump(collection)
    plan = difference(collection, tmp_path / "tree.ged").plan
    assert dump(collection) == before
    assert [one.heading for one in plan.new] == ["Liv Weber"]
    assert {one.heading: one.words for one in plan.changed} == {
        "Joe Weber, born about 1919": "now born 3 May 1919; no longer born about 1919",
        "Joe Weber, born 1950": "now born as Jo Weber; no longer born as Joe Weber",
    }
    assert plan.gone == ()
    assert {(one.person, one.how) for one in plan.kin_gone} == {
        ("Anna Moor", How.PARENT),
        ("Joe Weber, born about 1919", How.PARENT),
    }
    take_in_people(collection, tmp_path / "tree.ged")
    joe = collection.catalogue.person("Joe Weber, born about 1919")
    assert joe is not None
    assert joe.born == "1919-05-03"
    said = collection.catalogue.said_of_person(joe.name, withdrawn=True)
    assert [(one.value, one.withdrawn is None) for one in said if one.says is Says.BORN] == [
        ("1919~", False),
        ("1919-05-03", True),
    ]


def test_who_is_gone_from_a_file_stays_and_is_told(collection: Collection, tmp_path: Path) -> None:
    take_in(collection, tmp_path, "tree.ged", TREE)
    before = dump(collection)
    start, end = TREE.index("0 @I1@"), TREE.index("0 @I2@")
    shorter = take_in(collection, tmp_path, "tree.ged", TREE[:start] + TREE[end:])
    assert shorter.difference.plan.gone == ("Anna Moor",)
    assert dump(collection) == before


def test_a_file_that_is_cut_off_takes_nothing_back(collection: Collection, tmp_path: Path) -> None:
    take_in(collection, tmp_path, "tree.ged", TREE)
    before = dump(collection)
    done = take_in(collection, tmp_path, "tree.ged", TREE[: TREE.index("0 @I2@")])
    assert done.difference.plan.gone == ()
    assert dump(collection) == before
    assert "cut off" in done.set_aside[0]


def test_two_files_may_disagree_and_both_stay(collection: Collection, tmp_path: Path) -> None:
    uid = "1 UID f81d4fae-7dec-11d0-a765-00a0c91e6bf6"
    text = f"0 HEAD\n1 GEDC\n2 VERS 7.0\n0 @I1@ INDI\n1 NAME Anna /Moor/\n{uid}\n1 BIRT\n2 DATE {{}}\n0 TRLR\n"
    take_in(collection, tmp_path, "one.ged", text.format("1921"))
    other = take_in(collection, tmp_path, "two.ged", text.format("ABT 1922"))
    assert [one.heading for one in other.difference.plan.changed] == ["Anna Moor"]
    (anna,) = collection.catalogue.people()
    assert anna.born == "1922~", "of equally sure ones the newest"
    live = collection.catalogue.said_of_person("Anna Moor")
    assert [(one.source, one.value) for one in live if one.says is Says.BORN] == [
        ("one.ged", "1921"),
        ("two.ged", "1922~"),
    ]
    before = dump(collection)
    take_in(collection, tmp_path, "one.ged", text.format("1921"))
    assert dump(collection) == before


def test_a_number_that_now_is_somebody_else_is_somebody_else(collection: Collection, tmp_path: Path) -> None:
    """GEDCOM 7, 1.5 (from memory): cross-reference identifiers may change between exports."""
    take_in(collection, tmp_path, "tree.ged", TREE)
    swapped = TREE.replace("@I1@", "@X@").replace("@I2@", "@I1@").replace("@X@", "@I2@")
    plan = difference_of(collection, tmp_path, swapped).plan
    assert all(one.came == one.went == () for one in plan.changed)
    assert (plan.new, plan.gone) == ((), ())


def difference_of(collection: Collection, folder: Path, text: str) -> object:
    (folder / "tree.ged").write_text(text, encoding="utf-8")
    return difference(collection, folder / "tree.ged")


def test_a_tree_that_was_numbered_anew_gives_nobody_twice(collection: Collection, tmp_path: Path) -> None:
    take_in(collection, tmp_path, "tree.ged", TREE)
    before = collection.catalogue.people()
    anew = TREE.replace("@I1@", "@X@").replace("@I3@", "@I1@").replace("@I2@", "@I3@").replace("@X@", "@I2@")
    done = take_in(collection, tmp_path, "tree.ged", anew)
    plan = done.difference.plan
    assert (plan.new, plan.gone, plan.kin_new, plan.kin_gone) == ((), (), (), ())
    assert {change.words for change in plan.changed} == {"has another number there"}
    assert [one.name for one in collection.catalogue.people()] == [one.name for one in before]
    assert {one.name: one.known_as for one in collection.catalogue.people()} == {
        "Anna Moor": ("tree.ged#@I2@",),
        "Joe Weber, born about 1919": ("tree.ged#@I3@",),
        "Joe Weber, born 1950": ("tree.ged#@I1@",),
    }
    assert difference(collection, tmp_path / "tree.ged").plan.is_empty


def test_two_who_are_told_alike_are_not_known_again_without_their_number(
    collection: Collection, tmp_path: Path
) -> None:
    alike = TREE.replace("2 DATE ABT 1919", "2 DATE 1950")
    take_in(collection, tmp_path, "tree.ged", alike)
    anew = alike.replace("@I2@", "@I8@").replace("@I3@", "@I9@")
    plan = difference(collection, tmp_path / "tree.ged").plan
    assert plan.is_empty
    (tmp_path / "tree.ged").write_text(anew, encoding="utf-8")
    plan = difference(collection, tmp_path / "tree.ged").plan
    assert (len(plan.new), len(plan.gone)) == (2, 2)


def test_what_was_shown_is_what_is_done(collection: Collection, tmp_path: Path) -> None:
    (tmp_path / "tree.ged").write_text(TREE, encoding="utf-8")
    shown = difference(collection, tmp_path / "tree.ged")
    (tmp_path / "tree.ged").write_text(TREE.replace("1921", "1922"), encoding="utf-8")
    with pytest.raises(Trouble, match="it or the collection has changed since"):
        take_in_people(collection, tmp_path / "tree.ged", expecting=shown.mark)
    assert collection.catalogue.people() == []
    shown = difference(collection, tmp_path / "tree.ged")
    assert take_in_people(collection, tmp_path / "tree.ged", expecting=shown.mark).count == 3


def test_undo_takes_all_of_it_back(collection: Collection, tmp_path: Path) -> None:
    before = dump(collection)
    take_in(collection, tmp_path, "tree.ged", TREE)
    assert collection.catalogue.undo("archivist") == "took in people from tree.ged"
    assert dump(collection) == before


# -- who may be one ------------------------------------------------------------------------------------------

BOOK = """BEGIN:VCARD
FN:Anna Moor
NICKNAME:Nan
BDAY:1921
END:VCARD
BEGIN:VCARD
FN:Joe Weber
BDAY:1980
END:VCARD
"""


def test_nobody_is_joined_and_who_may_be_one_is_asked(collection: Collection, tmp_path: Path) -> None:
    take_in(collection, tmp_path, "tree.ged", TREE)
    done = take_in(collection, tmp_path, "book.vcf", BOOK)
    assert [one.heading for one in done.difference.plan.new] == ["Anna Moor, born 1921", "Joe Weber"]
    (question,) = waiting(collection)
    assert done.questions == 1, "two of 1919 and 1950 can't be one of 1980"
    assert asked_about(question) == ("Anna Moor, born 1921", "Anna Moor")
    assert question.sentence == (
        "Anna Moor, born 1921 and Anna Moor may be one person: both are called Anna Moor; "
        "both born 1921 or 12 March 1921. Are they?"
    )


def test_joining_keeps_everything_and_can_be_undone(collection: Collection, tmp_path: Path) -> None:
    take_in(collection, tmp_path, "tree.ged", TREE)
    take_in(collection, tmp_path, "book.vcf", BOOK)
    before = dump(collection)
    newcomer, known = asked_about(waiting(collection)[0])
    join_people(collection, known, newcomer)
    anna = collection.catalogue.person("Anna Moor")
    assert anna is not None
    assert "Nan" in anna.also_called
    assert anna.known_as == ("tree.ged#@I1@", "book.vcf#Anna Moor")
    assert collection.catalogue.person(newcomer) is None
    assert waiting(collection) == []
    sources = {one.source for one in collection.catalogue.said_of_person("Anna Moor")}
    assert {"tree.ged", "book.vcf"} <= sources
    assert take_in(collection, tmp_path, "book.vcf", BOOK).difference.plan.is_empty
    assert take_in(collection, tmp_path, "tree.ged", TREE).difference.plan.is_empty
    collection.catalogue.undo("archivist")
    assert dump(collection) == before


def test_kin_go_along_when_two_are_joined(collection: Collection, tmp_path: Path) -> None:
    take_in(collection, tmp_path, "tree.ged", TREE)
    take_in(collection, tmp_path, "list.txt", "Anna Moor-Weber; her mother Ingrid Moor\n")
    join_people(collection, "Anna Moor-Weber", "Anna Moor")
    kin = collection.catalogue.kin(["Anna Moor-Weber"])
    assert Kin("Anna Moor-Weber", How.PARENT, "Joe Weber, born 1950", "", "tree.ged") in kin
    assert Family(kin).parents("Anna Moor-Weber") == ("Ingrid Moor",)
    assert collection.catalogue.kin(["Anna Moor"]) == []


def test_two_people_are_not_asked_about_again(collection: Collection, tmp_path: Path) -> None:
    take_in(collection, tmp_path, "tree.ged", TREE)
    take_in(collection, tmp_path, "book.vcf", BOOK)
    say_two_people(collection, waiting(collection)[0])
    assert waiting(collection) == []
    take_in(collection, tmp_path, "book.vcf", BOOK.replace("NICKNAME:Nan\n", ""))
    assert waiting(collection) == []
    collection.catalogue.undo("archivist")
    collection.catalogue.undo("archivist")
    assert len(waiting(collection)) == 1


# -- lists ---------------------------------------------------------------------------------------------------


def test_a_list_speaks_by_heading_of_those_who_came_from_lists(collection: Collection, tmp_path: Path) -> None:
    take_in(collection, tmp_path, "one.csv", "name,born\nLiv,1911\n")
    take_in(collection, tmp_path, "two.csv", "name,died\nLiv,1967\n")
    assert collection.catalogue.people() == [Person("Liv", (), "1911", "1967")]
    take_in(collection, tmp_path, "two.csv", "name,died\nLiv,\n")
    assert collection.catalogue.people() == [Person("Liv", (), "1911", "")]


def test_a_list_does_not_speak_of_somebody_in_a_tree(collection: Collection, tmp_path: Path) -> None:
    take_in(collection, tmp_path, "tree.ged", TREE)
    done = take_in(collection, tmp_path, "list.csv", "name,born\nAnna Moor,1921\n")
    assert [one.heading for one in done.difference.plan.new] == ["Anna Moor, born 1921"]
    newcomer, known = asked_about(waiting(collection)[0])
    join_people(collection, known, newcomer)
    again = take_in(collection, tmp_path, "list.csv", "name,born\nAnna Moor,1922\n")
    assert [one.heading for one in again.difference.plan.changed] == ["Anna Moor"], "now the list means her"


def test_what_is_no_file_of_people_begins_nothing(collection: Collection, tmp_path: Path) -> None:
    (tmp_path / "photo.ged").write_bytes(b"\xff\xd8\xff\xe0")
    with pytest.raises(CannotBegin, match="it is a picture"):
        take_in_people(collection, tmp_path / "photo.ged")
    assert collection.catalogue.last_change() == 0 or collection.catalogue.people() == []
