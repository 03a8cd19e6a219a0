"""Units of work: what they write, what they refuse, and that leaving without a commit leaves nothing."""

from __future__ import annotations

import itertools

import made_records as made
import pytest
from attrs import evolve
from sqlalchemy import event

from solander.catalogue.store import Catalogue
from solander.catalogue.work import Work
from solander.core.errors import NotFound, Trouble
from solander.core.people import Person
from solander.core.prints import Condition, Container, Side
from solander.core.statements import About, Says


def test_leaving_without_commit_leaves_nothing(catalogue: Catalogue) -> None:
    with catalogue.act("Ada", "took in") as act:
        with act.work() as work:
            work.keep_capture(made.a_capture())
        with pytest.raises(ZeroDivisionError), act.work() as work:
            _fail_after_writing(work)
        assert (catalogue.captures(), catalogue.history()) == ([], [])
        with act.work() as work:
            work.keep_capture(made.a_capture(2))
            work.commit()
    assert [(one.key, one.act) for one in catalogue.history()] == [(made.sha(2), "took in")]


def _fail_after_writing(work: Work) -> None:
    work.keep_capture(made.a_capture())
    raise ZeroDivisionError


def test_an_act_spans_transactions(box: Catalogue) -> None:
    with box.act("Ada", "numbered") as act:
        for number in (4, 5):
            with act.work() as work:
                work.add_print(made.a_print(number))
                work.commit()
    assert box.undo("Ada") == "numbered"
    assert [print_.number for print_ in box.prints()] == [1, 2, 3]


def test_captures_come_once_arrivals_every_time(box: Catalogue) -> None:
    with box.act("Ada", "took in again") as act, act.work() as work:
        work.keep_capture(evolve(made.a_capture(1), name="another name"))
        work.keep_arrival("again/IMG 1.JPG", made.sha(1))
        work.keep_arrival("again/IMG 1.JPG", made.sha(1))
        work.commit()
    assert box.capture(made.sha(1)) == made.a_capture(1)
    assert box.names_of(made.sha(1)) == ["box/1.jpg", "again/IMG 1.JPG"]
    assert [one.key for one in box.history() if one.table == "arrivals"][:2] == ["8", "7"]


def test_arrived_as_prefers_the_name_as_written(catalogue: Catalogue) -> None:
    names = ["a/x.jpg", "A/X.jpg", "b/x.JPG", "x.jpg"]
    with catalogue.act("Ada", "took in") as act, act.work() as work:
        for number, name in enumerate(names):
            work.keep_capture(made.a_capture(number))
            work.keep_arrival(name, made.sha(number))
        work.commit()
    found = {name: [names[n] for n in range(4) if made.sha(n) in catalogue.arrived_as(name)] for name in _ASKED}
    assert found == _ASKED


_ASKED = {
    "a/x.jpg": ["a/x.jpg"],
    "x.jpg": ["x.jpg"],
    "B/X.jpg": ["b/x.JPG"],
    "X.JPG": ["x.jpg"],
    "elsewhere\\X.jpg": ["a/x.jpg", "A/X.jpg", "b/x.JPG", "x.jpg"],
    "y.jpg": [],
}


def test_a_file_name_that_is_no_text_is_kept_and_found(catalogue: Catalogue) -> None:
    name = b"box/caf\xe9.jpg".decode("utf-8", "surrogateescape")
    with catalogue.act("Ada", f"took in {name}") as act, act.work() as work:
        work.keep_capture(evolve(made.a_capture(), name=name))
        work.keep_arrival(name, made.sha(1))
        work.commit()
    assert catalogue.arrived_as(name) == [made.sha(1)]
    assert catalogue.names_of(made.sha(1)) == [r"box/caf\udce9.jpg"]
    assert catalogue.history()[0].act == r"took in box/caf\udce9.jpg"


def test_numbers_go_on_by_container(box: Catalogue) -> None:
    with box.act("Ada", "took in") as act, act.work() as work:
        assert [work.next_number(code) for code in ("B1", "B2", None)] == [4, 1, 1]
        work.add_print(made.a_print(17, container=None))
        assert work.next_number(None) == 18
        work.commit()


