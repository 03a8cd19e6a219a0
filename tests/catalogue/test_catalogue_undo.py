"""Undo takes the last act back, whole, or says what stands in the way; captures stay."""

from __future__ import annotations

from collections.abc import Callable

import made_records as made
import pytest
from attrs import evolve
from hypothesis import given, settings
from hypothesis import strategies as st

from solander.catalogue.store import Catalogue
from solander.catalogue.work import Work
from solander.core.errors import NotFound, Trouble
from solander.core.kin import How, Kin
from solander.core.occasions import Occasion
from solander.core.people import Name, NameKind, Person
from solander.core.places import Place
from solander.core.prints import Condition, Container, Side
from solander.core.statements import About, Says
from solander.core.treatments import Step, Treatment

Kind = Callable[[Work], None]


def _do(catalogue: Catalogue, what: str, *kinds: Kind) -> None:
    with catalogue.act("Ada", what) as act, act.work() as work:
        for kind in kinds:
            kind(work)
        work.commit()


def _describe(work: Work) -> None:
    work.keep_person(Person("Ida", ("Granny",)))
    for name in ("Bo", "Ulla"):
        work.keep_person(Person(name))
    work.keep_kin(Kin("Ida", How.PARENT, "Ulla"))
    work.keep_place(Place("Vik"))
    work.set("stage", "grey")
    work.state(made.a_statement("old", "B1-0002", Says.CAPTION, "On the lake"))
    work.state(made.a_statement("his", "B1-0003", Says.PERSON, "Ida"))
    work.state(made.a_statement("its", "B1-0003", Says.OCCASION, "Midsummer"))
    work.ask(made.a_question("open", "B1-0002"))


def _turn_round(work: Work) -> None:
    once, twice = made.a_view(1, turn=1), made.a_view(1, turn=2)
    for old, new in ((made.a_view(1), once), (once, twice), (twice, made.a_view(1))):
        work.replace_view("B1-0001", old, new)


KINDS: dict[str, Kind] = {
    "container": lambda work: work.add_container(Container("B7/E1", "Letters")),
    "page as found": lambda work: work.add_container(Container("A1/P3", captures=("a" * 64, "b" * 64))),
    "title": lambda work: work.add_container(Container("B1", "Grandfather's box")),
    "print": lambda work: work.add_print(made.a_print(4, "B3", (made.a_view(4), made.a_view(5, side=Side.VERSO)))),
    "view": lambda work: work.add_view("B1-0001", made.a_view(6, side=Side.VERSO)),
    "redone": lambda work: work.replace_view("B1-0001", made.a_view(1), made.a_view(1, left=3.0)),
    "turned": _turn_round,
    "treated": lambda work: work.set_treatment(
        made.a_view(1).key, Treatment.of([Step("density", {"by": 0.1}, who="Ada", reason="it is pale")])
    ),
    "taken out": lambda work: work.take_out_view("B1-0002", made.a_view(2)),
    "pairing": lambda work: work.join_back("B1-0002", "B1-0003"),
    "condition": lambda work: work.set_condition(made.a_view(2).key, Condition(1.0, 0.0, 0.0, "0" * 16)),
    "occasion": lambda work: work.keep_occasion(Occasion("Harvest")),
    "person": lambda work: work.keep_person(Person("Ole")),
    "alias": lambda work: work.keep_person(Person("Ida", ("Old Ida",), "1901")),
    "more of a person": lambda work: work.keep_person(
        evolve(Person("Ida"), names=(Name("Ida Holm", NameKind.BIRTH, "Holm"),), sex="female", born_at="Vik"),
        [made.a_statement("x", "Ida", Says.BORN, "1901", about=About.PERSON)],
    ),
    "several people": lambda work: work.enter_people([(Person("Per"), ()), (Person("Pål"), ())]),
    "a person removed": lambda work: work.remove_person("Bo"),
    "kin": lambda work: work.keep_kin(Kin("Ida", How.PARENT, "Bo"), Kin.partners("Ida", "Bo")),
    "kin withdrawn": lambda work: work.withdraw_kin(Kin("Ida", How.PARENT, "Ulla")),
    "place": lambda work: work.keep_place(Place("Vik", "NO", 61.0, 6.5, 900.0)),
    "statement": lambda work: work.state(made.a_statement("new", "B1-0002", Says.NOTE, "Sunday")),
    "shared": lambda work: work.state(made.a_statement("s", "Midsummer", Says.PLACE, "Vik", about=About.OCCASION)),
    "withdrawal": lambda work: work.withdraw("old"),
    "question": lambda work: work.ask(made.a_question("new", "B1-0001")),
    "answer": lambda work: work.settle("open"),
    "setting": lambda work: work.set("stage", "white"),
    "first setting": lambda work: work.set("hemisphere", "southern"),
}


