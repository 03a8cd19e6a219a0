"""Every change is appended to history, with what was before and what is after."""

from __future__ import annotations

import json
import re

import made_records as made
import pytest
from attrs import evolve
from hypothesis import given, settings

from solander.catalogue.history import Change, utc_now
from solander.catalogue.store import Catalogue
from solander.core.people import Person


def test_now_is_utc_as_rfc_3339() -> None:
    assert re.fullmatch(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}Z", utc_now())


def test_history_tells_who_did_what_and_when(catalogue: Catalogue) -> None:
    lists: dict[str, object] = {"names": [], "known_as": [], "said": []}
    born = {"name": "Ida", "also_called": ["Granny"], "born": "1901", "died": "", "sex": "", **lists}
    born |= {"born_at": "", "died_at": ""}
    with catalogue.act("Ada", "named Ida") as act, act.work() as work:
        work.keep_person(Person("Ida", ("Granny",), "1901"))
        work.commit()
    with catalogue.act("Bo", "corrected Ida") as act, act.work() as work:
        work.keep_person(Person("Ida", ("Granny",), "1902"))
        work.commit()
    first = Change(made.NOW, "Ada", "named Ida", "insert", "people", "Ida", None, born, undone=False)
    second = evolve(
        first, who="Bo", act="corrected Ida", action="update", before=born, after={**born, "born": "1902"}
    )
    assert catalogue.history() == [second, first]
    assert catalogue.history(limit=1) == [second]


def test_undoing_is_history_too(catalogue: Catalogue) -> None:
    with catalogue.act("Ada", "named Ida") as act, act.work() as work:
        work.keep_person(Person("Ida"))
        work.commit()
    catalogue.undo("Bo")
    undoing, done = catalogue.history()
    assert (undoing.who, undoing.act, undoing.action) == ("Bo", "Took back: named Ida", "delete")
    assert (undoing.before, undoing.after) == (done.after, done.before)
    assert (undoing.undone, done.undone) == (False, True)


def test_captures_are_never_marked_as_undone(box: Catalogue) -> None:
    box.undo("Ada")
    undone = {one.table: one.undone for one in box.history() if one.action == "insert"}
    assert undone == {"captures": False, "arrivals": False, "containers": True, "prints": True, "views": True}


@pytest.mark.slow
@settings(max_examples=60, deadline=None)
@given(made.people, made.views)
def test_history_is_plain_json_in_the_file(person, view) -> None:  # type: ignore[no-untyped-def]
    with made.empty_catalogue() as catalogue:
        with catalogue.act("Ada", "took in") as act, act.work() as work:
            work.keep_capture(evolve(made.a_capture(), sha256=view.capture))
            work.add_print(made.a_print(views=(view,)))
            work.keep_person(person)
            work.commit()
        with catalogue._reading() as connection:
            told = [json.loads(row[0]) for row in connection.exec_driver_sql('SELECT "after" FROM changes')]
        kept = made.dump(catalogue)
        assert dict(kept["people"][0]) in told
        assert dict(kept["views"][0]) in told


def test_every_row_has_its_change(box: Catalogue) -> None:
    rows = made.dump(box)
    told = {(one.table, json.dumps(one.after)) for one in box.history()}
    for table in ("containers", "prints", "views"):
        assert {(table, json.dumps(row)) for row in rows[table]} == {one for one in told if one[0] == table}
