"""Outlines by hand: drawn anew, accepted, the second taken, a print added, a false find taken out."""

from __future__ import annotations

import numpy as np
import pytest
from attrs import evolve
from small_box import SIZE, Draw, asked, slip_file

from solander.core.errors import InvalidValue, NotFound, Trouble
from solander.core.prints import Corners, Side, View
from solander.core.questions import Asks
from solander.imaging.decode import decode
from solander.imaging.locate import Found
from solander.tasks import prepare
from solander.tasks.accession import accession
from solander.tasks.add_print import add_print
from solander.tasks.collection import Collection
from solander.tasks.prepare import view_paths
from solander.tasks.redraw import check_outline, redraw, take_second
from solander.tasks.show import Shown
from solander.tasks.take_out import take_out

pytestmark = pytest.mark.slow

FIRST = np.array([[150.0, 120.0], [570.0, 120.0], [570.0, 420.0], [150.0, 420.0]])
SECOND = FIRST + np.array([[20.0, 15.0], [-20.0, 15.0], [-20.0, -15.0], [20.0, -15.0]])
BY_HAND: Corners = ((160.0, 130.5), (560.0, 125.0), (565.0, 410.0), (155.0, 412.0))


@pytest.fixture
def doubtful(monkeypatch: pytest.MonkeyPatch, draw: Draw, collection: Collection) -> Collection:
    """Two described prints, the second with a back; every outline found half sure, with a second-best."""
    _finding(monkeypatch, Found(FIRST, 0.5, second=SECOND))
    folder = draw("a.jpg", 1).parent
    draw("b_r.jpg", 2)
    draw("b_v.jpg", 3)
    slips = slip_file(folder.parent, "file,date,caption", "a.jpg,1952,At the lake", "b_r.jpg,1953,The boat")
    accession(collection, [folder], container="B1/E2", slips=slips)
    return collection


def _finding(monkeypatch: pytest.MonkeyPatch, *found: Found) -> None:
    monkeypatch.setattr(prepare, "locate_prints", lambda rgb, **_: found)


def front(collection: Collection, accession: str = "B1-E2-0001") -> View:
    view = collection.catalogue.print(accession).recto
    assert view is not None
    return view


def all_told(collection: Collection) -> tuple[object, ...]:
    """What a redone outline must not touch: descriptions, statements, pairs, numbers, captures."""
    catalogue = collection.catalogue
    prints = [(one.accession, [view.side for view in one.views]) for one in catalogue.prints()]
    return catalogue.statements(withdrawn=True), prints, catalogue.captures(), catalogue.occasions()


def test_the_second_best_outline_is_kept_with_the_view(doubtful: Collection) -> None:
    assert np.array_equal(front(doubtful).outline.second, SECOND)


def test_a_hand_over_the_edge_is_asked_about(
    monkeypatch: pytest.MonkeyPatch, draw: Draw, collection: Collection
) -> None:
    _finding(monkeypatch, Found(FIRST, 0.95, hand=True))
    accession(collection, [draw("a.jpg", 1)])
    sentence = "The front of P-0001 is partly under a hand: capture it again?"
    assert asked(collection, Asks.CAPTURE_AGAIN) == [("P-0001", sentence)]
    redraw(collection, front(collection, "P-0001").key, BY_HAND)
    assert asked(collection, Asks.CAPTURE_AGAIN) == [("P-0001", sentence)]  # a new outline moves no hand


def test_a_redrawn_outline_gives_a_new_picture_and_keeps_all_that_was_said(doubtful: Collection) -> None:
    before, told = front(doubtful), all_told(doubtful)
    done = redraw(doubtful, before.key, BY_HAND)
    now = front(doubtful)
    assert (now.outline.corners, now.outline.checked, now.key) == (BY_HAND, True, done.key)
    assert now.key != before.key
    assert all_told(doubtful) == told
    assert np.array_equal(now.outline.second, FIRST)
    large, small = view_paths(doubtful.views_root, now.key)
    assert small.is_file()
    assert decode(large).shape[:2] == (now.height, now.width)


def test_the_question_about_that_edge_is_settled_and_no_other(doubtful: Collection) -> None:
    numbers = ["B1-E2-0001", "B1-E2-0002", "B1-E2-0002"]
    assert [subject for subject, _ in asked(doubtful, Asks.OUTLINE)] == numbers
    redraw(doubtful, front(doubtful, "B1-E2-0002").key, BY_HAND)
    assert [sentence for _, sentence in asked(doubtful, Asks.OUTLINE)] == [
        "Is the front of B1-E2-0001 cut out at the paper's edge?",
        "Is the back of B1-E2-0002 cut out at the paper's edge?",
    ]


