"""Names on slips: understood where clear, asked where not, answered by one key, taken back."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from pathlib import Path

import pytest

from solander.catalogue.store import Act
from solander.core.errors import InvalidValue, NotFound
from solander.core.first_words import FirstWords
from solander.core.kin import How, Kin
from solander.core.people import Person
from solander.core.prints import Print
from solander.core.questions import Asks
from solander.core.statements import Says
from solander.intake.slips import SlipFile, SlipRow
from solander.tasks.collection import Collection
from solander.tasks.describe import apply_slips
from solander.tasks.described import described
from solander.tasks.first_words_kept import keep_first_words
from solander.tasks.stand_ins import name_stand_in
from solander.tasks.who_is_it import WhoDesk, ask_about_names, mean_person

pytestmark = pytest.mark.slow

ANNA, JOE, KARL = "Anna Weber", "Joseph Weber", "Karl Weber"
PEOPLE = [
    Person(ANNA, born="1950-04-02", sex="female"),
    Person(JOE, born="1920-06-01", died="1980", sex="male"),
    Person("Joseph Holm", born="1922", died="1990", sex="male"),
    Person(KARL, born="1918", sex="male"),
    Person("Ingrid Holm", born="1921", sex="female", also_called=("Nan",)),
    Person("Ruth Weber", born="1947-05-05", sex="female"),
    Person("Paul Weber", born="1947-05-05", sex="male"),
    Person("Heinrich Weber", born="1890", sex="male"),
]
KIN = [
    *(Kin(one, How.PARENT, ANNA) for one in (KARL, "Ingrid Holm")),
    *(Kin("Heinrich Weber", How.PARENT, child) for child in (KARL, JOE)),
    *(Kin(JOE, How.PARENT, child) for child in ("Ruth Weber", "Paul Weber")),
]
Enter = Callable[..., Sequence[str]]


@pytest.fixture
def tree(tmp_path: Path) -> Iterator[Collection]:
    """A collection that knows a family, seen from Anna, and three prints, without their pictures."""
    with Collection.create(tmp_path / "collection") as collection:
        with collection.catalogue.act("test", "began") as act, act.work() as work:
            for person in PEOPLE:
                work.keep_person(person)
            for kin in KIN:
                work.keep_kin(kin)
            keep_first_words(work, FirstWords(ANNA))
            for number in (1, 2, 3):
                work.add_print(Print(f"P-000{number}", None, number))
            work.commit()
        yield collection


@pytest.fixture
def enter(tree: Collection, monkeypatch: pytest.MonkeyPatch) -> Enter:
    """Enters slips: file `1` is the first print, `2` the second, `3` the third."""
    monkeypatch.setattr("solander.tasks.describe._Desk._accessions", lambda _, file: [f"P-000{file}"])

    def entered(*rows: SlipRow) -> Sequence[str]:
        slips = SlipFile(rows, columns=("file", "people", "date", "source"))
        with tree.catalogue.act("test", "entered slips") as act:
            return apply_slips(tree, act, slips, name="box.csv", arrived={})

    return entered


def row(line: int, *people: str, date: str = "1958", source: str = "", file: str = "1") -> SlipRow:
    return SlipRow(line, file=file, date=date, people=people, source=source)


def shown(collection: Collection, subject: str = "P-0001") -> list[tuple[str, str]]:
    statements = collection.catalogue.statements(subject=subject)
    return [(one.words, one.value) for one in statements if one.says is Says.PERSON]


def who_asked(collection: Collection) -> list[str]:
    return [one.sentence for one in collection.catalogue.questions() if one.asks is Asks.WHO]


def test_who_is_clear_is_understood_and_kept_as_written(tree: Collection, enter: Enter) -> None:
    enter(row(2, "Uncle Joe", "my father"))
    assert shown(tree) == [("Uncle Joe", JOE), ("my father", KARL)]
    assert who_asked(tree) == []


def test_ages_stand_beside_the_names_on_the_print(tree: Collection, enter: Enter) -> None:
    enter(row(2, "Uncle Joe", date="6 July 1958"))
    (told,) = described(tree)[:1]
    assert [(one.person.name, one.age) for one in told.people] == [(JOE, "38")]


def test_several_in_one_cell_are_several_people(tree: Collection, enter: Enter) -> None:
    enter(row(2, "Nan + Uncle Joe and the twins"))
    assert sorted(shown(tree)) == [
        ("Nan", "Ingrid Holm"),
        ("Uncle Joe", JOE),
        ("the twins", "Paul Weber"),
        ("the twins", "Ruth Weber"),
    ]


def test_an_age_is_that_of_who_was_understood(tree: Collection, enter: Enter) -> None:
    enter(row(2, "Annie (8)"))
    ages = [one.value for one in tree.catalogue.statements(subject="P-0001") if one.says is Says.AGE]
    assert ages == [f"{ANNA}|8..8"]


def test_two_who_fit_alike_are_asked_about(tree: Collection, enter: Enter) -> None:
    enter(row(2, "Joe"))
    assert shown(tree) == [("Joe", "Joe")]
    (asked,) = who_asked(tree)
    assert asked.startswith(
        "“Joe” on the slip of P-0001: is it Joseph Weber (Joe and Joseph are forms of one name, "
    )
    assert "was 37 or 38 then) or Joseph Holm" in asked
    assert tree.catalogue.person("Joe") is None, "no person is made of a name that is not understood"


def test_one_answer_settles_the_same_words_on_all_prints(tree: Collection, enter: Enter) -> None:
    enter(row(2, "Joe (36 or 37)"), row(3, "Joe", file="2"), row(4, "Joe", source="Aunt Vera", file="3"))
    desk = WhoDesk(tree)
    asked = desk.asked()
    assert len(asked) == 3
    first = next(iter(asked.values()))
    assert [one.person.name for one in first.candidates][:2] == [JOE, "Joseph Holm"]
    done = desk.answer(first.question.key, [JOE])
    assert (done.accession, done.prints) == ("P-0001", 2)
    assert shown(tree) == [("Joe (36 or 37)", JOE)]
    assert shown(tree, "P-0002") == [("Joe", JOE)]
    assert shown(tree, "P-0003") == [("Joe", "Joe")], "Aunt Vera may mean another Joe"
    ages = [one.value for one in tree.catalogue.statements(subject="P-0001") if one.says is Says.AGE]
    assert ages == [f"{JOE}|36..37"]
    assert desk.sitting.done(done.act) == "“Joe” is Joseph Weber"
    desk.sitting.undo(done.act)
    assert len(who_asked(tree)) == 3
    assert shown(tree) == [("Joe (36 or 37)", "Joe")]


def test_an_answer_outlives_the_same_slips_again(tree: Collection, enter: Enter) -> None:
    enter(row(2, "Joe"))
    (key,) = WhoDesk(tree).asked()
    mean_person(tree, key, ["Joseph Holm"])
    enter(row(2, "Joe"))
    assert shown(tree) == [("Joe", "Joseph Holm")]
    assert who_asked(tree) == []


def test_what_a_teller_meant_once_holds_for_later_prints(tree: Collection, enter: Enter) -> None:
    enter(row(2, "Joe"))
    (key,) = WhoDesk(tree).asked()
    mean_person(tree, key, ["Joseph Holm"])
    enter(row(2, "Joe"), row(3, "Joe", file="2"))
    assert shown(tree, "P-0002") == [("Joe", "Joseph Holm")]
    enter(row(2, "Joe"), row(3, "Joe", file="2", date="1995"))
    assert who_asked(tree) == [], "what was understood of a print holds as long as its words stay"


def test_nobody_who_is_known_is_a_question_too(tree: Collection, enter: Enter) -> None:
    enter(row(2, "Ebenezer Scrooge"))
    assert who_asked(tree) == [
        "“Ebenezer Scrooge” on the slip of P-0001: nobody is known by that name. Who is it?"
    ]
    (key,) = WhoDesk(tree).asked()
    mean_person(tree, key, [])
    assert tree.catalogue.person("Ebenezer Scrooge") == Person("Ebenezer Scrooge")
    assert shown(tree) == [("Ebenezer Scrooge", "Ebenezer Scrooge")]
    enter(row(2, "Ebenezer Scrooge"))
    assert who_asked(tree) == []


def test_a_name_that_nobody_has_is_asked_about_once(tree: Collection, enter: Enter) -> None:
    enter(row(2, "Bunty"), row(3, "Bunty (40)", file="2"), row(4, "Bunty", file="3", date="1990"))
    assert len(who_asked(tree)) == 1
    (key,) = WhoDesk(tree).asked()
    done = mean_person(tree, key, [JOE])
    assert done.prints == 2, "Joe had died in 1990"
    assert (shown(tree), shown(tree, "P-0002")) == ([("Bunty", JOE)], [("Bunty (40)", JOE)])
    assert shown(tree, "P-0003") == [("Bunty", "Bunty")]
    assert [one.subject for one in tree.catalogue.questions() if one.asks is Asks.WHO] == ["P-0003"]


def test_an_answer_may_be_typed(tree: Collection, enter: Enter) -> None:
    enter(row(2, "Bunty"))
    desk = WhoDesk(tree)
    (key,) = desk.asked()
    with pytest.raises(InvalidValue, match="it is not clear who that is"):
        desk.answer(key, ["Joe"])
    desk.answer(key, ["Uncle Joe"])
    assert shown(tree) == [("Bunty", JOE)]


def test_seen_from_who_says_it(tree: Collection, enter: Enter) -> None:
    enter(row(2, "my father", source="Ruth Weber"))
    assert shown(tree) == [("my father", JOE)]


def test_a_corrected_cell_asks_no_more(tree: Collection, enter: Enter) -> None:
    enter(row(2, "Joe"))
    enter(row(2, "Uncle Joe"))
    assert who_asked(tree) == []
    assert shown(tree) == [("Uncle Joe", JOE)]


def test_where_nobody_is_listed_a_name_is_a_person(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with Collection.create(tmp_path / "empty") as collection:
        with collection.catalogue.act("test", "began") as act, act.work() as work:
            work.add_print(Print("P-0001", None, 1))
            work.commit()
        monkeypatch.setattr("solander.tasks.describe._Desk._accessions", lambda _, file: [f"P-000{file}"])
        slips = SlipFile((row(2, "Uncle Joe", "Mr and Mrs Weber"),), columns=("file", "people", "date"))
        with collection.catalogue.act("test", "entered slips") as act:
            apply_slips(collection, act, slips, name="box.csv", arrived={})
        assert [one.name for one in collection.catalogue.people()] == ["Mr and Mrs Weber", "Uncle Joe"]
        assert who_asked(collection) == []
        _take_in_the_tree(collection)
        with collection.catalogue.act("test", "asked") as act:
            count = _asked(collection, act)
        assert count == 1
        assert who_asked(collection)[0].startswith(
            "“Uncle Joe” on the slip of P-0001: is it Joseph Weber (uncle of"
        )


def _take_in_the_tree(collection: Collection) -> None:
    with collection.catalogue.act("test", "took in a tree") as act, act.work() as work:
        for person in PEOPLE:
            work.keep_person(person)
        for kin in KIN:
            work.keep_kin(kin)
        keep_first_words(work, FirstWords(ANNA))
        work.commit()


def _asked(collection: Collection, act: Act) -> int:
    with act.work() as work:
        count = ask_about_names(collection, work)
        work.commit()
    return count


def test_a_stand_in_is_nobody_to_ask_about_and_follows_its_name(tree: Collection, enter: Enter) -> None:
    enter(row(2, "unknown person 12", "Uncle Joe"))
    assert shown(tree) == [("unknown person 12", "Unknown person 12"), ("Uncle Joe", JOE)]
    assert who_asked(tree) == []
    with tree.catalogue.act("test", "named") as act, act.work() as work:
        assert name_stand_in(tree, work, 12, KARL) == 1
        work.commit()
    assert ("unknown person 12", KARL) in shown(tree)
    tree.catalogue.undo("test")
    assert ("unknown person 12", "Unknown person 12") in shown(tree)


def test_only_what_waits_can_be_answered(tree: Collection, enter: Enter) -> None:
    with pytest.raises(NotFound, match="waits no more"):
        mean_person(tree, "0" * 16, [JOE])
    enter(row(2, "Joe"))
    (key,) = WhoDesk(tree).asked()
    with pytest.raises(NotFound, match="Nobody is called “Joe Bloggs”"):
        mean_person(tree, key, ["Joe Bloggs"])