@pytest.fixture
def described(box: Catalogue) -> Catalogue:
    """The box with a caption, a person, a place, an occasion, a setting and an open question."""
    _do(box, "described", _describe)
    return box


@pytest.mark.parametrize("kind", KINDS.values(), ids=KINDS.keys())
def test_each_kind_of_work_is_taken_back(described: Catalogue, kind: Kind) -> None:
    before = made.dump(described)
    _do(described, "did it", kind)
    assert made.dump(described) != before
    assert described.undo("Ada") == "did it"
    assert made.dump(described) == before


@pytest.mark.slow
@settings(max_examples=20, deadline=None)
@given(st.lists(st.lists(st.sampled_from(sorted(KINDS)), min_size=1, unique=True), min_size=1, max_size=4))
def test_acts_are_taken_back_one_by_one(plan: list[list[str]]) -> None:
    with made.empty_catalogue() as catalogue:
        _do(catalogue, "took in", *(lambda work, n=n: work.keep_capture(made.a_capture(n)) for n in range(1, 7)))
        _do(catalogue, "numbered", *(_numbered(number) for number in (1, 2, 3)), _describe)
        stages = [made.dump(catalogue)]
        for number, kinds in enumerate(plan):
            try:
                _do(catalogue, f"act {number}", *(KINDS[kind] for kind in kinds))
            except (NotFound, Trouble):
                assert made.dump(catalogue) == stages[-1]
            if catalogue.history(1)[0].act == f"act {number}":
                stages.append(made.dump(catalogue))
        for stage in reversed(stages[:-1]):
            catalogue.undo("Ada")
            assert made.dump(catalogue) == stage


def _numbered(number: int) -> Kind:
    return lambda work: work.add_print(made.a_print(number, views=(made.a_view(number),)))


def test_captures_and_arrivals_stay(box: Catalogue) -> None:
    assert box.undo("Ada") == "took in box"
    assert (box.prints(), box.containers()) == ([], [])
    assert box.captures() == [made.a_capture(number) for number in range(1, 7)]
    assert box.arrived_as("box/1.jpg") == [made.sha(1)]


def test_what_was_taken_back_can_be_done_again(box: Catalogue) -> None:
    before = box.prints()
    box.undo("Ada")
    _do(box, "took in again", *(_numbered(number) for number in (1, 2, 3)))
    assert box.prints() == before


def test_undoing_twice_takes_two_acts_back(described: Catalogue) -> None:
    assert [described.undo("Ada"), described.undo("Ada")] == ["described", "took in box"]
    assert described.prints() == []
    with pytest.raises(Trouble, match="no change is left"):
        described.undo("Ada")


def test_only_the_act_that_is_meant_is_taken_back(box: Catalogue) -> None:
    _do(box, "set", lambda work: work.set("stage", "grey"))
    meant = box.last_act()
    assert meant is not None
    assert meant[1] == "set"
    _do(box, "changed", lambda work: work.set("stage", "white"))
    before = made.dump(box)
    with pytest.raises(Trouble, match="this was done since: changed"):
        box.undo("Ada", only=meant[0])
    assert made.dump(box) == before
    box.undo("Ada")
    assert box.undo("Ada", only=meant[0]) == "set"


def test_an_act_that_only_kept_captures_is_passed_over(box: Catalogue) -> None:
    _do(box, "kept one more", lambda work: work.keep_capture(made.a_capture(9)))
    assert box.undo("Ada") == "took in box"


def test_nothing_can_be_taken_back_from_a_new_collection(catalogue: Catalogue) -> None:
    with pytest.raises(Trouble, match="Nothing was taken back"):
        catalogue.undo("Ada")
    assert catalogue.history() == []