def test_undo_brings_the_outline_and_its_question_back_and_history_keeps_both(doubtful: Collection) -> None:
    before, waiting = front(doubtful), asked(doubtful, Asks.OUTLINE)
    done = redraw(doubtful, before.key, BY_HAND)
    said = doubtful.catalogue.undo("archivist", only=done.act)
    assert said == "redrew the outline of the front of B1-E2-0001"
    assert front(doubtful) == before
    assert asked(doubtful, Asks.OUTLINE) == waiting
    drawn = [one.after["corners"] for one in doubtful.catalogue.history() if one.key == done.key and one.after]
    assert drawn[0] == [list(corner) for corner in BY_HAND]


def test_a_turned_print_stays_turned(doubtful: Collection) -> None:
    view = front(doubtful)
    with doubtful.catalogue.act("archivist", "turned") as act, act.work() as work:
        work.replace_view("B1-E2-0001", view, view.turned(1, None))
        work.commit()
    redraw(doubtful, front(doubtful).key, BY_HAND[1:] + BY_HAND[:1])  # begun at another corner: the same outline
    now = front(doubtful)
    assert (now.turn, now.outline.corners) == (1, BY_HAND)
    assert now.height > now.width
    assert decode(view_paths(doubtful.views_root, now.key)[0]).shape[:2] == (now.height, now.width)


def test_accepting_moves_no_pixel(doubtful: Collection) -> None:
    before = front(doubtful)
    done = check_outline(doubtful, before.key)
    assert front(doubtful) == evolve(before, outline=evolve(before.outline, checked=True))
    assert done.key == before.key
    assert "B1-E2-0001" not in dict(asked(doubtful, Asks.OUTLINE))
    assert check_outline(doubtful, before.key).act is None  # nothing was left to do


def test_drawing_the_same_outline_is_accepting_it(doubtful: Collection) -> None:
    rounded = tuple((x + 0.004, y - 0.004) for x, y in front(doubtful).outline.corners)
    done = redraw(doubtful, front(doubtful).key, rounded)
    assert np.array_equal(front(doubtful).outline.corners, FIRST)
    assert doubtful.catalogue.undo("archivist", only=done.act) == (
        "checked the outline of the front of B1-E2-0001"
    )


def test_the_second_is_taken_and_the_first_is_then_the_second(doubtful: Collection) -> None:
    done = take_second(doubtful, front(doubtful).key)
    now = front(doubtful).outline
    assert (np.array_equal(now.corners, SECOND), np.array_equal(now.second, FIRST)) == (True, True)
    assert now.checked
    again = take_second(doubtful, done.key)
    assert np.array_equal(front(doubtful).outline.corners, FIRST)
    assert doubtful.catalogue.undo("archivist", only=again.act) == (
        "took the second-best outline of the front of B1-E2-0001"
    )


def test_where_there_is_no_second_that_is_said(
    monkeypatch: pytest.MonkeyPatch, draw: Draw, collection: Collection
) -> None:
    _finding(monkeypatch, Found(FIRST, 0.5))
    accession(collection, [draw("a.jpg", 1)])
    with pytest.raises(Trouble, match="No other outline of the front of P-0001 was found"):
        take_second(collection, front(collection, "P-0001").key)


@pytest.mark.parametrize(
    ("corners", "why"),
    [
        ((BY_HAND[0], BY_HAND[2], BY_HAND[1], BY_HAND[3]), "two of its sides cross"),
        (((5.0, 5.0), (20.0, 5.0), (20.0, 20.0), (5.0, 20.0)), "its shortest side is 15 pixels"),
        ((BY_HAND[0], (SIZE[0] + 4.0, 5.0), *BY_HAND[2:]), "its top right corner lies outside"),
    ],
)
def test_an_outline_that_bounds_no_print_changes_nothing(doubtful: Collection, corners: Corners, why: str) -> None:
    before, history = front(doubtful), doubtful.catalogue.history()
    for draw_it in (redraw, add_print):
        with pytest.raises(InvalidValue, match=why):
            draw_it(doubtful, before.key, corners)
    assert front(doubtful) == before
    assert doubtful.catalogue.history() == history


def test_a_picture_that_was_cut_out_anew_since_is_said_to_be_so(doubtful: Collection) -> None:
    stale = front(doubtful).key
    redraw(doubtful, stale, BY_HAND)
    for act in (check_outline, take_second, take_out):
        with pytest.raises(NotFound, match="no longer in use: it was cut out anew since"):
            act(doubtful, stale)


