"""How far the work is, counted print by print on a small box; sittings; and the second copy."""

from __future__ import annotations

import time
from collections.abc import Iterator
from datetime import UTC
from pathlib import Path
from threading import Event

import pytest
from small_prints import number, prints_in, state

from solander.core.questions import Asks
from solander.core.statements import Says
from solander.tasks import progress as counting
from solander.tasks.ask import ask
from solander.tasks.collection import Collection
from solander.tasks.copy import second_copy
from solander.tasks.occasions import make_occasion
from solander.tasks.progress import HowFar, Progressing, sittings_of


@pytest.fixture
def box(tmp_path: Path) -> Iterator[Collection]:
    with prints_in(tmp_path / "box", {"B2/E5": 5, "B2/E6": 3}) as collection:
        yield collection


def test_each_print_counts_once_for_what_is_told_of_it_itself_or_through_its_occasion(box: Collection) -> None:
    one, two, three, four, _ = (number(i) for i in range(1, 6))
    state(box, [(one, Says.EXPOSURE, "1936"), (one, Says.EXPOSURE, "1937"), (one, Says.PLACE, "Vessholm")])
    state(box, [(two, Says.EXPOSURE, "1936"), (three, Says.PERSON, "Ingrid Sollihøgda")], source="b.csv")
    make_occasion(box, "School outing", [three, four], date="May 1936")
    make_occasion(box, "Regatta", [number(1, "B2/E6")], date="1951", place="Vessholm")
    with box.catalogue.act("test", "asked") as act, act.work() as work:
        ask(work, Asks.OUTLINE, one, "Is this the edge?")
        work.commit()
    standing = Progressing(box).now()
    told = {
        each.code: (each.prints, each.dated, each.placed, each.named, each.described)
        for each in standing.containers
    }
    # Dated alone is not described (two, four); dated with a place (one, the regatta) or a person (three) is.
    assert told == {"B2/E5": (5, 4, 1, 1, 2), "B2/E6": (3, 1, 1, 0, 1)}
    assert (standing.all.prints, standing.all.described, standing.undescribed, standing.questions) == (8, 3, 5, 1)


def test_what_is_counted_is_counted_again_when_something_was_said(box: Collection) -> None:
    progress = Progressing(box)
    assert progress.now().all.dated == 0
    make_occasion(box, "School outing", [number(1)], date="May 1936")
    assert progress.now().all.dated == 1
    box.catalogue.undo("test")
    assert progress.now().all.dated == 0


def test_where_counting_takes_long_the_last_count_is_shown_until_the_next_is_done(
    box: Collection, monkeypatch: pytest.MonkeyPatch
) -> None:
    may_count = Event()
    may_count.set()

    def slowly(collection: Collection) -> HowFar:
        assert may_count.wait(60)
        return how_far(collection)

    how_far = counting._how_far
    monkeypatch.setattr(counting, "_how_far", slowly)
    monkeypatch.setattr(counting, "PATIENCE_S", -1.0)
    progress = Progressing(box)
    assert progress.now().all.dated == 0
    may_count.clear()
    make_occasion(box, "School outing", [number(1)], date="May 1936")
    assert (progress.now().all.dated, progress.is_older) == (0, True)
    may_count.set()
    for _ in range(6000):
        if not progress.is_older:
            break
        time.sleep(0.01)
    assert progress.now().all.dated == 1


def test_sittings_are_parted_by_long_pauses_and_a_print_counts_once() -> None:
    def minutes(day: int, start: int, prints: range) -> list[tuple[str, str]]:
        return [
            (f"2026-05-{day:02}T{start + i // 60:02}:{i % 60:02}:00Z", f"P-{one:04}")
            for i, one in enumerate(prints)
        ]

    evening, next_day = minutes(3, 18, range(1, 41)), minutes(4, 9, range(30, 61))
    passing = minutes(5, 12, range(100, 102))
    found = sittings_of([*evening, *next_day, *passing], zone=UTC)
    assert [(one.began.hour, one.prints) for one in found] == [(18, 40), (9, 20)]


def test_a_sitting_past_midnight_is_one() -> None:
    told = [("2026-05-03T23:10:00Z", "A"), ("2026-05-03T23:50:00Z", "B"), ("2026-05-04T00:40:00Z", "C")]
    assert [one.prints for one in sittings_of(told, zone=UTC)] == [3]


def test_nothing_is_foretold_before_there_were_sittings_and_slips_are_none(box: Collection) -> None:
    state(box, [(number(i), Says.CAPTION, "x") for i in range(1, 5)], source="slip file a.csv")
    standing = Progressing(box).now()
    assert (standing.left, standing.sittings, standing.sittings_missing) == (None, [], 3)


def test_an_empty_collection_is_nowhere_yet(tmp_path: Path) -> None:
    with Collection.create(tmp_path / "empty") as empty:
        assert Progressing(empty).now().all.prints == 0


def test_the_second_copy_is_told_with_its_place(box: Collection, tmp_path: Path) -> None:
    assert Progressing(box).now().copied_to == ""
    second_copy(box, tmp_path / "my copy")
    assert Progressing(box).now().copied_to == str(tmp_path / "my copy")
