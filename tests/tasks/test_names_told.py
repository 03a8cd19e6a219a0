"""People and places with their prints: the same that the slips show, in the order of time, and not all prints are
read for it."""

from __future__ import annotations

from pathlib import Path

import pytest
from told_prints import say, take_in

from solander.core.people import Person
from solander.core.statements import About, Says, Sure
from solander.tasks import show
from solander.tasks.collection import Collection
from solander.tasks.described import described
from solander.tasks.people_told import PeopleTold
from solander.tasks.places_told import PlacesTold
from solander.tasks.show import Shown
from solander.tasks.standing import keep_all


@pytest.fixture
def told(collection: Collection) -> Collection:
    """Prints with one and several people and places, said of them and of their occasion, more and less surely."""
    one, two, three, four, _ = take_in(collection, "B1", 5)
    with collection.catalogue.act("test", "named somebody") as act, act.work() as work:
        work.enter_people([(Person("Ingrid Solvang", ("Mormor",)), ())])
        work.commit()
    for number, year in ((one, "1958"), (two, "1931"), (four, "1940")):
        say(collection, number, Says.EXPOSURE, year)
    for number, name in ((one, "Mormor"), (one, "Ingrid Solvang"), (two, "Ingrid Solvang"), (three, "Nils")):
        say(collection, number, Says.PERSON, name)
    for number in (one, two, three):
        say(collection, number, Says.OCCASION, "Outing")
    say(collection, "Outing", Says.PLACE, "Bergen", about=About.OCCASION, sure=Sure.LIKELY)
    say(collection, one, Says.PLACE, "Vessholm", sure=Sure.LIKELY)
    say(collection, two, Says.PLACE, "Vessholm", sure=Sure.GUESS)
    say(collection, four, Says.PLACE, "Oslo", sure=Sure.GUESS)
    say(collection, four, Says.PLACE, "Tromsø")
    keep_all(collection)
    return collection


def test_people_and_places_have_the_prints_whose_slips_show_them(told: Collection) -> None:
    shown = Shown(told)
    prints = described(told)
    people, places = PeopleTold(shown), PlacesTold(shown)
    names = {person.person.name for one in prints for person in one.people}
    assert names == {"Ingrid Solvang", "Nils"}
    for name in names:
        theirs = [one for one in prints if name in [person.person.name for person in one.people]]
        assert list(people.told(name).prints) == [one.print.accession for one in theirs]
        years = [int(one.when.guess[:4]) for one in theirs if one.when.guess]
        assert list(people.told(name).years) == years
    there = {one.place.name for one in prints if one.place}
    assert there == {"Vessholm", "Bergen", "Tromsø"}
    for name in there:
        theirs = [one.print.accession for one in prints if one.place and one.place.name == name]
        assert list(places.place(name).prints) == theirs
    assert sum(places.placeless.values()) == sum(one.place is None for one in prints) == 1


def test_a_person_comes_with_some_prints_and_when_each_is_of(told: Collection) -> None:
    shown = Shown(told)
    prints = {one.print.accession: one for one in described(told)}
    alone = PeopleTold(shown).alone("Ingrid Solvang", most=1)
    assert [one.print.accession for one in alone.prints] == list(alone.told.prints[:1])
    assert [number for number, _ in alone.whens] == list(alone.told.prints)
    assert all(when == prints[number].when for number, when in alone.whens)


def test_no_list_of_names_reads_all_prints(told: Collection, monkeypatch: pytest.MonkeyPatch) -> None:
    """With 100,000 prints that took 26 s."""
    monkeypatch.setattr(show, "described_kept", lambda _: pytest.fail("all prints were read"))
    shown = Shown(told)
    assert PeopleTold(shown).page().lines
    assert PlacesTold(shown).page().lines


def test_names_follow_when_the_order_is_worked_out_though_nothing_was_written(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with Collection.create(tmp_path / "box") as collection:
        (accession,) = take_in(collection, "B1", 1)
        say(collection, accession, Says.PLACE, "Vessholm")
        say(collection, accession, Says.PERSON, "Nils")
        say(collection, accession, Says.EXPOSURE, "1931")
        shown = Shown(collection)
        people, places = PeopleTold(shown), PlacesTold(shown)
        with monkeypatch.context() as at_first:
            at_first.setattr(Shown, "settle", lambda self: None)
            (nils,), (there,) = people.called("Nils"), places.all()
            assert (nils.prints, nils.years, there.undated) == ((accession,), (), 1)
        (nils,), (there,) = people.called("Nils"), places.all()
        assert (nils.years, there.years, there.undated) == ((1931,), ((1931, 1),), 0)