def test_a_capture_without_a_find_is_outlined_by_hand(
    monkeypatch: pytest.MonkeyPatch, draw: Draw, collection: Collection
) -> None:
    _finding(monkeypatch)
    accession(collection, [draw("a.jpg", 1)])
    assert asked(collection, Asks.OUTLINE) == [
        ("P-0001", "No edge of a print was found for the front of P-0001: where is it?")
    ]
    redraw(collection, front(collection, "P-0001").key, BY_HAND)
    assert asked(collection, Asks.OUTLINE) == []
    assert front(collection, "P-0001").outline.second is None  # the whole frame is no outline to go back to


def test_a_missed_print_is_added_to_the_same_container(doubtful: Collection) -> None:
    beside = front(doubtful)
    small: Corners = ((10.0, 10.0), (110.0, 12.0), (108.0, 90.0), (9.0, 88.0))
    done = add_print(doubtful, beside.key, small)
    assert done.accession == "B1-E2-0003"
    added = front(doubtful, done.accession)
    assert (added.capture, added.side, added.outline.corners) == (beside.capture, Side.RECTO, small)
    assert added.outline.checked
    assert view_paths(doubtful.views_root, added.key)[1].is_file()
    assert doubtful.catalogue.undo("archivist", only=done.act) == "added a print that was missed beside B1-E2-0001"
    assert [one.accession for one in doubtful.catalogue.prints()] == ["B1-E2-0001", "B1-E2-0002"]


def test_the_same_outline_twice_is_one_print(doubtful: Collection) -> None:
    with pytest.raises(Trouble, match="it is in use in B1-E2-0001"):
        add_print(doubtful, front(doubtful).key, front(doubtful).outline.corners)


def test_a_false_find_is_taken_out_its_capture_stays_and_undo_brings_it_back(doubtful: Collection) -> None:
    before, waiting = all_told(doubtful), doubtful.catalogue.questions()
    view = front(doubtful)
    done = take_out(doubtful, view.key)
    assert [one.accession for one in doubtful.catalogue.prints()] == ["B1-E2-0002"]
    assert doubtful.vault.path(view.capture).is_file()
    assert "B1-E2-0001" not in {one.subject for one in doubtful.catalogue.questions()}
    assert [one.print.accession for one in Shown(doubtful).described()] == ["B1-E2-0002"]
    doubtful.catalogue.undo("archivist", only=done.act)
    assert all_told(doubtful) == before
    assert doubtful.catalogue.questions() == waiting


def test_what_was_taken_out_does_not_come_back_with_the_same_file(
    monkeypatch: pytest.MonkeyPatch, draw: Draw, collection: Collection
) -> None:
    _finding(monkeypatch)
    file = draw("empty.jpg", 1)
    accession(collection, [file])
    take_out(collection, front(collection, "P-0001").key)
    report = accession(collection, [file])
    assert (report.known, report.prints) == (["empty.jpg"], [])
    assert collection.catalogue.prints() == []


def test_a_false_front_leaves_its_back_which_asks_for_a_front(doubtful: Collection) -> None:
    take_out(doubtful, front(doubtful, "B1-E2-0002").key)
    assert [view.side for view in doubtful.catalogue.print("B1-E2-0002").views] == [Side.VERSO]
    assert [subject for subject, _ in asked(doubtful, Asks.PAIR)] == ["B1-E2-0002"]
    assert [sentence for subject, sentence in asked(doubtful, Asks.OUTLINE) if subject == "B1-E2-0002"] == [
        "Is the back of B1-E2-0002 cut out at the paper's edge?"
    ]


def test_cut_out_by_hand_or_by_itself_the_same_outline_is_the_same_picture(
    draw: Draw, collection: Collection
) -> None:
    accession(collection, [draw("a.jpg", 1, angle_deg=7.0)])
    found = front(collection, "P-0001")
    picture = view_paths(collection.views_root, found.key)[0].read_bytes()
    x, y = found.outline.corners[0]
    other = redraw(collection, found.key, ((x + 12.0, y + 9.0), *found.outline.corners[1:]))
    assert view_paths(collection.views_root, other.key)[0].read_bytes() != picture
    view_paths(collection.views_root, found.key)[0].unlink()
    again = redraw(collection, other.key, found.outline.corners)
    assert view_paths(collection.views_root, again.key)[0].read_bytes() == picture
    assert again.key == found.key
