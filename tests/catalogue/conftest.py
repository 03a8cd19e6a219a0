"""What the tests of the catalogue share."""

from __future__ import annotations

from collections.abc import Iterator

import made_records as made
import pytest

from solander.catalogue.store import Catalogue


@pytest.fixture
def catalogue() -> Iterator[Catalogue]:
    """An empty catalogue."""
    with made.empty_catalogue() as catalogue:
        yield catalogue


@pytest.fixture
def box(catalogue: Catalogue) -> Catalogue:
    """A catalogue with captures 1 to 6 and the prints B1-0001 to B1-0003, each with a front."""
    with catalogue.act("Ada", "took in box") as act, act.work() as work:
        for number in range(1, 7):
            work.keep_capture(made.a_capture(number))
            work.keep_arrival(f"box/{number}.jpg", made.sha(number))
        for number in range(1, 4):
            work.add_print(made.a_print(number, views=(made.a_view(number),)))
        work.commit()
    return catalogue
