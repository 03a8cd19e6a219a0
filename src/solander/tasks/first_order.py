"""Lays the prints of a collection as they lie in their containers, until their order in time is worked out.

That takes a minute with very many prints, and nobody should look at an empty table meanwhile.
"""

from __future__ import annotations

from collections.abc import Iterator

from solander.catalogue.store import Catalogue
from solander.core.standing import LAST, Standing, shelf_of
from solander.core.statements import About, Says
from solander.tasks.collection import Collection

__all__ = ["lay_as_they_lie"]


def lay_as_they_lie(collection: Collection) -> None:
    """Keeps a first place for every print; that nothing was worked out yet stays known."""
    collection.catalogue.keep_standings(list(_standings(collection.catalogue)), {})


def _standings(catalogue: Catalogue) -> Iterator[Standing]:
    occasions = {number: name for number, name, _ in catalogue.said_of_all(About.PRINT, Says.OCCASION)}
    dated, dated_occasions = _dated(catalogue, About.PRINT), _dated(catalogue, About.OCCASION)
    named = {number for number, _, _ in catalogue.said_of_all(About.PRINT, Says.PERSON)}
    firsts: dict[str, int] = {}
    lying = sorted(catalogue.prints_as_taken_in(), key=lambda one: (shelf_of(one[1]), one[2], one[0]))
    for rank, (accession, container, number, has_back) in enumerate(lying, start=1):
        occasion = occasions.get(accession, "")
        yield Standing(
            accession,
            rank,
            container,
            number,
            occasion=occasion,
            occasion_rank=firsts.setdefault(occasion, rank) if occasion else LAST,
            undated=accession not in dated and occasion not in dated_occasions,
            nobody=accession not in named,
            has_back=bool(has_back),
            change=-1,
        )


def _dated(catalogue: Catalogue, about: About) -> set[str]:
    """Those of which somebody says when they were."""
    return {one[0] for says in (Says.EXPOSURE, Says.PRINTING) for one in catalogue.said_of_all(about, says)}
