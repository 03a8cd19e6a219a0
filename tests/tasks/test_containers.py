"""What is in each container, where it is, what waits in it, and how it is put back."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest
from small_prints import number, prints_in, state

from solander.core.errors import InvalidValue, NotFound
from solander.core.put_back import as_they_lay
from solander.core.questions import Asks
from solander.core.statements import Says
from solander.tasks.arrange import put_into
from solander.tasks.ask import ask
from solander.tasks.collection import Collection
from solander.tasks.containers import (
    bring_back,
    container_told,
    containers_told,
    entitle,
    mark_done,
    mark_not_done,
    new_container,
    order_of,
    say_where,
)

pytestmark = pytest.mark.slow


@pytest.fixture
def box(tmp_path: Path) -> Iterator[Collection]:
    """Two envelopes in a box, and an album."""
    with prints_in(tmp_path / "box", {"B2/E5": 4, "B2/E6": 2, "A1": 1}) as collection:
        with collection.catalogue.act("test", "asked") as act, act.work() as work:
            ask(work, Asks.OUTLINE, number(1), "Is this the edge?")
            work.commit()
        yield collection


def test_containers_nest_and_count_what_lies_in_them(box: Collection) -> None:
    told = {
        one.code: (one.depth, one.prints, one.all_prints, one.waits, one.within) for one in containers_told(box)
    }
    assert told == {
        "A1": (0, 1, 1, 0, ()),
        "B2": (0, 0, 6, 1, ("B2/E5", "B2/E6")),
        "B2/E5": (1, 4, 4, 1, ()),
        "B2/E6": (1, 2, 2, 0, ()),
    }
    put_into(box, [number(1)], "A1")
    assert [(one.code, one.all_prints, one.waits) for one in containers_told(box)] == [
        ("A1", 2, 1), ("B2", 5, 0), ("B2/E5", 3, 0), ("B2/E6", 2, 0),
    ]  # fmt: skip


def test_where_a_box_is_holds_for_what_is_in_it_and_earlier_words_stay_readable(box: Collection) -> None:
    say_where(box, "B2", "in the hall cupboard")
    say_where(box, "B2", "lent to Vera on 3 May")
    told = container_told(box, "B2/E5")
    assert told.kept_at is not None
    assert (told.kept_at.words, told.kept_at.subject) == ("lent to Vera on 3 May", "B2")
    every = box.catalogue.said_of_container("B2", withdrawn=True)
    assert [(one.words, one.withdrawn is None) for one in every] == [
        ("in the hall cupboard", False),
        ("lent to Vera on 3 May", True),
    ]
    bring_back(box, "B2")
    assert container_told(box, "B2/E5").kept_at is None
    box.catalogue.undo("test")
    assert container_told(box, "B2").kept_at is not None


def test_a_container_is_done_and_not_done(box: Collection) -> None:
    mark_done(box, "B2/E5", today=date(2026, 5, 3))
    done = container_told(box, "B2/E5").done
    assert done is not None
    assert done.value == "2026-05-03"
    assert container_told(box, "B2/E6").done is None
    mark_not_done(box, "B2/E5")
    assert container_told(box, "B2/E5").done is None


def test_titles_are_given_and_taken_away(box: Collection) -> None:
    entitle(box, "B2", "  Signe's  shoe box ")
    assert container_told(box, "B2").container.title == "Signe's shoe box"
    entitle(box, "B2", "")
    assert container_told(box, "B2").container.title == ""
    new_container(box, "b3-e1", "Letters")
    assert [one.code for one in containers_told(box)] == ["A1", "B2", "B2/E5", "B2/E6", "B3", "B3/E1"]


def test_prints_are_put_back_as_they_lay_by_the_numbers_that_were_told(box: Collection) -> None:
    # Numbers 9 and 2 were counted in the envelope; the 1 is a frame of a film and says nothing of the envelope.
    numbers = [(number(1), Says.ORDER, "9"), (number(3), Says.ORDER, "2"), (number(4), Says.ORDER, "1")]
    state(box, [*numbers, (number(4), Says.ROLL, "film 7")])
    put_into(box, [number(1, "B2/E6")], "B2/E5")
    put_into(box, [number(2)], "A1")
    assert order_of(box, "B2/E5") == ([number(3), number(1), number(4)], [number(1, "B2/E6")])


def test_what_has_no_number_stays_in_its_place() -> None:
    assert as_they_lay(["a", "b", "c"], []) == ["a", "b", "c"]


def test_what_is_not_there_is_said_so(box: Collection) -> None:
    for act in (
        lambda: say_where(box, "B9", "here"),
        lambda: mark_done(box, "B9"),
        lambda: entitle(box, "B9", "x"),
        lambda: container_told(box, "B9"),
    ):
        with pytest.raises(NotFound, match="no container B9"):
            act()
    with pytest.raises(InvalidValue, match="there is a container of that code"):
        new_container(box, "B2")
    with pytest.raises(InvalidValue, match="the field is empty"):
        say_where(box, "B2", "  ")
