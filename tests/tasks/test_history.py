"""What was done, in words; and what can be taken back, also when it is not the last."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from click.testing import CliRunner
from small_prints import number, prints_in, said

from solander.cli.main import solander
from solander.core.errors import NotFound, Trouble
from solander.core.statements import Says
from solander.tasks.arrange import lay, put_into
from solander.tasks.collection import Collection
from solander.tasks.containers import entitle, say_where
from solander.tasks.history import History
from solander.tasks.occasions import make_occasion, move_prints, rename_occasion, say_of_occasion

ONE, TWO, THREE = (number(i) for i in range(1, 4))


@pytest.fixture
def box(tmp_path: Path) -> Iterator[Collection]:
    with prints_in(tmp_path / "box", {"B2/E5": 4}) as collection:
        yield collection


def test_acts_come_newest_first_in_pages_by_key(box: Collection) -> None:
    for i in range(130):
        entitle(box, "B2", f"Title {i}")
    history = History(box)
    first = history.page()
    second = history.page(before=first.earlier)
    third = history.page(before=second.earlier)
    told = [act.what for act in (*first.acts, *second.acts, *third.acts)]
    assert told == [*(f"called B2 “Title {i}”" for i in reversed(range(130))), "filled the box"]
    assert third.earlier is None
    assert first.done_by == {"archivist": 130, "test": 1}
    assert [act.what for act in history.page(who="test").acts] == ["filled the box"]


def test_what_was_done_about_one_print_is_found(box: Collection) -> None:
    make_occasion(box, "School outing", [ONE, TWO])
    lay(box, [ONE], after=THREE)
    entitle(box, "B2", "Shoe box")
    told = [act.what for act in History(box).page(about=ONE).acts]
    assert told == [f"laid {ONE} after {THREE}", "made the occasion “School outing” of 2 prints", "filled the box"]


def test_each_change_is_told_with_what_was_before_and_after(box: Collection) -> None:
    make_occasion(box, "School outing", [ONE])
    say_of_occasion(box, "School outing", date="about 1936")
    say_of_occasion(box, "School outing", date="May 1936", source="Aunt Signe")
    make_occasion(box, "Regatta", [TWO])
    done = move_prints(box, [ONE], "Regatta")
    history = History(box)
    told = history.act(done.act or 0).changes
    assert [(one.of, one.what, one.before, one.after) for one in told] == [
        (ONE, "occasion", "“School outing · archivist”", ""),
        (ONE, "occasion", "", "“Regatta · archivist”"),
    ]
    dated = next(act for act in history.page().acts if "about 1936" in act.what)
    (change,) = history.act(dated.number).changes
    assert (change.of, change.before) == ("School outing", "")
    assert change.after == "“about 1936, likely · archivist”"
    entitled = entitle(box, "B2", "Shoe box")
    (change,) = history.act(entitled or 0).changes
    assert (change.of, change.before, change.after) == ("B2", "B2", "Shoe box")


def test_an_earlier_act_is_taken_back_where_nothing_later_stands_upon_it(box: Collection) -> None:
    made = make_occasion(box, "School outing", [ONE])
    where = say_where(box, "B2", "in the hall cupboard")
    put_into(box, [TWO], "B3")
    history = History(box)
    assert history.take_back(where or 0) == "B2 is now in the hall cupboard"
    assert box.catalogue.said_of_container("B2") == []
    assert said(box, TWO, Says.KEPT_IN) == ["B3"], "what was done since stands"
    kept = history.act(where or 0)
    assert kept.undone is not None
    assert kept.undone.what == "Took back: B2 is now in the hall cupboard"
    with pytest.raises(Trouble, match="taken back already"):
        history.take_back(where or 0)
    assert history.take_back(made.act or 0) == "made the occasion “School outing” of 1 print"


def test_what_stands_in_the_way_is_named_before_and_when_it_is_tried(box: Collection) -> None:
    made = make_occasion(box, "School outing", [ONE])
    rename_occasion(box, "School outing", "Class trip")
    history = History(box)
    why = history.act(made.act or 0).why_not
    assert why.startswith("“called “School outing” “Class trip”” changed the ")
    before = box.catalogue.statements(withdrawn=True)
    with pytest.raises(Trouble, match="was not taken back"):
        history.take_back(made.act or 0)
    assert box.catalogue.statements(withdrawn=True) == before


def test_what_needs_the_act_is_named_when_it_is_tried(box: Collection) -> None:
    made = make_occasion(box, "School outing", [ONE])
    say_of_occasion(box, "School outing", date="May 1936")
    with pytest.raises(Trouble, match="something was said about the occasion School outing afterwards"):
        History(box).take_back(made.act or 0)


def test_history_says_what_was_done_at_the_command_line(box: Collection) -> None:
    entitle(box, "B2", "Shoe box")
    ran = CliRunner().invoke(solander, ["undo", str(box.root)])
    assert ran.exit_code == 0
    entitle(box, "B2", "Hat box")
    assert [(act.who, act.what) for act in History(box).page().acts[:3]] == [
        ("archivist", "called B2 “Hat box”"),
        ("archivist, at the command line", "Took back: called B2 “Shoe box”"),
        ("archivist", "called B2 “Shoe box”"),
    ]


def test_an_act_that_is_not_there_is_said_so(box: Collection) -> None:
    with pytest.raises(NotFound, match="Nothing was done under this number"):
        History(box).act(99)