def test_prints_stand_in_order_of_container_and_number(catalogue: Catalogue) -> None:
    places = [("B10", 1), ("B2/E10", 1), ("B2", 12), ("B2", 2), (None, 3), ("B2/E9", 7)]
    with catalogue.act("Ada", "took in") as act, act.work() as work:
        for container, number in places:
            work.add_print(made.a_print(number, container=container))
        work.commit()
    in_order = [(None, 3), ("B2", 2), ("B2", 12), ("B2/E9", 7), ("B2/E10", 1), ("B10", 1)]
    assert [(print_.container, print_.number) for print_ in catalogue.prints()] == in_order
    assert [container.code for container in catalogue.containers()] == ["B2", "B2/E9", "B2/E10", "B10"]


def test_a_container_takes_a_title_later_and_keeps_it(catalogue: Catalogue) -> None:
    with catalogue.act("Ada", "labelled") as act, act.work() as work:
        for title in ("", "Blue album", ""):
            work.add_container(Container("A1", title))
        work.commit()
    assert catalogue.containers() == [Container("A1", "Blue album")]


def test_a_page_keeps_every_capture_that_shows_it_as_found(catalogue: Catalogue) -> None:
    with catalogue.act("Ada", "took in an album") as act, act.work() as work:
        for sha256 in ("a" * 64, "b" * 64, "a" * 64):
            work.add_container(Container("A1/P3", captures=(sha256,)))
        work.commit()
    assert catalogue.container("A1/P3") == Container("A1/P3", captures=("a" * 64, "b" * 64))
    assert catalogue.container("A1") == Container("A1")
    assert catalogue.container("A2") is None


def test_a_back_is_added_to_its_front(box: Catalogue) -> None:
    back = made.a_view(4, side=Side.VERSO)
    with box.act("Ada", "paired") as act, act.work() as work:
        work.add_view("B1-0001", back)
        work.commit()
    assert box.print("B1-0001").views == (made.a_view(1), back)


def test_views_of_a_capture_come_by_page_and_reading_order(box: Catalogue) -> None:
    views = [made.a_view(5, page=1), made.a_view(5, left=0.5), made.a_view(5, left=30.0)]
    with box.act("Ada", "took in a scan") as act, act.work() as work:
        for number, view in enumerate(views, start=4):
            work.add_print(made.a_print(number, views=(view,)))
        work.commit()
    assert box.views_of_capture(made.sha(5)) == [
        ("B1-0005", views[1]),
        ("B1-0006", views[2]),
        ("B1-0004", views[0]),
    ]
    assert [print_.number for print_ in box.prints_of_capture(made.sha(5))] == [4, 5, 6]


def test_a_redone_view_takes_the_place_of_the_old_which_is_kept(box: Catalogue) -> None:
    back, redone = made.a_view(4, side=Side.VERSO), made.a_view(1, left=2.0)
    with box.act("Ada", "redid the outline") as act, act.work() as work:
        work.add_view("B1-0001", back)
        work.replace_view("B1-0001", made.a_view(1), redone)
        work.commit()
    assert box.print("B1-0001").views == (redone, back)
    assert [row["key"] for row in made.dump(box)["views"] if row["superseded"]] == [made.a_view(1).key]


def test_four_quarter_turns_give_the_first_view_again(box: Catalogue) -> None:
    turned = [made.a_view(1, turn=turn % 4) for turn in range(5)]
    with box.act("Ada", "turned") as act, act.work() as work:
        for old, new in itertools.pairwise(turned):
            work.replace_view("B1-0001", old, new)
        work.commit()
    assert box.print("B1-0001").views == (made.a_view(1),)


def test_a_checked_outline_is_the_same_view(box: Catalogue) -> None:
    checked = evolve(made.a_view(1), outline=evolve(made.a_view(1).outline, checked=True))
    with box.act("Ada", "checked") as act, act.work() as work:
        work.replace_view("B1-0001", made.a_view(1), checked)
        work.commit()
    assert box.print("B1-0001").views == (checked,)


def test_joining_a_back_moves_its_views_and_what_was_said(box: Catalogue) -> None:
    with box.act("Ada", "described") as act, act.work() as work:
        work.state(made.a_statement("s1", "B1-0002", Says.TRANSCRIPTION, "Lake, 1952"))
        work.ask(made.a_question("q1", "B1-0002"))
        work.commit()
    with box.act("Ada", "paired") as act, act.work() as work:
        work.join_back("B1-0002", "B1-0001")
        work.commit()
    joined = made.a_print(1, views=(made.a_view(1), made.a_view(2, side=Side.VERSO)))
    assert box.prints() == [joined, made.a_print(3, views=(made.a_view(3),))]
    assert [one.id for one in box.statements(subject="B1-0001")] == ["s1"]
    assert [one.subject for one in box.questions()] == ["B1-0001"]
    assert box.search("lake") == ["B1-0001"]
    with pytest.raises(NotFound, match="it is the back of B1-0001"):
        box.print("B1-0002")