def test_withdrawn_by_undo_a_statement_stays_in_history(described: Catalogue) -> None:
    _do(described, "said", KINDS["statement"])
    described.undo("Ada")
    assert [one.id for one in described.statements(withdrawn=True)] == ["old", "his", "its"]
    removed = described.history(1)[0]
    assert (removed.action, removed.key, removed.before["value"]) == ("delete", "new", "Sunday")  # type: ignore[index]


def _meanwhile(catalogue: Catalogue, first: Kind, between: Kind, last: Kind) -> None:
    """A long act, another person's act in the middle of it, and the long act going on."""
    with catalogue.act("Ada", "took in more") as long:
        with long.work() as work:
            first(work)
            work.commit()
        with catalogue.act("Bo", "looked at it") as short, short.work() as work:
            between(work)
            work.commit()
        with long.work() as work:
            last(work)
            work.commit()


def _blank_view(work: Work) -> None:
    work.set_condition(made.a_view(4).key, Condition(9.0, 0.0, 0.0, "f" * 16))


IN_THE_WAY = {
    "the same row": (_blank_view, "“looked at it” changed the view"),
    "a row that needs it": (
        lambda work: work.add_view("B3-0004", made.a_view(6, left=9.0)),
        "the view .* came later and needs one of its prints",
    ),
    "something said of it": (
        lambda work: work.state(made.a_statement("late", "B3-0004", Says.NOTE, "torn")),
        "something was said about the print B3-0004 afterwards",
    ),
    "a question about it": (
        lambda work: work.ask(made.a_question("late", "B3-0004")),
        "a question was raised about the print B3-0004",
    ),
}


@pytest.mark.parametrize(("between", "why"), IN_THE_WAY.values(), ids=IN_THE_WAY.keys())
def test_what_stands_in_the_way_is_named_and_nothing_changes(box: Catalogue, between: Kind, why: str) -> None:
    _meanwhile(box, KINDS["print"], between, KINDS["first setting"])
    before, history = made.dump(box), box.history()
    with pytest.raises(Trouble, match=f"“took in more” was not taken back: {why}"):
        box.undo("Ada")
    assert (made.dump(box), box.history()) == (before, history)


def test_a_person_stays_who_was_entered_as_kin_since(described: Catalogue) -> None:
    with described.act("Ada", "named Ole") as long:
        with long.work() as work:
            work.keep_person(Person("Ole"))
            work.commit()
        _do(described, "told of Ole", lambda work: work.keep_kin(Kin("Ole", How.PARENT, "Ida")))
        with long.work() as work:
            KINDS["first setting"](work)
            work.commit()
    with pytest.raises(Trouble, match="not taken back: Ole and Ida were entered as kin afterwards"):
        described.undo("Ada")


def test_what_stood_in_the_way_and_was_taken_back_does_not_any_more(box: Catalogue) -> None:
    _do(box, "did it", KINDS["print"])
    before = made.dump(box)
    _do(box, "measured", _blank_view)
    box.undo("Bo")
    assert made.dump(box) == before
    assert box.undo("Ada") == "did it"


def test_a_row_that_was_changed_without_history_is_not_overwritten(box: Catalogue) -> None:
    _do(box, "set", lambda work: work.set("stage", "grey"))
    _do(box, "changed", lambda work: work.set("stage", "white"))
    with box._engine.connect() as connection:
        connection.exec_driver_sql("UPDATE settings SET value = 'by hand' WHERE key = 'stage'")
        connection.commit()
    with pytest.raises(Trouble, match="was changed outside of Solander"):
        box.undo("Ada")
    assert box.setting("stage") == "by hand"


def test_search_follows_undo(described: Catalogue) -> None:
    assert described.search("granny") == ["B1-0003"]
    _do(described, "renamed", lambda work: work.keep_person(Person("Ida", ("Nana",))))
    assert (described.search("granny"), described.search("nana")) == ([], ["B1-0003"])
    described.undo("Ada")
    assert (described.search("granny"), described.search("nana")) == (["B1-0003"], [])


def test_undo_restores_a_row_to_the_letter(described: Catalogue) -> None:
    before = described.print("B1-0002")
    _do(described, "measured", KINDS["condition"])
    assert described.print("B1-0002") != before
    described.undo("Ada")
    assert described.print("B1-0002") == evolve(before)
