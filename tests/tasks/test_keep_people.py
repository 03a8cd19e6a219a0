"""What is said of people in the workbench, what is taken back of it, and what goes along when two are joined."""

from __future__ import annotations

from solander.core.first_words import FirstWords
from solander.core.people import NameKind, Person
from solander.core.prints import Print
from solander.core.questions import Asks
from solander.core.statements import About, Says, Statement, Sure
from solander.tasks.collection import Collection
from solander.tasks.first_words_kept import first_words_of, keep_first_words
from solander.tasks.keep_people import new_person, say_date, say_name, withdraw_said
from solander.tasks.same_person import join_people


def person(collection: Collection, name: str) -> Person:
    found = collection.catalogue.person(name)
    assert found is not None
    return found


def said_of(collection: Collection, name: str) -> list[Statement]:
    return collection.catalogue.said_of_person(name)


def described(collection: Collection, person: str, date: str, *, dated_as: str = "") -> None:
    """One print that shows a person, with a date."""
    with collection.catalogue.act("test", "print") as act, act.work() as work:
        work.add_print(Print("P-0001", None, 1, ()))
        for says, value, words in ((Says.PERSON, person, person), (Says.EXPOSURE, date, dated_as or date)):
            said = Statement(says, About.PRINT, "P-0001", says, value, words, Sure.CERTAIN, "slip", "2026-01-01")
            work.state(said)
        work.commit()


def test_a_name_that_two_said_stays_when_one_takes_it_back(collection: Collection) -> None:
    new_person(collection, "Ada Holm")
    say_name(collection, "Ada Holm", "Nan", NameKind.NICKNAME, source="Ingrid")
    say_name(collection, "Ada Holm", "Nan", NameKind.NICKNAME, source="Karl")
    first, second = said_of(collection, "Ada Holm")
    withdraw_said(collection, "Ada Holm", first.id)
    assert person(collection, "Ada Holm").also_called == ("Nan",)
    withdraw_said(collection, "Ada Holm", second.id)
    assert person(collection, "Ada Holm") == Person("Ada Holm")


def test_what_stood_without_a_source_stays_when_something_else_is_taken_back(collection: Collection) -> None:
    old = Person("Ada Holm", ("Nan",), "1921", "", sex="female", born_at="Lyngfjell", known_as=("a.ged#I1",))
    with collection.catalogue.act("test", "list") as act, act.work() as work:
        work.keep_person(old)
        work.commit()
    say_name(collection, "Ada Holm", "Ada Berg", NameKind.MARRIED)
    (said,) = said_of(collection, "Ada Holm")
    withdraw_said(collection, "Ada Holm", said.id)
    assert person(collection, "Ada Holm") == old


def test_what_else_is_told_of_somebody_can_be_taken_back_as_well(collection: Collection) -> None:
    told = Statement(
        "", About.PERSON, "Ada Holm", Says.BORN_AT, "Lyngfjell", "Lyngfjell", Sure.CERTAIN, "a.ged", "2026-01-01"
    )
    with collection.catalogue.act("test", "tree") as act, act.work() as work:
        work.enter_people([(Person("Ada Holm", born_at="Lyngfjell"), (told,))])
        work.commit()
    withdraw_said(collection, "Ada Holm", said_of(collection, "Ada Holm")[0].id)
    assert person(collection, "Ada Holm").born_at == ""
    collection.catalogue.undo("archivist")
    assert person(collection, "Ada Holm").born_at == "Lyngfjell"


def test_first_words_follow_the_one_who_stays(collection: Collection) -> None:
    for name in ("Ada Holm", "Ada Holm, born 1921"):
        new_person(collection, name)
    with collection.catalogue.act("test", "first words") as act, act.work() as work:
        keep_first_words(work, FirstWords("Ada Holm, born 1921"))
        work.commit()
    join_people(collection, "Ada Holm", "Ada Holm, born 1921")
    assert first_words_of(collection.catalogue).teller == "Ada Holm"
    collection.catalogue.undo("archivist")
    assert first_words_of(collection.catalogue).teller == "Ada Holm, born 1921"


def test_what_can_not_be_true_of_the_one_is_asked_when_two_are_joined(collection: Collection) -> None:
    for name in ("Ada Holm", "Nan"):
        new_person(collection, name)
    say_date(collection, "Nan", Says.BORN, "1930")
    described(collection, "Ada Holm", "1921")
    assert [one for one in collection.catalogue.questions() if one.asks is Asks.CONTRADICTION] == []
    join_people(collection, "Ada Holm", "Nan")
    (asked,) = [one for one in collection.catalogue.questions() if one.asks is Asks.CONTRADICTION]
    assert asked.subject == "P-0001"


def test_dates_that_a_life_tells_are_read_again_when_two_are_joined(collection: Collection) -> None:
    for name in ("Ada Holm", "Nan"):
        new_person(collection, name)
    say_date(collection, "Ada Holm", Says.BORN, "1921", sure=Sure.LIKELY)
    say_date(collection, "Nan", Says.BORN, "1930")
    words = "when Ada Holm was six"
    described(collection, "Nan", "[1927-01-01..1928-12-30]", dated_as=words)
    join_people(collection, "Ada Holm", "Nan")
    (said,) = [one for one in collection.catalogue.statements() if one.says is Says.EXPOSURE]
    assert (said.value, said.words) == ("[1936-01-01..1937-12-30]", words)