def test_the_number_of_a_joined_print_is_not_given_again(box: Catalogue) -> None:
    with box.act("Ada", "paired") as act, act.work() as work:
        work.join_back("B1-0003", "B1-0001")
        assert work.next_number("B1") == 4
        work.commit()


def test_what_is_no_print_is_taken_out_with_what_was_said_and_keeps_its_number(box: Catalogue) -> None:
    with box.act("Ada", "described") as act, act.work() as work:
        work.state(made.a_statement("s1", "B1-0003", Says.CAPTION, "Lake"))
        work.ask(made.a_question("q1", "B1-0003"))
        work.commit()
    assert not box.is_emptied(made.sha(3))
    with box.act("Ada", "took out") as act, act.work() as work:
        work.take_out_view("B1-0003", made.a_view(3))
        assert work.next_number("B1") == 4
        work.commit()
    assert [one.number for one in box.prints()] == [1, 2]
    assert (box.statements(), box.questions(), box.search("lake")) == ([], [], [])
    assert [one.id for one in box.statements(withdrawn=True)] == ["s1"]
    assert box.is_emptied(made.sha(3))
    assert not box.is_emptied(made.sha(2))
    with pytest.raises(NotFound, match="it was taken out, because it is no print"):
        box.print("B1-0003")


def test_a_print_that_has_another_view_stays_when_one_is_taken_out(box: Catalogue) -> None:
    back = made.a_view(4, side=Side.VERSO)
    with box.act("Ada", "took out") as act, act.work() as work:
        work.state(made.a_statement("s1", "B1-0001", Says.CAPTION, "Lake"))
        work.add_view("B1-0001", back)
        work.take_out_view("B1-0001", made.a_view(1))
        work.commit()
    assert box.print("B1-0001").views == (back,)
    assert [one.id for one in box.statements()] == ["s1"]


def test_what_was_measured_is_entered_later(box: Catalogue) -> None:
    condition = Condition(2.5, 0.0, 0.25, "00ff00ff00ff00ff", ("blurred",))
    with box.act("Ada", "measured") as act, act.work() as work:
        work.set_condition(made.a_view(1).key, condition)
        work.commit()
    assert box.print("B1-0001").recto == evolve(made.a_view(1), condition=condition)


def test_a_sharpness_that_could_not_be_told_stays_so(box: Catalogue) -> None:
    blank = Condition(None, 0.0, 1.0, "0" * 16)
    with box.act("Ada", "measured") as act, act.work() as work:
        work.add_view("B1-0001", evolve(made.a_view(4, side=Side.VERSO), condition=blank))
        work.commit()
    verso = box.print("B1-0001").verso
    assert verso is not None
    assert verso.condition is not None
    assert verso.condition.sharpness is None


def test_a_person_is_kept_by_name(catalogue: Catalogue) -> None:
    with catalogue.act("Ada", "named") as act, act.work() as work:
        work.keep_person(Person("Ida Holm", born="1901"))
        work.keep_person(Person("Ida Holm", ("Granny",), born="1901~"))
        work.commit()
    assert catalogue.people() == [Person("Ida Holm", ("Granny",), born="1901~")]


def test_a_statement_is_withdrawn_never_overwritten(box: Catalogue) -> None:
    said = made.a_statement("s1", "B1-0001", Says.CAPTION, "The lake")
    with box.act("Ada", "said") as act, act.work() as work:
        work.state(said)
        work.state(evolve(said, entered="later"))
        with pytest.raises(Trouble, match="its id is another's"):
            work.state(evolve(said, value="The sea"))
        work.withdraw("s1")
        work.withdraw("s1")
        work.state(said)
        work.commit()
    assert box.statements() == []
    assert box.statements(withdrawn=True) == [evolve(said, withdrawn=made.NOW)]
    assert [one.action for one in box.history() if one.table == "statements"] == ["update", "insert"]


def test_a_question_that_settled_itself_and_comes_up_again_waits_again(box: Catalogue) -> None:
    with box.act("Ada", "asked") as act, act.work() as work:
        work.ask(made.a_question("q1", "B1-0001"))
        work.settle("q1")
        work.commit()
    assert box.questions() == []
    assert [one.settled for one in box.questions(settled=True)] == [made.NOW]
    with box.act("Ada", "asked again") as act, act.work() as work:
        work.ask(made.a_question("q1", "B1-0001"))
        work.commit()
    assert [one.key for one in box.questions()] == ["q1"]
    box.undo("Ada")
    assert box.questions() == []


