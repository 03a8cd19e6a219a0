"""What pages read of a collection is worked out once a change, the order and what is best asked alike."""

from __future__ import annotations

import pytest
from small_box import Draw, slip_file

from solander.tasks import show
from solander.tasks.accession import accession
from solander.tasks.collection import Collection


@pytest.fixture
def worked_out(monkeypatch: pytest.MonkeyPatch) -> list[Collection]:
    """Grows by one each time that an order is worked out."""
    times: list[Collection] = []
    order_told = show.order_told

    def counted(collection: Collection, *kept: object):
        times.append(collection)
        return order_told(collection, *kept)

    monkeypatch.setattr(show, "order_told", counted)
    return times


def test_one_order_serves_all_pages_until_something_is_written(
    draw: Draw, collection: Collection, worked_out: list[Collection]
) -> None:
    shown = show.Shown(collection)
    assert (list(shown.described()), list(shown.worth_asking()), list(shown.mends())) == ([], [], [])
    assert len(worked_out) == 1
    accession(
        collection,
        [draw("a.jpg", 1), draw("b.jpg", 2)],
        slips=slip_file(collection.root.parent, "file,date", "a.jpg,1950"),
    )
    numbers = [one.print.accession for one in shown.described()]
    assert {question.subject for question in shown.worth_asking()} <= {*numbers}
    assert shown.worth_asking()[0].gain.startswith("would date ")
    shown.described(), shown.mends()
    assert len(worked_out) == 2