def test_saying_the_same_again_writes_nothing(box: Catalogue) -> None:
    def say(catalogue: Catalogue) -> None:
        with catalogue.act("Ada", "set") as act, act.work() as work:
            work.set("stage", "grey")
            work.keep_person(Person("Ida Holm"))
            work.add_container(Container("B1"))
            work.set_condition(made.a_view(1).key, Condition(1.0, 0.0, 0.0, "0" * 16))
            work.commit()

    say(box)
    before = box.history()
    say(box)
    assert box.history() == before


REFUSED = {
    "an unknown print": lambda work: work.add_view("B9-0001", made.a_view(4)),
    "an unknown capture": lambda work: work.add_view("B1-0001", made.a_view(77)),
    "an arrival of nothing": lambda work: work.keep_arrival("x.jpg", made.sha(77)),
    "an unknown statement": lambda work: work.withdraw("none"),
    "an unknown question": lambda work: work.settle("none"),
    "an unknown view": lambda work: work.set_condition("none", Condition(1.0, 0.0, 0.0, "0" * 16)),
    "a statement about no print": lambda work: work.state(made.a_statement("s", "B9-1", Says.NOTE, "x")),
    "a front that is not there": lambda work: work.join_back("B1-0001", "B9-0001"),
    "a view that is not its own": lambda work: work.take_out_view("B1-0001", made.a_view(2)),
    "a view that is no longer used": lambda work: work.replace_view("B1-0001", made.a_view(2), made.a_view(4)),
}


@pytest.mark.parametrize("attempt", REFUSED.values(), ids=REFUSED.keys())
def test_what_is_not_there_is_said(box: Catalogue, attempt) -> None:  # type: ignore[no-untyped-def]
    before = made.dump(box)
    with pytest.raises(NotFound), box.act("Ada", "tried") as act, act.work() as work:
        attempt(work)
    assert made.dump(box) == before


def _second_back(work) -> None:  # type: ignore[no-untyped-def]
    work.join_back("B1-0002", "B1-0001")
    work.join_back("B1-0003", "B1-0001")


CANNOT_BE = {
    "there is one of that number": lambda work: work.add_print(made.a_print(1)),
    "it is in use in B1-0001": lambda work: work.add_view("B1-0002", made.a_view(1)),
    "they are one print": lambda work: work.join_back("B1-0001", "B1-0001"),
    "has a back already": _second_back,
}


@pytest.mark.parametrize(("why", "attempt"), CANNOT_BE.items(), ids=CANNOT_BE.keys())
def test_what_cannot_be_is_refused(box: Catalogue, why: str, attempt) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(Trouble, match=why), box.act("Ada", "tried") as act, act.work() as work:
        attempt(work)


def test_a_statement_about_an_occasion_keeps_the_occasion(catalogue: Catalogue) -> None:
    said = made.a_statement("s1", "Midsummer", Says.PLACE, "Vik", about=About.OCCASION)
    with catalogue.act("Ada", "said") as act, act.work() as work:
        work.state(said)
        work.commit()
    assert [occasion.name for occasion in catalogue.occasions()] == ["Midsummer"]


def test_lists_need_few_queries_however_many_prints(box: Catalogue) -> None:
    asked: list[str] = []
    event.listen(box._engine, "before_cursor_execute", lambda *told: asked.append(told[2]))
    for tell in (box.prints, box.captures, box.statements, lambda: box.prints_of_capture(made.sha(1))):
        asked.clear()
        tell()
        assert len([sql for sql in asked if sql.startswith("SELECT")]) <= 2


def test_numbers_and_arrivals_are_found_by_index(box: Catalogue) -> None:
    plans = (
        "SELECT number FROM prints WHERE container = 'B1' ORDER BY number DESC LIMIT 1",
        "SELECT number FROM prints WHERE container IS NULL ORDER BY number DESC LIMIT 1",
        "SELECT max(sequence) FROM views",
        "SELECT * FROM views WHERE capture = 'x'",
        "SELECT * FROM arrivals WHERE base = 'x' ORDER BY id",
    )
    with box._reading() as connection:
        for sql in plans:
            steps = [str(row[3]) for row in connection.exec_driver_sql(f"EXPLAIN QUERY PLAN {sql}")]
            assert all(step.startswith("SEARCH") and "INDEX" in step for step in steps), (sql, steps)
